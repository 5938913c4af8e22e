// What each surface is covered with, and how much of it there is: the twin of shop/surveys/
// engine (surfaces, ceiling, shapes of it), which says why. Held to tests/vectors/leave.json.

import { M_PER_TICK, areaOf, crossing, holds, sum, twice } from "./plan.js";

const [LEAST, LINE] = [1e-6, 1e-12]; // m²
const key = (...parts) => parts.join(" ");

/** The ceiling's height at each corner in ticks; null while too few are read. */
function cornerHeights({ walls, survey }, corners) {
  const read = walls.map(({ height }) => height);
  if (survey.shape === "slope") return slope(corners, read);
  if (survey.shape === "corners") return read.every(Boolean) ? read : null;
  return survey.height ? read.map(() => survey.height) : null;
}

/** The plane through the heights that were read, or the nearest one (least squares). */
function slope(corners, read) {
  const known = corners.map(([x, y], n) => [x, y, read[n]]).filter(([, , height]) => height);
  if (known.length < 3) return null;
  const [mx, my, mean] = [0, 1, 2].map((n) => sum(known.map((one) => one[n])) / known.length);
  const off = known.map(([x, y, z]) => [x - mx, y - my, z - mean]);
  const of = (a, b) => sum(off.map((one) => one[a] * one[b]));
  const [xx, xy, yy, xz, yz] = [of(0, 0), of(0, 1), of(1, 1), of(0, 2), of(1, 2)];
  const whole = xx * yy - xy * xy;
  if (whole <= LINE * Math.max(xx, yy) ** 2) return null;
  const [across, along] = [(xz * yy - yz * xy) / whole, (yz * xx - xz * xy) / whole];
  return corners.map(([x, y]) => mean + across * (x - mx) + along * (y - my));
}

/** Cut an outline that does not cross itself into triangles, by clipping ears. */
function triangles(corners) {
  const area = (ring) => twice(ring.map((n) => corners[n]));
  const left = [...corners.keys()];
  if (area(left) < 0) left.reverse();
  const within = ([a, b, c], other) => [[a, b], [b, c], [c, a]].every((side) => area([...side, other]) >= 0);
  const isEar = (n) => {
    const ear = [left.at(n - 1), left[n], left[(n + 1) % left.length]];
    const size = area(ear);
    return size <= 0 ? size === 0 : !left.some((other) => !ear.includes(other) && within(ear, other));
  };
  const found = [];
  while (left.length > 3) {
    const ear = left.findIndex((_, n) => isEar(n));
    const ends = [left.at(ear - 1), left[(ear + 1) % left.length]];
    found.push([ends[0], ...left.splice(ear, 1), ends[1]]);
  }
  return [...found, left];
}

function ceilingArea({ survey }, corners, heights) {
  if (survey.shape === "flat") return areaOf(corners);
  if (!heights || crossing(corners)) return null;
  const areas = triangles(corners).map((ring) => {
    const [[ax, ay, az], ...others] = ring.map((n) => [...corners[n], heights[n]]);
    const [[bx, by, bz], [cx, cy, cz]] = others.map(([x, y, z]) => [x - ax, y - ay, z - az]);
    return Math.hypot(by * cz - bz * cy, bz * cx - bx * cz, bx * cy - by * cx) / 2;
  });
  return sum(areas) * M_PER_TICK ** 2;
}

/** Each surface before finishes: its key, its name, its area, its sides where it is a box. */
function surfacesOf(room, { corners, shut }) {
  const heights = cornerHeights(room, corners);
  const found = room.walls.flatMap((wall, n) => {
    const holes = wall.openings.filter(({ isRead }) => isRead).map(({ label: name, lane, widths, heights: high }) => {
      const [width, height] = [Math.min(...widths), Math.min(...high)];
      return { key: key(lane), name, area: width * height * M_PER_TICK ** 2, width, height };
    });
    const width = shut ? shut.lengths[n] : wall.known;
    const height = heights && (heights[n] + heights[(n + 1) % heights.length]) / 2;
    const net = heights && Math.max(0, width * height * M_PER_TICK ** 2 - sum(holes.map(({ area }) => area)));
    return [{ key: key(wall.lane), name: `wall ${wall.name}`, area: net, width, height, isWall: true }, ...holes];
  });
  found.push({ key: "ceiling", name: "ceiling", area: ceilingArea(room, corners, heights) });
  return [...found, { key: "floor", name: "floor", area: areaOf(corners) }];
}

