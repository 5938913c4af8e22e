// Lengths as whole ticks of 3.125 µm: the twin of shared/length.py, which says why.
// Both are held to tests/vectors/length.json; change them together.

export const TICKS_PER_MM = 320;
const TICKS_PER_INCH = 8128;
const MAX_TICKS = 2 ** 31 - 1;
const MAX_TEXT = 40;

const EXAMPLES = {
  metric: "3750, 375 cm or 3.75 m",
  imperial: "12' 3 5/8\", 147 5/8 or 3750 mm",
};
const SENTENCES = {
  empty: "Type a length, such as {example}.",
  unreadable: "This does not read as a length. Write it like {example}.",
  too_long: "This is too long for a length. Write it like {example}.",
  negative: "A length can't be less than zero. Write it like {example}.",
  too_large: "This is more than 6.7 km. Check the unit; write it like {example}.",
  ambiguous: "This can be read in more than one way. Write it like {example}.",
  thousands:
    "This can be read in two ways: write no thousands separator, and add the unit to decimals, like {example}.",
  bare_fraction: "A fraction needs its inch mark, like 147 5/8\", or write {example}.",
  fraction:
    "Fractions go from halves to sixty-fourths and are less than one, like 5/8. Write it like {example}.",
  mixed: "Metric and inch units are mixed here. Write it like {example}.",
  order: "The larger unit goes first, each unit once. Write it like {example}.",
  remainder:
    "The smaller part comes to a whole larger unit or more, or the larger part" +
    " isn't a whole number. Write it like {example}.",
};

export class LengthError extends Error {
  constructor(kind, units) {
    super(SENTENCES[kind].replace("{example}", EXAMPLES[units]));
    this.kind = kind;
  }
}

const [INCH, FOOT, MM, CM, M] = [8128n, 97536n, 320n, 3200n, 320000n];
const BARE = { metric: MM, imperial: INCH };
const UNITS = new Map();
for (const [size, names] of [
  [FOOT, "' ft ft. foot feet"],
  [INCH, '" in in. inch inches'],
  [MM, "mm mm. millimetre millimetres millimeter millimeters"],
  [CM, "cm cm. centimetre centimetres centimeter centimeters"],
  [M, "m m. metre metres meter meters"],
]) {
  for (const name of names.split(" ")) UNITS.set(name, size);
}

