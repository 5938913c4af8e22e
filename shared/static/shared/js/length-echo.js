// Says beside a length's box how it was understood, in both systems, before it is sent.
// The box carries data-length (the shop's units) and data-length-fraction.

import { isExact, parse, show } from "./kernel/length.js";

function echoOf(box) {
  const named = `[data-length-echo="${CSS.escape(box.id)}"]`;
  const place = box.id && document.querySelector(named);
  if (place) return place;
  if (box.nextElementSibling?.matches("[data-length-echo]")) return box.nextElementSibling;
  const made = document.createElement("output");
  made.className = "field__echo";
  made.dataset.lengthEcho = box.id;
  made.htmlFor = box.id;
  box.after(made);
  return made;
}

function inSystem(ticks, units, fraction) {
  const about = isExact(ticks, { units, fraction }) ? "" : "about ";
  return about + show(ticks, { units, fraction });
}

function understood(box) {
  const units = box.dataset.length;
  const fraction = Number(box.dataset.lengthFraction ?? 16);
  const ticks = parse(box.value, { units });
  const other = units === "metric" ? "imperial" : "metric";
  return `${inSystem(ticks, units, fraction)} = ${inSystem(ticks, other, fraction)}`;
}

/** While someone types nothing is wrong yet: what can't be read is said on leaving. */
function echo(box, left) {
  const place = echoOf(box);
  let [text, state] = ["", ""];
  if (box.value.trim()) {
    try {
      text = understood(box);
    } catch (refused) {
      if (!refused.kind) throw refused;
      if (left) [text, state] = [refused.message, "bad"];
    }
  }
  if (place.textContent !== text) place.textContent = text;
  place.dataset.state = state;
}

for (const [event, left] of [["input", false], ["focusin", false], ["change", true]]) {
  document.addEventListener(event, ({ target }) => {
    if (target.matches?.("input[data-length]")) echo(target, left);
  });
}
