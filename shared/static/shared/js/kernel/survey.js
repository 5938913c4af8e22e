// A room by its readings in whole ticks: the twin of shop/surveys/engine (outline, adjust,
// opening, told), which says why. Both are held to tests/vectors/plan.json and opening.json.

const [QUARTER, HALF, FULL, ANGLE_LIMIT, TURN_LIMIT] = [90_000, 180_000, 360_000, 2000, 20_000]; // millidegrees
const [CLOSING_LIMIT, SPREAD_LIMIT, DIAGONAL_LIMIT] = [3200, 1016, 2032]; // ticks
const [TURNS, ALONG] = [{ right: QUARTER, left: -QUARTER }, Math.sin(20 * (Math.PI / 180))];

// Halves go to the even one, as on the server.
const even = (x) => Math.round(x) - (Math.abs(x % 1) === 0.5 && Math.abs(Math.round(x) % 2)) + 0;

function say(words, values) {
  const said = words.replace(/\{(\w+)\}/g, (_, key) => values[key]);
  return said[0].toUpperCase() + said.slice(1);
}

const listed = (names) =>
  names.length > 1 ? `walls ${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : `wall ${names}`;

/** The turn at a wall's end: NaN while it is unread, a full one where no triangle has such sides. */
function turnOf({ length: a, corner, inside, diagonal: c }, { length: b }) {
  if (!a || corner in TURNS) return a ? TURNS[corner] : NaN;
  if (corner === "angle") return HALF - inside;
  if (!b || !c) return NaN;
  if (Math.abs(a - b) >= c || c >= a + b) return FULL;
  const area = [a + b + c, a + b - c, c + a - b, c - a + b].map(BigInt).reduce((x, y) => x * y);
  return HALF - even(Math.atan2(Math.sqrt(Number(area)), a * a + b * b - c * c) * (180 / Math.PI) * 1000);
}

function heading(turned) {
  const angle = (turned / 1000) * (Math.PI / 180);
  return [Math.cos(angle), -Math.sin(angle)].map((x) => (turned % QUARTER ? x : Math.round(x)));
}

function suspects(headings, x, y, square) {
  if (!even(x) && !even(y)) return [];
  const isAcross = Math.abs(x) >= Math.abs(y);
  const [across, along] = square ? [Number(isAcross), Number(!isAcross)] : [x, y];
  const off = headings.map(([dx, dy]) => Math.abs(dx * along - dy * across) / Math.hypot(across, along));
  return [...off.keys()].filter((n) => off[n] <= Math.max(Math.min(...off), ALONG) + 1e-9);
}

/** Whether walls close: each {name, length, corner, inside, diagonal}, undefined where unread. */
export function planTold(walls, words, show) {
  const names = (wanted) => walls.filter((_, n) => wanted(n)).map((wall) => wall.name);
  const turns = walls.map((wall, n) => turnOf(wall, walls[(n + 1) % walls.length]));
  const [unread, ties] = [names((n) => isNaN(turns[n])), names((n) => turns[n] === FULL)];
  if (walls.length < 3) return { sentences: [] };
  if (unread.length) return { sentences: [say(words.unread, { wall: listed(unread) })] };
  if (ties.length) return { sentences: ties.map((wall) => say(words.tie, { wall })) };
  let [x, y, turned, perimeter] = [0, 0, 0, 0];
  const headings = walls.map(({ length }, n) => {
    const [dx, dy] = heading(turned);
    [x, y, turned, perimeter] = [x + length * dx, y + length * dy, turned + turns[n], perimeter + length];
    return [dx, dy];
  });
  const read = walls.some(({ corner }) => !(corner in TURNS));
  const [again, closing, miss] = [suspects(headings, x, y, !read), Math.hypot(x, y), Math.abs(turned - FULL)];
  let [key, other] = [closing > CLOSING_LIMIT ? "closing" : "closes", `${((closing / perimeter) * 100).toFixed(2)}%`];
  if (miss > (read ? ANGLE_LIMIT : 0)) {
    [key, other] = [read && miss <= TURN_LIMIT ? "angles" : "turns", `${Number((turned / 1000).toFixed(1))}°`];
  }
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
  const [ideal, mean] = [Math.hypot(width, height), Math.sqrt((known[0] ** 2 + known.at(-1) ** 2) / 2)];
  const belong = !(Math.abs(mean - ideal) > (0.02 * ideal) / known.length);
  const apart = Math.abs(known[0] - known.at(-1));
  const said = [
    ["smallest", true, width, height],
    ["widths", spreads[0] > SPREAD_LIMIT, spreads[0]],
    ["high", spreads[1] > SPREAD_LIMIT, spreads[1]],
    ["diagonals", !belong, even(ideal)],
    ["square", belong && apart > DIAGONAL_LIMIT, apart],
    ["leans", lean, Math.abs(lean)],
    [fit ? { true: "fits", false: "too_wide", null: "untold" }[goesIn] : "nothing", getsPanel, w, h],
  ];
  const other = (Math.asin(Math.abs(sine)) * (180 / Math.PI)).toFixed(1);
  const values = (one = 0, two = 0) => ({ 0: show(one), 1: show(two), 2: show(clearance), name, other });
  const sentences = said.filter(([, is]) => is).map(([key, , ...sizes]) => say(words[key], values(...sizes)));
  return { width, height, spreads, lean, fit, sentences };
}
