// Says beside a length's box how it was understood, in both systems, before it is sent.
// The box carries data-length (the shop's units) and data-length-fraction.

import { TICKS_PER_MM, isExact, parse, show } from "./kernel/length.js";

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

/** In the shop's system and in the other one; there, metres as a laser shows them. */
function understood({ value, dataset }) {
  const [units, fraction] = [dataset.length, Number(dataset.lengthFraction ?? 16)];
  const [ticks, isMetric] = [parse(value, { units }), units === "metric"];
  const metres = `${ticks % TICKS_PER_MM ? "about " : ""}${(ticks / TICKS_PER_MM / 1000).toFixed(3)} m`;
  const inMetres = !isMetric && ticks >= 1000 * TICKS_PER_MM;
  const other = inMetres ? metres : inSystem(ticks, isMetric ? "imperial" : "metric", fraction);
  return `${inSystem(ticks, units, fraction)} = ${other}`;
}

/** Say it, and whether it reads; what can't be read is said on leaving, not while typing. */
export function echo(box, left) {
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
  return !state;
}

for (const [event, left] of [["input", false], ["focusin", false], ["change", true]]) {
  document.addEventListener(event, ({ target }) => {
    if (target.matches?.("input[data-length]")) echo(target, left);
  });
}
