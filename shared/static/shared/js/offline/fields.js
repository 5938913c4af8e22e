// Fields that save themselves: data-offline-field, -lane, -op and -version on a box. What
// is typed is on this device at once, and it says beside the box how it stands.

import { CANNOT, forget, keep, labelOf, person, putDown, say } from "./kept.js";
import { unleft, unreadable } from "./kept.js";
import * as store from "./store.js";

const WORDS = { waiting: "On this device, not sent yet", stored: "Stored" };
const NO_LENGTH = "On this device alone, until it reads as a length";
const isOurs = (box) => box?.matches?.("[data-offline-field]") && person();
const isTick = (box) => box.type === "checkbox";
const read = (box) => (isTick(box) ? (box.checked ? "yes" : "") : box.value);

function initial(box) {
  if (isTick(box)) return box.defaultChecked ? "yes" : "";
  const chosen = () => [...box.options].find((one) => one.defaultSelected) ?? box.options[0];
  return box.defaultValue ?? chosen()?.value ?? "";
}

function write(box, text) {
  if (isTick(box)) box.checked = text === "yes";
  else box.value = text;
}

// box -> what was seen of it {version, text}, what was kept of it, its last item's key.
const states = new WeakMap();

function stateOf(box) {
  if (!states.has(box)) {
    const page = { text: initial(box), version: Number(box.dataset.offlineVersion ?? 0) };
    states.set(box, { page, kept: page.text, saving: 0, last: "" });
  }
  return states.get(box);
}

/** Show a text as if it had come with the page. */
export function fill(box, text) {
  write(box, text);
  Object.assign(stateOf(box), { page: { text, version: 0 }, kept: text });
}

const placeOf = ({ dataset: { offlineLane: lane, offlineField: field } }) => ({ lane, field });

function writeOf(box) {
  const { offlineOp: op, length: units } = box.dataset;
  const label = labelOf(box.labels?.[0]?.textContent ?? box.getAttribute("aria-label") ?? "");
  const tick = box.checked ? "ticked" : "not ticked";
  const said = isTick(box) ? tick : box.selectedOptions?.[0]?.text;
  return { op, ...placeOf(box), value: read(box), said, label, units };
}

/** Keep what a box holds when it is left, if that is anything new. */
async function leave(box) {
  if (!isOurs(box)) return;
  const [state, typed] = [stateOf(box), writeOf(box)];
  const before = state.kept;
  if (typed.value === before) return forget(typed);
  if (unreadable(typed.value, typed.units)) {
    putDown(typed, state.page);
    return say(box, "waiting", NO_LENGTH);
  }
  state.kept = typed.value;
  state.saving += 1;
  if (!(await keep(typed, state.page))) {
    state.kept = before;
    say(box, "failed", CANNOT);
  }
  state.saving -= 1;
}

/** Show what this device knows beyond the page, and say beside each box how it stands. */
export async function refresh() {
  const boxes = person() ? [...document.querySelectorAll("[data-offline-field]")] : [];
  if (!boxes.length) return;
  boxes.forEach(stateOf);
  const [items, seen] = await store.look(person());
  const named = ({ lane, field }) => `${lane} ${field}`;
  const byPlace = (rows) => new Map(rows.map((row) => [named(row), row]));
  const [last, known] = [byPlace(items), byPlace(seen)];
  for (const box of boxes) {
    const place = named(placeOf(box));
    update(box, stateOf(box), last.get(place), known.get(place));
  }
  document.dispatchEvent(new Event("device:shown"));
}

function update(box, state, item, known) {
  if (known?.version > state.page.version) state.page = known;
  if (item) say(box, item.state, WORDS[item.state] ?? `Not taken. ${item.answer.sentence}`);
  else if (state.last) say(box, "stored", WORDS.stored);
  state.last = item?.key ?? "";
  // Asked last, with nothing to wait for before it is written: it may be typed in by now.
  if (state.saving || read(box) !== state.kept) return;
  const text = item?.value ?? state.page.text;
  // Where somebody is about to type, a space at the end stays.
  if (document.activeElement !== box || read(box).trim() !== text.trim()) write(box, text);
  state.kept = read(box);
  const draft = unleft(placeOf(box)); // on a page that is gone, and no length
  if (!draft) return;
  write(box, draft.value);
  box.dispatchEvent(new Event("change", { bubbles: true }));
}

/** One answer for all walls that have none yet: data-offline-all names the field. */
function answerAll({ dataset: { offlineAll: name }, value }) {
  const wanted = `[data-offline-lane^="wall:"][data-offline-field="${name}"]`;
  const all = document.querySelectorAll(wanted);
  for (const box of [...all].filter((one) => !one.value)) {
    box.value = value;
    leave(box);
  }
}

for (const event of ["change", "focusout"]) {
  document.addEventListener(event, ({ target }) => leave(target));
}
document.addEventListener("change", ({ target }) => answerAll(target));
document.addEventListener("input", ({ target }) => {
  if (isOurs(target)) putDown(writeOf(target), stateOf(target).page);
});
document.addEventListener("visibilitychange", () => leave(document.activeElement));
document.addEventListener("device:changed", refresh);
document.addEventListener("htmx:load", refresh);
refresh();
