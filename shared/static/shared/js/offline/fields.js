// Fields that save themselves: data-offline-field, -lane, -op and -version on a box. What
// is typed is on this device when the box is left, and says beside it how it stands.

import { send, tell } from "./send.js";
import * as store from "./store.js";

const SELECTOR = "[data-offline-field]";
const WORDS = {
  waiting: "On this device, not sent yet",
  stored: "Stored",
  failed: "This device can’t keep it. Write it down before you leave this page.",
};
const person = () => document.body.dataset.person;
const boxes = () => [...document.querySelectorAll(SELECTOR)];
const place = (box) => [box.dataset.offlineLane, box.dataset.offlineField];
const isTick = (box) => box.type === "checkbox";
const read = (box) => (isTick(box) ? (box.checked ? "yes" : "") : box.value);

function initial(box) {
  if (isTick(box)) return box.defaultChecked ? "yes" : "";
  return box.defaultValue ?? [...box.options].find((one) => one.defaultSelected)?.value ?? "";
}

function write(box, text) {
  if (isTick(box)) box.checked = text === "yes";
  else box.value = text;
}

function labelled(box) {
  const label = box.labels?.[0]?.textContent ?? box.getAttribute("aria-label") ?? "";
  return `${label.trim()} · ${document.title}`;
}

// box -> what was seen of it {version, text}, what was kept of it, its last item's key.
const shown = new WeakMap();

/** Show what this device knows beyond the page, and take up what was cut off. */
async function attach(box) {
  if (shown.has(box)) return;
  const state = { page: { text: initial(box), version: Number(box.dataset.offlineVersion ?? 0) } };
  const first = state.page.text;
  state.kept = first;
  shown.set(box, state);
  const known = await store.known(person(), ...place(box));
  if (known?.version > state.page.version) state.page = known;
  const kept = (await pending(box)).at(-1)?.value ?? state.page.text;
  if (state.kept === first) state.kept = kept; // unless it was left meanwhile
  // asked last, with nothing to wait for before it is written: it may be typed in by now
  if (read(box) !== initial(box)) return;
  write(box, known?.draft?.text ?? state.kept);
  if (known?.draft) await save(box, known.draft.text, known.draft.page);
}

async function pending(box) {
  const [lane, field] = place(box);
  const items = await store.all(person());
  return items.filter((item) => item.lane === lane && item.field === field);
}

/** Keep what a box holds, or held when it was left, if that is anything new. */
async function save(box, value = read(box), page = shown.get(box).page) {
  const state = shown.get(box);
  const before = state.kept;
  const [lane, field] = place(box);
  if (value === before) return store.draft(person(), lane, field, undefined);
  state.kept = value;
  const item = { op: box.dataset.offlineOp, lane, field, value, label: labelled(box) };
  try {
    await store.add(person(), item, page);
  } catch {
    state.kept = before;
    return say(box, "failed", WORDS.failed);
  }
  tell();
  send(person());
}

function say(box, how, words) {
  const near = box.closest(".field")?.querySelector("[data-offline-state]");
  if (!near || near.textContent === words) return;
  near.textContent = words;
  near.dataset.state = how;
}

/** Say beside each box how it stands. */
async function refresh() {
  if (!person()) return;
  for (const box of boxes().filter((one) => shown.has(one))) {
    const last = (await pending(box)).at(-1);
    if (last) {
      shown.get(box).last = last.key;
      say(box, last.state, WORDS[last.state] ?? `Not taken. ${last.answer.sentence}`);
    } else if (shown.get(box).last) await arrived(box);
  }
}

/** All that was typed into a box has arrived: what comes next is on top of that. */
async function arrived(box) {
  const state = shown.get(box);
  const known = await store.known(person(), ...place(box));
  if (known?.version > state.page.version) state.page = known;
  state.last = "";
  say(box, "stored", WORDS.stored);
  if (read(box) !== state.kept) return; // more is being typed
  state.kept = state.page.text;
  if (document.activeElement !== box) write(box, state.kept);
  else state.kept = read(box);
}

async function attachAll() {
  if (!person()) return;
  await Promise.all(boxes().map(attach));
  await refresh();
}

const ours = (box) => box?.matches?.(SELECTOR) && person();

async function leave(box) {
  if (!ours(box)) return;
  const value = read(box);
  await attach(box);
  await save(box, value);
}

function typing(box) {
  if (!ours(box) || isTick(box)) return;
  const page = shown.get(box)?.page ?? { text: initial(box), version: Number(box.dataset.offlineVersion ?? 0) };
  const { text, version } = page;
  store.draft(person(), ...place(box), { text: read(box), page: { text, version } }).catch(() => {});
}

for (const event of ["change", "focusout"]) {
  document.addEventListener(event, ({ target }) => leave(target));
}
document.addEventListener("input", ({ target }) => typing(target));
document.addEventListener("visibilitychange", () => leave(document.activeElement));
document.addEventListener("device:changed", refresh);
document.addEventListener("htmx:load", attachAll);
attachAll();
