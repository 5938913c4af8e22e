// Sends what is kept: one lane a request, in order; lanes wait for no other lane. An item
// is done with when the answer echoes its key, and not before.

import * as store from "./store.js";

const AT_ONCE = 40;
const LONGEST_PAUSE = 300_000; // ms
const PATIENCE = 60_000; // ms for one answer, a picture on a weak signal being the slowest
const ADDRESSES = {
  writes: "/offline/writes/",
  pictures: "/offline/pictures/",
  token: "/offline/token/",
};
const AWAY = ""; // the lane that stands for all: no lane has this name

const pauses = new Map(); // lane -> {tries, until}, on a clock that nobody sets
const sizes = new Map(); // lane -> how many at once, where fewer are taken
const channel = "BroadcastChannel" in self ? new BroadcastChannel("cleatbook-device") : null;
export const status = { sending: false, sent: 0, trouble: "" };
let token = "";
let busy = false;
let again = false;
let timer = 0;

/** Tell this page and the others on this device that what is kept has changed. */
export function tell() {
  document.dispatchEvent(new CustomEvent("device:changed"));
  channel?.postMessage("changed");
}

channel?.addEventListener("message", () =>
  document.dispatchEvent(new CustomEvent("device:changed")),
);

function pause(lane) {
  const tries = (pauses.get(lane)?.tries ?? 0) + 1;
  const length = Math.min(LONGEST_PAUSE, 1000 * 2 ** tries) * (0.5 + Math.random() / 2);
  pauses.set(lane, { tries, until: performance.now() + length });
}

const paused = (lane) => (pauses.get(lane)?.until ?? 0) > performance.now();

/** Give the oldest items of the first lane that may be sent now. */
function next(kept) {
  if (paused(AWAY)) return [];
  const first = kept.find((item) => item.state === "waiting" && !paused(item.lane));
  if (!first) return [];
  const lane = kept.filter((item) => item.lane === first.lane && item.state === "waiting");
  if (first.blob) return [first]; // a picture goes alone
  const picture = lane.findIndex((item) => item.blob);
  const most = sizes.get(first.lane) ?? AT_ONCE;
  return lane.slice(0, picture < 0 ? most : Math.min(most, picture));
}

function ask(address, options = {}) {
  return fetch(address, {
    credentials: "same-origin",
    cache: "no-store",
    redirect: "error", // a page that looks like success is none
    signal: AbortSignal.timeout(PATIENCE),
    ...options,
  });
}

async function freshToken() {
  token = (await (await ask(ADDRESSES.token)).json()).token;
}

function forWire({ key, schema, op, lane, field, base, was, after, value, made_at }) {
  return { key, schema, op, lane, field, base, was, after, value, made_at };
}

/** Give address and body of a request: one picture, or writes that are text. */
function letter(person, items) {
  const batch = JSON.stringify({ person, items: items.map(forWire) });
  if (!items[0].blob) return [ADDRESSES.writes, batch, { "Content-Type": "application/json" }];
  const form = new FormData();
  form.append("batch", batch);
  form.append("file", items[0].blob, "photo.jpg");
  return [ADDRESSES.pictures, form, {}];
}

async function post(person, items) {
  const [address, body, kind] = letter(person, items);
  const go = () => ask(address, { method: "POST", headers: { ...kind, "X-CSRFToken": token }, body });
  token ||= JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"];
  const answer = await go();
  if (answer.status !== 403) return answer;
  await freshToken();
  return go();
}

/** Send some items of one lane; false when there is no use in going on with any other. */
async function sendSome(person, items) {
  const lane = items[0].lane;
  let answer, told;
  try {
    answer = await post(person, items);
    told = answer.status < 500 ? await answer.json() : {};
  } catch {
    status.trouble = "away";
    pause(AWAY);
    return false;
  }
  if (answer.status === 401) {
    status.trouble = told.error;
    pause(AWAY);
    return false;
  }
  if (answer.status === 400 && told.error === "junk") return fewer(person, items, told);
  if (answer.ok && Array.isArray(told.answers)) await apply(person, items, told.answers);
  else {
    status.trouble = "server";
    pause(lane);
  }
  return true;
}

async function apply(person, items, answers) {
  const ours = new Set(items.map((item) => item.key));
  const final = answers.filter(({ key, status: how }) => ours.has(key) && how !== "retry");
  await store.settle(person, final);
  status.sent += final.length;
  pauses.delete(AWAY);
  if (final.length < items.length) pause(items[0].lane);
  else pauses.delete(items[0].lane);
}

/** A batch that is not even read is sent in single items, until the one is found. */
async function fewer(person, items, told) {
  if (items.length > 1) sizes.set(items[0].lane, 1);
  else {
    const { key } = items[0];
    await store.settle(person, [{ key, status: "refused", sentence: told.sentence }]);
  }
  return true;
}

async function rounds(person) {
  Object.assign(status, { sending: true, sent: 0, trouble: "" });
  do {
    again = false;
    for (let items; (items = next(await store.all(person))).length; ) {
      const useful = await sendSome(person, items);
      tell();
      if (!useful) break;
    }
  } while (again);
}

/** Whatever still waits is tried again when its pause is over. */
async function plan(person) {
  clearTimeout(timer);
  const waits = (await store.all(person)).filter((item) => item.state === "waiting");
  if (!waits.length) return;
  const until = (lane) => pauses.get(lane)?.until ?? 0;
  const first = Math.max(until(AWAY), Math.min(...waits.map((item) => until(item.lane))));
  timer = setTimeout(() => send(person), Math.max(1000, first - performance.now()));
}

/** Send what is kept; `now` waits for no pause (a person asks, or the network is back). */
export async function send(person, { now = false } = {}) {
  if (now) pauses.clear();
  again = true;
  if (busy) return;
  busy = true;
  const go = () => rounds(person);
  // Two pages of one person would send twice; harmless, and yet of no use.
  const held = (lock) => lock && go();
  try {
    await (navigator.locks?.request(`send-${person}`, { ifAvailable: true }, held) ?? go());
  } finally {
    busy = false;
    status.sending = false;
    tell();
    await plan(person);
  }
}