/** The finishes as noted; what the preset will bring once it is stored counts as there. */
function coveringsOf({ coverings, survey, walls }) {
  const found = coverings.map(({ of, surface, finish, width, height }) => ({
    key: /^(wall|opening):/.test(of) ? key(of) : surface,
    finish,
    width,
    height,
    isWhole: !width && !height,
  }));
  if (!survey.preset) return found;
  const isNoted = (one) => found.some(({ key: on, isWhole }) => on === one && isWhole);
  const others = walls.flatMap(({ openings }) => openings).filter(({ kind }) => kind !== "recess");
  const bare = [
    ...["walls", "ceiling", "floor"].filter((one) => !isNoted(one)),
    ...others.map(({ lane }) => key(lane)).filter((one) => !found.some(({ key: on }) => on === one)),
  ];
  return [...found, ...bare.map((one) => ({ key: one, finish: survey.preset, isWhole: true }))];
}

/** Share all surfaces out among the finishes: too much of one, two for one, none, half a size. */
export function surfaces(room, plan) {
  const [found, coverings] = [surfacesOf(room, plan), coveringsOf(room)];
  const partsOf = ({ key: on, width, height }) =>
    coverings.filter((one) => one.key === on && !one.isWhole).map((one) => {
      const sides = [one.width ?? width, one.height ?? height];
      return { finish: one.finish, area: sides[0] && sides[1] ? sides[0] * sides[1] * M_PER_TICK ** 2 : null };
    });
  const wholes = (on) => coverings.filter((one) => one.key === on && one.isWhole && one.finish);
  const taken = (parts) => sum(parts.map(({ area }) => area ?? 0));
  const walls = found.filter(({ isWall }) => isWall);
  const left = walls.map((one) => Math.max(0, (one.area ?? 0) - taken(partsOf(one))));
  const [length, gross] = [sum(walls.map(({ width }) => width)), sum(walls.map(({ width, height }) => width * (height ?? 0)))];
  const common = partsOf({ key: "walls", width: length, height: gross ? gross / length : null });
  const [excesses, bare, unread] = [[], new Set(), []];
  for (const one of found) {
    const own = partsOf(one);
    const share = one.isWall && sum(left) ? left[walls.indexOf(one)] / sum(left) : 0;
    const shared = one.isWall ? common.map((part) => ({ ...part, area: part.area && part.area * share })) : [];
    const parts = [...own, ...shared];
    const whole = (wholes(one.key).at(-1) ?? (one.isWall && wholes("walls").at(-1)))?.finish;
    const all = taken(parts);
    const isKnown = one.area !== null;
    const shrink = all ? Math.min(1, one.area / all) : 1;
    const seen = parts.filter(({ area }) => !isKnown || (area ?? 0) * shrink > LEAST);
    const hasRest = !isKnown || one.area - all * shrink > LEAST;
    if (seen.some(({ finish }) => !finish) || (hasRest && !whole)) bare.add(one.name);
    if (isKnown && all > one.area + LEAST) excesses.push([one.name, all, one.area]);
    if (isKnown && own.some(({ area }) => area === null)) unread.push(one.name);
  }
  const named = [{ key: "walls", name: "all walls" }, ...found];
  const double = named.filter((one) => wholes(one.key).length > 1).map(({ name }) => name);
  return { excesses, twice: double, bare: [...bare], unread };
}

/** What contradicts in finishes and places, and what a later step asks of them: [key, values] of each. */
export function within(room, plan, areaText) {
  const { excesses, twice: double, bare, unread } = plan ? surfaces(room, plan) : { excesses: [], twice: [], bare: [], unread: [] };
  const the = (name) => (/^(all|wall) /.test(name) ? name : `the ${name}`);
  const isOut = ({ left, bottom }) => left !== undefined && bottom !== undefined && !holds(plan.corners, left, -bottom);
  const told = [
    ...excesses.map(([name, all, there]) => ["excess", { name: the(name), 0: areaText(all), 1: areaText(there) }]),
    ...double.map((name) => ["twice", { name: the(name) }]),
    ...(plan ? room.spots.filter(isOut) : []).map(({ label }) => ["outside", { name: label }]),
  ];
  const isPlaced = room.spots.some(({ kind }) => ["seat", "source", "loudspeaker"].includes(kind));
  const later = [
    ...(bare.length ? [[bare.length > 1 ? "bare_all" : "bare", { name: bare.map(the).join(", ") }]] : []),
    ...unread.map((name) => ["other_side", { name }]),
    ...(isPlaced ? [] : [["placing", {}]]),
  ];
  return { told, later };
}
