// What is said beside the boxes while a room is read: the twin of shop/surveys/engine (told,
// opening), which says why. Both are held to tests/vectors/plan.json and opening.json.

import { ANGLE_LIMIT, CLOSING_LIMIT, FULL, HALF, TURNS, TURN_LIMIT } from "./plan.js";
import { even, listed, outline, suspects, tied } from "./plan.js";

export const [SPREAD_LIMIT, DIAGONAL_LIMIT, DIAGONAL_SHARE] = [1016, 2032, 0.01]; // ticks

export function say(words, values) {
  const said = words.replace(/\{(\w+)\}/g, (_, key) => values[key]);
  return said[0].toUpperCase() + said.slice(1);
}

/** The turn at a wall's end: NaN while it is unread, a full one where no triangle has such sides. */
function turnOf({ length: a, corner, inside, diagonal: c }, { length: b }) {
  if (!a || corner in TURNS) return a ? TURNS[corner] : NaN;
  if (corner === "angle") return HALF - inside;
  return b && c ? tied(a, b, c) : NaN;
}

/** What is wrong with the turns, if anything: [key, what they come to]. */
export function misturned(turned, read) {
  const miss = Math.abs(turned - FULL);
  if (miss <= (read ? ANGLE_LIMIT : 0)) return null;
  return [read && miss <= TURN_LIMIT ? "angles" : "turns", `${Number((turned / 1000).toFixed(1))}°`];
}

/** Whether walls close: each {name, length, corner, inside, diagonal}, undefined where unread. */
export function planTold(walls, words, show) {
  const names = (wanted) => walls.filter((_, n) => wanted(n)).map((wall) => wall.name);
  const turns = walls.map((wall, n) => turnOf(wall, walls[(n + 1) % walls.length]));
  const [unread, ties] = [names((n) => isNaN(turns[n])), names((n) => turns[n] === FULL)];
  if (walls.length < 3) return { sentences: [] };
  if (unread.length) return { sentences: [say(words.unread, { wall: listed(unread) })] };
  if (ties.length) return { sentences: ties.map((wall) => say(words.tie, { wall })) };
  const plan = outline(walls.map(({ length }, n) => ({ length, turn: turns[n] })));
  const read = walls.some(({ corner }) => !(corner in TURNS));
  const [again, { closing, perimeter, turned }] = [suspects(plan, !read), plan];
  const share = `${((closing / perimeter) * 100).toFixed(2)}%`;
  const [key, other] = misturned(turned, read) ?? [closing > CLOSING_LIMIT ? "closing" : "closes", share];
  const values = { 0: show(even(closing)), wall: listed(names((n) => again.includes(n))), other };
  return { closing: even(closing), perimeter, turned, again, sentences: [say(words[key], values)] };
}

/** What follows from an opening's readings: widths, heights, the diagonals rising right and left. */
export function openingTold({ widths, heights, right, left, name, clearance, getsPanel }, words, show) {
  const [width, height] = [Math.min(...widths), Math.min(...heights)];
  const spreads = [Math.max(...widths) - width, Math.max(...heights) - height];
  const known = [right, left].filter(Boolean);
  const sine = known.length === 2 ? (right ** 2 - left ** 2) / (4 * width * height) : NaN;
  const lean = Math.abs(sine) <= 1 ? even(height * sine) : null;
  const [w, h] = [width - 2 * clearance, height - 2 * clearance];
  const goesIn = lean === null ? null : w <= Math.max(0, width - Math.abs(height * sine));
  const fit = w > 0 && h > 0 ? [w, h, goesIn] : null;
  const [found, other] = [trueness({ widths, heights, right, left }), (Math.asin(Math.abs(sine)) * (180 / Math.PI)).toFixed(1)];
  const said = [
    ["smallest", true, width, height],
    ...found.map(([key, amount]) => [key, true, amount]),
    ["leans", lean, Math.abs(lean)],
    [fit ? { true: "fits", false: "too_wide", null: "untold" }[goesIn] : "nothing", getsPanel, w, h],
  ];
  const values = (one = 0, two = 0) => ({ 0: show(one), 1: show(two), 2: show(clearance), name, other });
  const sentences = said.filter(([, is]) => is).map(([key, , ...sizes]) => say(words[key], values(...sizes)));
  return { width, height, spreads, lean, fit, sentences };
}

/** What an opening's own readings say against each other: [key, ticks] of each. */
export function trueness({ widths, heights, right, left }) {
  const [width, height] = [Math.min(...widths), Math.min(...heights)];
  const known = [right, left].filter(Boolean);
  const [ideal, mean] = [Math.hypot(width, height), Math.sqrt((known[0] ** 2 + known.at(-1) ** 2) / 2)];
  const belong = !(Math.abs(mean - ideal) > (2 * DIAGONAL_SHARE * ideal) / known.length);
  const [wide, high, apart] = [Math.max(...widths) - width, Math.max(...heights) - height, Math.abs(known[0] - known.at(-1))];
  return [
    ["widths", wide, wide > SPREAD_LIMIT],
    ["high", high, high > SPREAD_LIMIT],
    ["diagonals", even(ideal), !belong],
    ["square", apart, belong && apart > DIAGONAL_LIMIT],
  ].filter(([, , is]) => is);
}
