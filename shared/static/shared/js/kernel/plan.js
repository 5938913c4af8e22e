// A plan by its readings in whole ticks: the twin of shop/surveys/engine (outline, adjust,
// spots), which says why. Held to tests/vectors/plan.json and leave.json.

export const [QUARTER, HALF, FULL, ANGLE_LIMIT, TURN_LIMIT] = [90_000, 180_000, 360_000, 2000, 20_000]; // millidegrees
export const CLOSING_LIMIT = 3200; // ticks
export const TURNS = { right: QUARTER, left: -QUARTER };
export const M_PER_TICK = 3.125e-6;
const [ALONG, SHARE_LIMIT] = [Math.sin(20 * (Math.PI / 180)), 0.05];

// Halves go to the even one, as on the server.
export const even = (x) => Math.round(x) - (Math.abs(x % 1) === 0.5 && Math.abs(Math.round(x) % 2)) + 0;

export const listed = (names) =>
  names.length > 1 ? `walls ${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : `wall ${names}`;

export const sum = (numbers) => numbers.reduce((one, other) => one + other, 0);

/** The turn at a corner by the diagonal over it; a full one where no triangle has such sides. */
export function tied(a, b, c) {
  if (Math.abs(a - b) >= c || c >= a + b) return FULL;
  const area = [a + b + c, a + b - c, c + a - b, c - a + b].map(BigInt).reduce((x, y) => x * y);
  return HALF - even(Math.atan2(Math.sqrt(Number(area)), a * a + b * b - c * c) * (180 / Math.PI) * 1000);
}

function heading(turned) {
  const angle = (turned / 1000) * (Math.PI / 180);
  return [Math.cos(angle), -Math.sin(angle)].map((x) => (turned % QUARTER ? x : Math.round(x)));
}

/** The plan as read, of lines {length, turn, read}: where each wall starts, where the last ends. */
export function outline(lines) {
  let [x, y, turned, perimeter] = [0, 0, 0, 0];
  const [corners, headings] = [[], []];
  for (const { length, turn } of lines) {
    const [dx, dy] = heading(turned);
    corners.push([x, y]);
    headings.push([dx, dy]);
    [x, y, turned, perimeter] = [x + length * dx, y + length * dy, turned + turn, perimeter + length];
  }
  return { corners, headings, end: [x, y], turned, perimeter, closing: Math.hypot(x, y) };
}

export const isSquare = (lines) => !lines.some(({ read, turn }) => read || turn % QUARTER);

/** Which walls to read again, by their place in the walk. */
export function suspects({ headings, end: [x, y] }, square) {
  if (!even(x) && !even(y)) return [];
  const isAcross = Math.abs(x) >= Math.abs(y);
  const [across, along] = square ? [Number(isAcross), Number(!isAcross)] : [x, y];
  const off = headings.map(([dx, dy]) => Math.abs(dx * along - dy * across) / Math.hypot(across, along));
  return [...off.keys()].filter((n) => off[n] <= Math.max(Math.min(...off), ALONG) + 1e-9);
}

/** The plan closed {corners, lengths}; null while it holds a slip. */
export function closed(lines) {
  const turned = closedAngles(lines);
  const plan = turned && outline(turned);
  if (!plan || plan.closing / plan.perimeter > SHARE_LIMIT) return null;
  const corners = isSquare(lines) ? byAxes(turned, plan) : byCompass(turned, plan);
  const ends = [...corners.slice(1), corners[0]];
  const lengths = corners.map(([x, y], n) => even(Math.hypot(ends[n][0] - x, ends[n][1] - y)));
  return Math.min(...lengths) > 0 ? { corners, lengths } : null;
}

function closedAngles(lines) {
  const miss = FULL - sum(lines.map(({ turn }) => turn));
  const read = [...lines.keys()].filter((n) => lines[n].read);
  if (miss && (!read.length || Math.abs(miss) > TURN_LIMIT)) return null;
  const parts = share(miss, read.map(() => 1));
  return lines.map((line, n) => ({ ...line, turn: line.turn + (parts[read.indexOf(n)] ?? 0) }));
}

/** Split a whole number by weights, to the last one exactly. */
function share(total, weights) {
  const whole = sum(weights);
  let [given, reached] = [0, 0];
  return weights.map((weight) => {
    reached += weight;
    const part = even((total * reached) / whole) - given;
    given += part;
    return part;
  });
}

function byAxes(lines, { headings }) {
  const [across, along] = [0, 1].map((axis) => {
    const steps = lines.map(({ length }, n) => headings[n][axis] * length);
    const weights = steps.map(Math.abs);
    const parts = weights.some(Boolean) ? share(-sum(steps), weights) : weights;
    return steps.map((step, n) => step + parts[n]);
  });
  let [x, y] = [0, 0];
  return across.map((dx, n) => {
    const corner = [x, y];
    [x, y] = [x + dx, y + along[n]];
    return corner;
  });
}

function byCompass(lines, { corners, end, perimeter }) {
  let upto = 0;
  return corners.map(([x, y], n) => {
    const corner = [even(x - (end[0] * upto) / perimeter), even(y - (end[1] * upto) / perimeter)];
    upto += lines[n].length;
    return corner;
  });
}

/** Twice the area within a polygon, above zero anticlockwise. */
export function twice(corners) {
  const ends = [...corners.slice(1), corners[0]];
  return sum(corners.map(([x, y], n) => x * ends[n][1] - ends[n][0] * y));
}

export const areaOf = (corners) => (Math.abs(twice(corners)) / 2) * M_PER_TICK ** 2;

/** Two walls that cross, by their place in the walk; null where none do. */
export function crossing(corners) {
  const sides = corners.map((corner, n) => [corner, corners[(n + 1) % corners.length]]);
  for (let one = 0; one < sides.length; one++) {
    for (let two = one + 2; two < sides.length; two++) {
      const neighbours = one === 0 && two === sides.length - 1;
      if (!neighbours && cross(sides[one], sides[two])) return [one, two];
    }
  }
  return null;
}

function cross(one, two) {
  const side = ([a, b], [c, d], [e, f]) => Math.sign((c - a) * (f - b) - (d - b) * (e - a));
  const parts = ([a, b], [c, d]) => side(a, b, c) * side(a, b, d) <= 0;
  const meet = (axis) => {
    const [[a, b], [c, d]] = [one, two].map((ends) => ends.map((end) => end[axis]));
    return Math.max(Math.min(a, b), Math.min(c, d)) <= Math.min(Math.max(a, b), Math.max(c, d));
  };
  return parts(one, two) && parts(two, one) && meet(0) && meet(1);
}

/** Whether a place lies within the walls, or on them. */
export function holds(corners, x, y) {
  let inside = false;
  for (const [n, [ax, ay]] of corners.entries()) {
    const [bx, by] = corners[(n + 1) % corners.length];
    const length = Math.hypot(bx - ax, by - ay);
    const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length;
    const beside = Math.abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length;
    if (beside < 1 && -1 < along && along < length + 1) return true;
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  }
  return inside;
}
