// What contradicts itself in a survey: the twin of shop/surveys/engine (checks, framing),
// which says why. Both are held to tests/vectors/leave.json.

import { CLOSING_LIMIT, closed, crossing, even, isSquare, listed, outline, suspects } from "./plan.js";
import { misturned, trueness } from "./survey.js";
import { linesOf } from "./walked.js";

const MM = 320;
const [LOW_DOOR, HEIGHT_LIMIT, FOUND_TO, TRIMMER] = [1800 * MM, 10 * MM, 20 * MM, 100 * MM]; // ticks

/** The plan of a room that is read as a whole: as read, and its corners, closed where they can be. */
export function planOf(room) {
  const lines = linesOf(room);
  const [read, shut] = [outline(lines), closed(lines)];
  return { lines, read, shut, corners: shut?.corners ?? read.corners };
}

/** Everything that can't be so, the room first: [key, values, ...ticks] of each. */
export function contradictions(room, plan) {
  const found = plan ? onPlan(room, plan) : [];
  found.push(...onWalls(room));
  if (!plan) return found;
  const box = [Math.max(...plan.corners.map(([x]) => x)), -Math.min(...plan.corners.map(([, y]) => y))];
  for (const { label: name, left, bottom, width, height } of room.zones.filter(isPlaced)) {
    if (left + width > box[0] || bottom + height > box[1]) found.push(["zone_outside", { name }]);
  }
  const reach = even({ along: box[1], across: box[0] }[room.survey.run] ?? Math.max(...box));
  for (const at of centres(room)) if (at > reach) found.push(["joist_beyond", {}, at, reach]);
  const odd = oddGap(centres(room), room.survey.spacing, []);
  if (odd) found.push(["joists_apart", {}, ...odd]);
  return found;
}

const isPlaced = ({ left, bottom, width, height }) => left !== undefined && bottom !== undefined && width && height;
const centres = ({ members }) => members.map(({ at }) => at).filter((at) => at !== undefined);

function onPlan({ walls }, { lines, read, corners }) {
  const found = [];
  const wrong = misturned(read.turned, lines.some((line) => line.read));
  if (wrong) found.push([wrong[0], { other: wrong[1] }]);
  if (!wrong && read.closing > CLOSING_LIMIT) {
    const again = suspects(read, isSquare(lines)).map((n) => walls[n].name);
    const other = `${((read.closing / read.perimeter) * 100).toFixed(2)}%`;
    found.push(["closing", { wall: listed(again), other }, even(read.closing)]);
  }
  const crossed = wrong ? null : crossing(corners);
  if (crossed) found.push(["crosses", { wall: walls[crossed[0]].name, other: walls[crossed[1]].name }]);
  return found;
}

function onWalls({ walls, survey }) {
  const found = [];
  const read = walls.filter(({ known }) => known);
  const heights = [survey.height, ...read.map(({ height }) => height)].filter(Boolean);
  const [top, low] = [Math.max(...heights), Math.min(...heights)];
  if (survey.shape === "flat" && top - low > HEIGHT_LIMIT) found.push(["heights", {}, top, low]);
  for (const { name: wall, tieFails } of read) if (tieFails) found.push(["tie", { wall }]);
  for (const wall of read) found.push(...onWall(wall, wall.height ?? survey.height));
  return found;
}

const spanOf = ({ from_left: at, widths }) => (at === undefined ? null : [at, at + Math.max(...widths)]);
const riseOf = ({ sill: at, heights }) => (at === undefined ? null : [at, at + Math.max(...heights)]);
/** Whether two stretches share more than an end; `unknown` where one was not read. */
const meet = (one, two, unknown) => (one && two ? one[0] < two[1] && two[0] < one[1] : unknown);

function onWall(wall, height) {
  const [openings, zones] = [wall.openings.filter(({ isRead }) => isRead), wall.zones.filter(isPlaced)];
  const found = openings.flatMap((opening) => [
    ...placed(opening, wall, height),
    ...ofItself(opening),
    ...(opening.reveal < opening.panel_depth ? [["reveal", { name: opening.label }, opening.reveal, opening.panel_depth]] : []),
  ]);
  for (const [n, one] of openings.entries()) {
    for (const two of openings.slice(n + 1)) {
      if (!meet(spanOf(one), spanOf(two), false) || !meet(riseOf(one), riseOf(two), true)) continue;
      found.push(["overlap", { name: one.label, wall: wall.name, other: two.label }]);
    }
  }
  for (const zone of zones) found.push(...cleared(zone, wall, height, openings));
  const [ats, spans] = [centres(wall), openings.map(spanOf).filter(Boolean)];
  for (const at of ats) if (at > wall.known) found.push(["stud_beyond", { wall: wall.name }, at, wall.known]);
  const odd = oddGap(ats, wall.spacing, spans);
  if (odd) found.push(["studs_apart", { wall: wall.name }, ...odd]);
  return found;
}

function placed(opening, { name: wall, known: length }, height) {
  const [found, said] = [[], { name: opening.label, wall }];
  const [widest, span] = [Math.max(...opening.widths), spanOf(opening)];
  if (widest > length) found.push(["wider", said, widest, length]);
  else if (span?.[1] > length) found.push(["beyond", said, span[1], length]);
  const top = (opening.sill ?? 0) + Math.max(...opening.heights); // without a sill it stands on the floor
  if (top > height) found.push(["above", said, top, height]);
  const high = Math.min(...opening.heights);
  if (opening.kind === "door" && high < LOW_DOOR) found.push(["low_door", said, high]);
  return found;
}

function ofItself(opening) {
  const name = opening.label;
  const found = trueness(opening).map(([key, amount]) => [key, { name }, amount]);
  const isFull = opening.widths.length === 3 && opening.heights.length === 3;
  if (!opening.gets_panel || isFull) return found;
  const sizes = found.filter(([key]) => key === "widths" || key === "high").length;
  found.splice(sizes, 0, ["read_more", { name }]);
  return found;
}

function cleared({ label: name, left, bottom, width, height, margin }, wall, ceiling, openings) {
  const [found, right, top] = [[], left + width, bottom + height];
  if (right > wall.known) found.push(["zone_beyond", { name, wall: wall.name }, right, wall.known]);
  if (top > ceiling) found.push(["zone_above", { name, wall: wall.name }, top, ceiling]);
  const [across, up] = [[left - margin, right + margin], [bottom - margin, top + margin]];
  for (const opening of openings.filter((one) => one.gets_panel)) {
    if (!meet(across, spanOf(opening), false) || !meet(up, riseOf(opening), false)) continue;
    found.push(["margin", { name, wall: wall.name, other: opening.label }, margin]);
  }
  return found;
}

/** The distance that fits the noted spacing worst, and that spacing; null where all fit. */
function oddGap(ats, spacing, spans) {
  if (!spacing) return null;
  const miss = (gap) => gap && Math.abs(gap - Math.max(1, even(gap / spacing)) * spacing);
  const beside = (left, right) => spans.some(([a, b]) => left < b + TRIMMER && a - TRIMMER < right);
  const gaps = ats.slice(1).flatMap((at, n) => (beside(ats[n], at) ? [] : [at - ats[n]]));
  const worst = gaps.reduce((one, gap) => (miss(gap) > miss(one) ? gap : one), gaps[0] ?? 0);
  return miss(worst) > FOUND_TO ? [worst, spacing] : null;
}
