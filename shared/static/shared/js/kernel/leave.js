// What to read before leaving, worked out on the device: the twin of shop/surveys/reports
// (walk/leave, inside). Held to tests/vectors/leave.json.

import { asked, cautionsOf, factsOf } from "./asks.js";
import { areaText, ballpark } from "./ballpark.js";
import { contradictions, planOf } from "./checks.js";
import { show } from "./length.js";
import { areaOf } from "./plan.js";
import { within } from "./surfaces.js";
import { say } from "./survey.js";

export { openingTold, planTold } from "./survey.js";
export { walked } from "./walked.js";

/** All of it, of a room as `walked` makes it, by what the page carries of the shop. */
export function leaving(room, shop) {
  const plan = room.isWhole ? planOf(room) : null;
  const inside = within(room, plan, (m2) => areaText(m2, shop));
  const facts = factsOf(room);
  const told = contradictions(room, plan).map(([key, values, ...ticks]) =>
    say(shop.words[key], { ...values, ...ticks.map((one) => show(one, shop)) }),
  );
  const said = (list) => list.map(([key, values]) => say(shop.words[key], values));
  const area = plan && areaOf(plan.corners);
  return {
    told: [...told, ...said(inside.told)],
    missing: asked(shop.missing, facts),
    later: [...asked(shop.needed, facts), ...said(inside.later)],
    cautions: cautionsOf(room, shop),
    corners: plan?.corners ?? null,
    floor: plan && areaText(area, shop),
    ballpark: plan && ballpark(area, shop),
    sketch: plan && sketchOf(room, plan),
  };
}

const [LONGEST, EDGE] = [300, 30]; // of a sketch, in its own units

/** The plan as lines to draw, a slip left open; walls named, openings as stretches of them. */
function sketchOf({ walls }, { corners, shut, read }) {
  const ends = [...corners.slice(1), shut ? corners[0] : read.end];
  const [xs, ys] = [0, 1].map((axis) => [...corners, ...ends].map((spot) => spot[axis]));
  const [left, top] = [Math.min(...xs), Math.max(...ys)];
  const size = [Math.max(...xs) - left, top - Math.min(...ys)];
  const scale = LONGEST / Math.max(...size, 1);
  const at = ([x, y]) => [(x - left) * scale + EDGE, (top - y) * scale + EDGE].map((one) => Number(one.toFixed(1)));
  const [names, openings] = [[], []];
  for (const [n, wall] of walls.entries()) {
    const [[ax, ay], [bx, by]] = [corners[n], ends[n]];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const [dx, dy] = [(bx - ax) / length, (by - ay) / length];
    const beside = EDGE / 2 / scale;
    names.push([wall.name, ...at([(ax + bx) / 2 - dy * beside, (ay + by) / 2 + dx * beside])]);
    for (const { isRead, from_left: start, widths } of wall.openings) {
      if (!isRead || start === undefined) continue;
      openings.push([start, start + Math.max(...widths)].flatMap((along) => at([ax + dx * along, ay + dy * along])));
    }
  }
  const box = size.map((side) => Math.ceil(side * scale) + 2 * EDGE);
  return { box, ring: [corners[0], ...ends].map(at), names, openings };
}
