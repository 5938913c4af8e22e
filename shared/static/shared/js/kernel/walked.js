// A survey as its page holds it, record by record and each field as text, made into what
// the checks take: the twin of shop/surveys/adapter. Held to tests/vectors/leave.json.

import { parse } from "./length.js";
import { FULL, HALF, QUARTER, TURNS, tied } from "./plan.js";

const FROM_NOTHING = ["from_left", "sill", "reveal", "panel_depth", "left", "bottom", "margin", "at"];
const LENGTHS = [...FROM_NOTHING, "length", "diagonal", "height", "spacing", "width", "drop", "narrowest_door"];
const READING = /^(width|height|diagonal)_[123]$/;
const [LEAST_INSIDE, MOST_INSIDE] = [100, 359_900]; // millidegrees
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/** A length in ticks; undefined while it is not read, or would not be taken. */
function ticks(text, units, name) {
  try {
    const read = parse(text, { units });
    return read || FROM_NOTHING.includes(name) ? read : undefined;
  } catch (refused) {
    if (!refused.kind) throw refused;
    return undefined;
  }
}

function angle(text = "") {
  const inside = text.trim() ? Math.round(Number(text.trim().replace(",", ".")) * 1000) : NaN;
  return inside >= LEAST_INSIDE && inside <= MOST_INSIDE ? inside : undefined;
}

/** Leave out what was taken out, and what lies on it. */
function standing(records) {
  const out = new Set();
  for (const { lane, of, removed } of records) {
    if (removed || (out.has(of) && !lane.startsWith("wall:"))) out.add(lane);
  }
  return records.filter(({ lane }) => !out.has(lane));
}

const unreadFirst = (list, name) => list.sort((one, other) => (one[name] ?? -1) - (other[name] ?? -1));

/** Make a room of records {lane, of, field: text …} in the order of their page. */
export function walked(records, { units, usual, labels }) {
  const read = ({ ...record }) => {
    for (const name of Object.keys(record)) {
      const isLength = LENGTHS.includes(name) || READING.test(name);
      record[name] = isLength ? ticks(record[name], units, name) : record[name]?.trim();
    }
    return record;
  };
  const there = standing(records).map(read);
  const all = (kind, of) => there.filter(({ lane, ...one }) => lane.startsWith(`${kind}:`) && (!of || one.of === of));
  const [survey = {}, room = {}, site = {}] = ["survey", "room", "site"].map((kind) => all(kind)[0]);

  function openingsOf(wall) {
    const openings = unreadFirst(all("opening", wall.lane), "from_left");
    for (const one of openings) {
      const alike = openings.filter(({ kind, name }) => kind === one.kind && !name);
      const number = alike.length > 1 ? ` ${alike.indexOf(one) + 1}` : "";
      one.label = one.name || `${labels[one.kind]}${number} in ${wall.name}`;
      const sizes = (name, count) => Array.from({ length: count }, (_, n) => one[`${name}_${n + 1}`]);
      [one.widths, one.heights] = [sizes("width", 3).filter(Boolean), sizes("height", 3).filter(Boolean)];
      [one.left, one.right] = sizes("diagonal", 2);
      one.isRead = Boolean(one.widths.length && one.heights.length);
    }
    return openings;
  }

  const zonesOf = (lane) =>
    unreadFirst(all("zone", lane), "left").map((zone) => {
      const [margin, width, height] = usual[zone.kind] ?? [];
      const size = { width: zone.width ?? width, height: zone.height ?? height, margin: zone.margin ?? margin };
      return { ...zone, ...size, kindLabel: labels[zone.kind], label: zone.note || labels[zone.kind] };
    });

  const membersOf = (lane) => unreadFirst(all("member", lane), "at");

  const walls = all("wall");
  const taken = records.filter(({ lane }) => lane.startsWith("wall:")).map(({ name = "" }) => name.trim());
  for (const wall of walls) {
    wall.name ||= [...LETTERS].find((letter) => !taken.includes(letter)) ?? "";
    taken.push(wall.name);
    wall.inside = angle(wall.angle);
    wall.isAngled = wall.inside !== undefined && wall.inside % HALF !== QUARTER;
    wall.known = wall.length;
    [wall.openings, wall.zones, wall.members] = [openingsOf(wall), zonesOf(wall.lane), membersOf(wall.lane)];
  }
  if (walls.length === 4 && walls.every(({ corner }) => corner === "right")) {
    walls.forEach((wall, n) => (wall.known ??= walls[(n + 2) % 4].length)); // two numbers are enough
  }
  walls.forEach((wall, n) => Object.assign(wall, turned(wall, walls[(n + 1) % walls.length])));
  return {
    survey,
    room,
    site,
    walls,
    records: there,
    zones: zonesOf(survey.lane),
    members: membersOf(survey.lane),
    beams: all("beam").map((beam) => ({ ...beam, label: labels[beam.kind] })),
    coverings: all("covering"),
    spots: all("spot").map((spot) => ({ ...spot, label: spot.name || labels[spot.kind] })),
    hasPhoto: all("photo").length > 0,
    isWhole: walls.length > 2 && walls.every((wall) => wall.known && !unreadCorner(wall)),
  };
}

export const unreadCorner = ({ corner, diagonal, isAngled }) =>
  (corner === "diagonal" && !diagonal) || (corner === "angle" && !isAngled);

/** The turn at a wall's end, and whether the diagonal over it can't be. */
function turned({ length, corner, diagonal, inside, isAngled }, after) {
  if (corner in TURNS) return { turn: TURNS[corner] };
  const turn = isAngled ? HALF - inside : QUARTER;
  if (corner === "angle" || !length || !after.length || !diagonal) return { turn };
  const found = tied(length, after.length, diagonal);
  return found === FULL ? { turn, tieFails: true } : { turn: found };
}

/** The walls as lines of a plan. */
export const linesOf = ({ walls }) =>
  walls.map(({ known, turn, corner }) => ({ length: known, turn, read: !(corner in TURNS) }));
