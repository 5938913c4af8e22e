// Says on the walk what the readings come to as far as they are typed: whether the walls
// close, what fits an opening. The words are the server's; [data-plan-told] carries them.

import { parse, show } from "./kernel/length.js";
import { openingTold, planTold } from "./kernel/survey.js";

const all = (selector) => [...document.querySelectorAll(selector)];
const within = (lane, selector) => all(`[data-offline-lane="${lane}"]${selector}`);
const isOut = ({ dataset }) => within(dataset.offlineLane, "[data-offline-field=removed]:checked").length;

function ticks(box) {
  try {
    return parse(box.value, { units: box.dataset.length });
  } catch {
    return undefined; // not there, or not read yet
  }
}

function wallOf(box) {
  const of = (selector) => within(box.dataset.offlineLane, selector)[0];
  const turn = of("[data-plan-turn]")?.value.replace(",", ".");
  return {
    name: of("[data-offline-field=name]")?.value,
    length: ticks(box),
    corner: of("[data-plan-corner]:is(select, :checked)")?.value,
    inside: turn ? Math.round(turn * 1000) : NaN,
    diagonal: ticks(of("[data-plan-diagonal]")),
  };
}

function openingOf({ openingTold: lane, name }, clearance) {
  const read = (field) => within(lane, `[data-offline-field^=${field}]`).map(ticks).filter(Boolean);
  const [[left], [right]] = [read("diagonal_1"), read("diagonal_2")];
  const getsPanel = within(lane, "[data-offline-field=gets_panel]:checked").length > 0;
  return { widths: read("width_"), heights: read("height_"), right, left, name, clearance, getsPanel };
}

function tell() {
  const place = document.querySelector("[data-plan-told]");
  if (!place) return;
  const { words, clearance, ...shop } = JSON.parse(place.dataset.planTold);
  const shown = (length) => show(length, shop);
  const walls = all("[data-plan-wall]").filter((box) => !isOut(box)).map(wallOf);
  place.textContent = planTold(walls, words, shown).sentences.join(" ");
  for (const one of all("[data-opening-told]")) {
    const read = openingOf(one.dataset, clearance);
    const isRead = read.widths.length && read.heights.length;
    one.textContent = isRead ? openingTold(read, words, shown).sentences.join(" ") : "";
  }
}

for (const event of ["input", "change", "device:changed", "htmx:load"]) document.addEventListener(event, tell);
tell();
