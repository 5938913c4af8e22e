// Says on every page what is on this device and not sent yet, and sends it when asked.

import { send, status, tell } from "./send.js";
import * as store from "./store.js";

const bar = () => document.querySelector("[data-offline-bar]");
const part = (name) => bar()?.querySelector(`[data-offline-${name}]`);
const TROUBLE = {
  away: " No way through to the shop’s server at the moment.",
  server: " The shop’s server had trouble; it is tried again.",
  signed_out: " Sign in to send it.",
  somebody_else: " Somebody else is signed in now; it waits for you.",
};
const AT_ONCE = 1500; // ms; what goes through in that time is not worth a word
let [since, timer] = [0, 0];

/** Whether what waits has to be told of. */
function waitsLong(waiting, person) {
  clearTimeout(timer);
  if (!waiting) since = 0;
  else since ||= performance.now();
  if (!waiting || status.trouble || !navigator.onLine) return Boolean(waiting);
  if (performance.now() - since > AT_ONCE) return true;
  timer = setTimeout(refresh, AT_ONCE + 100, person);
  return !bar().hidden;
}

function words(waiting, tray) {
  if (!waiting && !tray) return bar().hidden ? "" : "All is sent.";
  const told = waiting ? `On this device, ${waiting} to send.` : "";
  const way = status.sending && status.sent ? ` ${status.sent} sent.` : "";
  const asks = tray ? ` ${tray} not taken: look through what is kept.` : "";
  return `${told}${way}${(waiting && TROUBLE[status.trouble]) || ""}${asks}`.trim();
}

/** Count, and say so. */
async function refresh(person) {
  if (!bar() || !person) return;
  const items = await store.all(person);
  const waiting = items.filter((item) => item.state === "waiting").length;
  const tray = items.length - waiting;
  const text = words(waiting, tray);
  bar().hidden = !(tray || waitsLong(waiting, person) || (!waiting && text));
  if (part("words").textContent !== text) part("words").textContent = text;
  part("send").hidden = !waiting;
  part("sign-in").hidden = !waiting || !["signed_out", "somebody_else"].includes(status.trouble);
  const gauge = part("progress");
  gauge.hidden = !(status.sending && waiting);
  Object.assign(gauge, { max: waiting + status.sent || 1, value: status.sent });
}

/** Watch over what this person keeps. */
export function watch(person) {
  document.addEventListener("device:changed", () => refresh(person));
  document.addEventListener("click", ({ target }) => {
    if (target.closest("[data-offline-send]")) send(person, { now: true });
  });
  window.addEventListener("online", () => send(person, { now: true }));
  window.addEventListener("pageshow", () => send(person, { now: true }));
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) send(person, { now: true });
  });
  tell();
}
