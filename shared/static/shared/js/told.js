// Says on the walk what the readings come to as far as they are typed: whether the walls
// close, what fits an opening. The words are the server's; [data-plan-told] carries them.

import { parse, show } from "./kernel/length.js";
import { openingTold, planTold } from "./kernel/survey.js";

const all = (selector) => [...document.querySelectorAll(selector)];
const within = (lane, selector) => all(`[data-offline-lane="${lane}"]${selector}`);

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
    isOut: of("[data-offline-field=removed]:checked"),
  };
}

function openingOf({ openingTold: lane, name }, clearance) {
  const read = (field) => within(lane, `[data-offline-field^=${field}]`).map(ticks).filter(Boolean);
  const [widths, heights, [left], [right]] = ["width", "height", "diagonal_1", "diagonal_2"].map(read);
  const [getsPanel] = within(lane, "[data-offline-field=gets_panel]:checked");
  return { widths, heights, right, left, name, clearance, getsPanel };
}

function tell() {
  const place = document.querySelector("[data-plan-told]");
  if (!place) return;
  const { words, clearance, ...shop } = JSON.parse(place.dataset.planTold);
  const shown = (length) => show(length, shop);
  const walls = all("[data-plan-wall]").map(wallOf).filter((wall) => !wall.isOut);
  if (walls.length === 4 && walls.every((wall) => wall.corner === "right")) {
    walls.forEach((wall, at) => (wall.length ??= walls[(at + 2) % 4].length)); // two numbers are enough
  }
  place.textContent = planTold(walls, words, shown).sentences.join(" ");
  for (const one of all("[data-opening-told]")) {
    const read = openingOf(one.dataset, clearance);
    const isRead = read.widths.length && read.heights.length;
    one.textContent = isRead ? openingTold(read, words, shown).sentences.join(" ") : "";
  }
}

for (const event of ["input", "change", "device:changed", "htmx:load"]) document.addEventListener(event, tell);
tell();
