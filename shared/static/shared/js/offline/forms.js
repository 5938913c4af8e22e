// Forms of one yes or no (a tick) that go on with no network: data-offline-form, -op, -lane
// on the form, its field in "key" and what it asks for in "on". With a network the server
// answers as ever; without one the tick waits in the queue, and looks as if it were done.

import { send, tell } from "./send.js";
import * as store from "./store.js";

const person = () => document.body.dataset.person;
const forms = () => document.querySelectorAll("[data-offline-form]");
const fieldOf = (form) => form.elements.key.value;
const valueOf = (form) => (form.elements.on.value === "yes" ? "yes" : "");
let held = []; // lanes in which something waits: what follows waits behind it
let adding = 0;

/** Show a line as ticked or not; its form asks for the opposite from then on. */
function show(form, ticked) {
  form.querySelector("[role=checkbox]").setAttribute("aria-checked", String(ticked));
  form.elements.on.value = ticked ? "no" : "yes";
}

async function keep(form) {
  const { offlineLane: lane, offlineOp: op } = form.dataset;
  const value = valueOf(form);
  const label = `${form.textContent.replace(/\s+/g, " ").trim()} · ${document.title}`;
  held.push(lane);
  show(form, value === "yes");
  const write = { op, lane, field: fieldOf(form), value, label };
  adding += 1;
  await store.add(person(), write, { version: 0, text: value ? "" : "yes" });
  adding -= 1;
  tell();
  send(person());
}

/** Show what waits; when all of it has arrived, show the page as the server has it. */
async function refresh() {
  if (!person() || !forms().length) return;
  const waiting = (await store.all(person())).filter((item) => item.state === "waiting");
  if (adding) return; // it comes round again when that is kept
  const before = held;
  held = waiting.map((item) => item.lane);
  for (const form of forms()) {
    const { offlineLane } = form.dataset;
    const mine = waiting.filter((one) => one.lane === offlineLane && one.field === fieldOf(form));
    if (mine.length) show(form, mine.at(-1).value === "yes");
    else if (before.includes(offlineLane) && !held.includes(offlineLane)) return location.reload();
  }
}

function wait(event, form) {
  if (!person() || !form?.matches("[data-offline-form]")) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  keep(form);
}

window.addEventListener(
  "submit",
  (event) => {
    const lane = event.target.dataset.offlineLane;
    if (!navigator.onLine || held.includes(lane)) wait(event, event.target);
  },
  true,
);
window.addEventListener("htmx:sendError", (event) => wait(event, event.detail.elt), true);
document.addEventListener("device:changed", refresh);
document.addEventListener("htmx:load", refresh);
