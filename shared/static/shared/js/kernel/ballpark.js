// Areas in words, and what a floor comes to by the shop's own rates: the twin of shop/clients
// (engine/ballpark, adapter) and shared/quantities.py. Held to tests/vectors/ballpark.json.
// Fractions are [top, bottom] of whole numbers, as Decimal is: floats would lose the cent.

const FT2 = [9290304n, 100_000_000n]; // m²
const FIGURES = 2;

const times = ([a, b], [c, d]) => [a * c, b * d];
const over = ([a, b], [c, d]) => [a * d, b * c];
const power = (n) => (n < 0 ? [1n, 10n ** BigInt(-n)] : [10n ** BigInt(n), 1n]);

/** The decimal that a number is written as. */
function decimal(number) {
  const text = /e/.test(number) ? Number(number).toFixed(20) : String(number);
  const [whole, part = ""] = text.split(".");
  return [BigInt(whole + part), 10n ** BigInt(part.length)];
}

/** A number as the shop's locale writes it, up to two decimals, halves up. */
function written([top, bottom], { decimal: point, group }) {
  const text = String((200n * top + bottom) / (2n * bottom)).padStart(3, "0");
  const whole = text.slice(0, -2).replace(/\B(?=(\d{3})+$)/g, group);
  const part = text.slice(-2).replace(/0+$/, "");
  return part ? whole + point + part : whole;
}

/** An area of m² in the shop's unit. */
export function areaText(m2, { units, numbers }) {
  const found = decimal(m2);
  return units === "metric" ? `${written(found, numbers)} m²` : `${written(over(found, FT2), numbers)} ft²`;
}

/** Round to two figures, away from the middle of the range. */
function outward([top, bottom], up) {
  if (!top) return [0n, 1n];
  const leading = (n) => over([top, bottom], power(n));
  let exponent = String(top).length - String(bottom).length;
  if (leading(exponent)[0] < leading(exponent)[1]) exponent -= 1;
  const step = power(exponent - FIGURES + 1);
  const [a, b] = over([top, bottom], step);
  return times([(a + (up ? b - 1n : 0n)) / b, 1n], step);
}

/** Two decimals, halves to the even one: only eighths can lie between two of them. */
function toCent(x) {
  const isHalf = Math.abs((x * 8) % 2) === 1;
  const cents = Math.floor(x * 100);
  return isHalf ? String((cents + (cents % 2)) / 100) : x.toFixed(2);
}

/** What a floor of m² comes to, and how: two texts; null where there is no rate or no floor. */
export function ballpark(m2, { units, numbers, currency, rates }) {
  const floor = decimal(toCent(m2));
  if (!rates || !floor[0]) return null;
  const range = (ends) => `${currency} ${ends.map((end) => written(end, numbers)).join(" to ")}`;
  const each = rates.map(decimal);
  const sums = each.map((rate) => times(floor, rate));
  const isMetric = units === "metric";
  const amount = `${written(isMetric ? floor : over(floor, FT2), numbers)} ${isMetric ? "m²" : "ft²"}`;
  const rate = range(isMetric ? each : each.map((one) => times(one, FT2)));
  const how = `${amount} × ${rate} = ${range(sums)}; rounded outwards to two figures`;
  return [range(sums.map((end, n) => outward(end, n > 0))), how];
}
