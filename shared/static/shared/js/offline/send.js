// Sends what is kept: one lane a request, in order; lanes wait for no other lane. An item
// is done with when the answer echoes its key, and not before.

import * as store from "./store.js";

const AT_ONCE = 40;
const LONGEST_PAUSE = 300_000; // ms
const PATIENCE = 60_000; // ms for one answer, a picture on a weak signal being the slowest
const AWAY = ""; // the lane that stands for all: no lane has this name

const pauses = new Map(); // lane -> {tries, until}, on a clock that nobody sets
const single = new Set(); // lanes sent in single items, where more are not read
const channel = "BroadcastChannel" in self ? new BroadcastChannel("cleatbook-device") : null;
export const status = { sending: false, sent: 0, trouble: "" };
let [token, busy, again, timer] = ["", false, false, 0];

const changed = () => document.dispatchEvent(new CustomEvent("device:changed"));
channel?.addEventListener("message", changed);

/** Tell this page and the others on this device that what is kept has changed. */
export function tell() {
  changed();
  channel?.postMessage("changed");
}

function pause(lane) {
  const tries = (pauses.get(lane)?.tries ?? 0) + 1;
  const length = Math.min(LONGEST_PAUSE, 1000 * 2 ** tries) * (0.5 + Math.random() / 2);
  pauses.set(lane, { tries, until: performance.now() + length });
}

const paused = (lane) => (pauses.get(lane)?.until ?? 0) > performance.now();

/** Give the oldest items of the first lane that may be sent now. */
function next(kept) {
  const waiting = kept.filter((item) => item.state === "waiting");
  const keys = new Set(waiting.map((item) => item.key)); // what needs one of these waits for it
  const first = waiting.find((item) => !paused(item.lane) && !keys.has(item.needs));
  if (!first || paused(AWAY)) return [];
  const lane = waiting.filter((item) => item.lane === first.lane);
  if (first.blob) return [first]; // a picture goes alone
  const picture = lane.findIndex((item) => item.blob);
  const most = single.has(first.lane) ? 1 : AT_ONCE;
  return lane.slice(0, picture < 0 ? most : Math.min(most, picture));
}

/** Ask the server; where it would send us on to another page, that is no answer. */
function ask(address, options) {
  const signal = AbortSignal.timeout(PATIENCE);
  return fetch(address, { cache: "no-store", redirect: "error", signal, ...options });
}

/** Give what the server is told of an item. */
const forWire = ({ key, schema, op, lane, field, base, was, after, needs, value, made_at }) =>
  ({ key, schema, op, lane, field, base, was, after, needs, value, made_at });

/** Post one picture with its item, or writes that are text. */
async function post(person, items) {
  const batch = JSON.stringify({ person, items: items.map(forWire) });
  const [{ blob }] = items;
  const form = new FormData();
  form.append("batch", batch);
  if (blob) form.append("file", blob, "photo.jpg");
  const kind = blob ? {} : { "Content-Type": "application/json" };
  const go = () => {
    const headers = { ...kind, "X-CSRFToken": token };
    const address = blob ? "/offline/pictures/" : "/offline/writes/";
    return ask(address, { method: "POST", headers, body: blob ? form : batch });
  };
  token ||= JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"];
  const answer = await go();
  if (answer.status !== 403) return answer;
  token = (await (await ask("/offline/token/")).json()).token; // it ran out
  return go();
}

/** Send some items of one lane; false when there is no use in going on with any other. */
async function sendSome(person, items) {
  const [{ lane, key }] = items;
  let answer, told;
  try {
    answer = await post(person, items);
    told = answer.status < 500 ? await answer.json() : {};
  } catch {
    told = { error: "away" };
  }
  if (told.error === "away" || answer.status === 401) {
    status.trouble = told.error;
    pause(AWAY);
    return false;
  }
  if (answer.status === 400 && told.error === "junk") {
    // A batch that is not even read is sent in single items, until the one is found.
    if (items.length > 1) single.add(lane);
    else await store.settle(person, [{ key, status: "refused", sentence: told.sentence }]);
  } else if (answer.ok && Array.isArray(told.answers)) await apply(person, items, told.answers);
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
  renew(items);
  status.sent += final.length;
  pauses.delete(AWAY);
  if (final.length < items.length) pause(items[0].lane);
  else pauses.delete(items[0].lane);
}

/** Kept copies of pages on which parts were made have them from now on. */
function renew(items) {
  for (const { then, page } of items.filter((item) => item.makes)) {
    const keep = new URL(then ?? page, location).href;
    navigator.serviceWorker?.controller?.postMessage({ keep });
  }
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