const [VULGAR, TAPE] = ["½¼¾⅛⅜⅝⅞", ["1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"]];
const PART =
  /(?:([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?![0-9/]))?(?: ?-? ?([0-9]+\/[0-9]+))? ?([a-z]+\.?|['"])? ?-? ?/y;
const HYPHENED = /^([0-9]+) ?- ?([0-9]+) ?- ?([0-9]+\/[0-9]+) ?(?:"|in\.?)?$/;

/** Read a length in ticks; throws LengthError. */
export function parse(text, { units, allowNegative = false }) {
  const refuse = (kind) => {
    throw new LengthError(kind, units);
  };
  let plain = simplify(text);
  if (!plain) refuse("empty");
  if ([...text].length > MAX_TEXT) refuse("too_long");
  const sign = plain.startsWith("-") ? -1 : 1;
  if (sign < 0 && !allowNegative) refuse("negative");
  if (/^[+-]/.test(plain)) plain = plain.slice(1).replace(/^ /, "");
  plain = plain.replace(HYPHENED, "$1' $2 $3\"");
  const parts = cut(plain, refuse);
  parts.forEach((part) => checkNumber(part, units, refuse));
  const sizes = sizesOf(parts, units, refuse);
  checkOrder(parts, sizes, refuse);
  let [top, bottom] = [0n, 1n];
  parts.forEach((part, i) => {
    top = top * part.bottom + part.top * sizes[i] * bottom;
    bottom *= part.bottom;
  });
  const ticks = (2n * top + bottom) / (2n * bottom);
  if (ticks > BigInt(MAX_TICKS)) refuse("too_large");
  return sign * Number(ticks) + 0;
}

function simplify(text) {
  return text
    .replace(/[’‘′´`ʹʼ＇]/g, "'")
    .replace(/[”“″ʺ＂]/g, '"')
    .replace(/[⁄∕／]/g, "/")
    .replace(/[‐‑‒–—−]/g, "-")
    .replace(/[\t\n\r\u00a0\u2002\u2003\u2007-\u200a\u202f]/g, " ")
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (one) => ` ${TAPE[VULGAR.indexOf(one)]}`)
    .replaceAll("''", '"')
    .toLowerCase()
    .replace(/ +/g, " ")
    .replace(/ ?\/ ?/g, "/")
    .replace(/^ | $/g, "");
}

function cut(plain, refuse) {
  const parts = [];
  PART.lastIndex = 0;
  while (PART.lastIndex < plain.length) {
    const [, number = "", fraction = "", unit = ""] = PART.exec(plain) ?? [];
    if (!number && !fraction) refuse("unreadable");
    if (unit && !UNITS.has(unit)) refuse("unreadable");
    parts.push({ number, fraction, unit });
  }
  if (!parts.length || plain.startsWith("-") || plain.endsWith("-")) refuse("unreadable");
  return parts;
}

/** Refuse odd fractions and decimals like thousands; give the part its value. */
function checkNumber(part, units, refuse) {
  const { number, fraction, unit } = part;
  const digits = /^[0-9]+$/.test(number);
  const [top, bottom] = (fraction || "0/64").split("/").map(BigInt);
  if (![2n, 4n, 8n, 16n, 32n, 64n].includes(bottom) || top >= bottom) refuse("fraction");
  if (fraction && number && !digits) refuse("unreadable");
  if (/^[0-9]{1,3}[.,][0-9]{3}$/.test(number)) {
    const comma = number.includes(",") && !number.startsWith("0");
    const bareMetric = !unit && units === "metric";
    if ((comma && UNITS.get(unit) !== M) || bareMetric) refuse("thousands");
  }
  const [whole, decimals = ""] = number.split(/[.,]/);
  const scale = 10n ** BigInt(decimals.length);
  part.top = BigInt(whole + decimals || 0) * bottom + top * scale;
  part.bottom = bottom * scale;
  part.isWhole = digits && !fraction;
}

function sizesOf(parts, units, refuse) {
  if (parts.length === 1 && !parts[0].unit) {
    if (parts[0].fraction && units === "metric") refuse("bare_fraction");
    return [BARE[units]];
  }
  const sizes = [];
  parts.forEach((part, i) => {
    const before = i === parts.length - 1 ? sizes.at(-1) : undefined;
    if (part.unit) sizes.push(UNITS.get(part.unit));
    else if (before === FOOT || (before === INCH && !part.number)) sizes.push(INCH);
    else refuse("ambiguous");
  });
  return sizes;
}

function checkOrder(parts, sizes, refuse) {
  const isInch = (size) => size === FOOT || size === INCH;
  if (new Set(sizes.map(isInch)).size > 1) refuse("mixed");
  for (let i = 1; i < parts.length; i++) {
    const [larger, smaller] = [sizes[i - 1], sizes[i]];
    if (smaller > larger || (smaller === larger && parts[i].unit)) refuse("order");
    const tooMuch = parts[i].top * smaller >= larger * parts[i].bottom;
    if (!parts[i - 1].isWhole || tooMuch || /^0[0-9]{2}/.test(parts[i].number)) {
      refuse("remainder");
    }
  }
}

// Every number from here on stays a whole one far below 2 ** 53.
function nearest(top, bottom) {
  const size = Math.floor((2 * Math.abs(top) + bottom) / (2 * bottom));
  return top < 0 ? -size + 0 : size;
}

/** Print for reading, rounded to 1/fraction in or 0.1 mm. */
export function show(ticks, { units, fraction = 16, unitMark = true, feet = true }) {
  if (units === "metric") return nearest(ticks, 32) / 10 + (unitMark ? " mm" : "");
  return inches(nearest(ticks * fraction, TICKS_PER_INCH), fraction, unitMark, feet);
}

/** Whether show prints this length without rounding it. */
export function isExact(ticks, { units, fraction = 16 }) {
  return ticks % (units === "metric" ? 32 : TICKS_PER_INCH / fraction) === 0;
}

function inches(steps, fraction, unitMark, feet) {
  const size = Math.abs(steps);
  const whole = Math.floor(size / fraction);
  let [top, bottom] = [size % fraction, fraction];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const foot = feet ? Math.floor(whole / 12) : 0;
  const inch = whole - 12 * foot;
  const part = top ? `${inch ? `${inch} ` : ""}${top}/${bottom}` : String(inch);
  return (steps < 0 ? "-" : "") + (foot ? `${foot}' ` : "") + part + (unitMark ? '"' : "");
}
