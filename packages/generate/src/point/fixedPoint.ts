/**
 * A scale in whole numbers: the value times 10^decimals, from counts, with the range of every term known beforehand. For
 * targets without floating point.
 */
import { codeOfPoint, type PlacedPoint, type Ratio } from "byterail";
import { type Curve, ratiosOf } from "./curve.js";

/** Most decimals that are chosen by default. */
const mostDecimals = 3;

/** As many decimals as the values of a scale have, up to three; null for a curve that is no straight line. */
export function decimalsOf(curve: Curve): number | null {
  const ratios = ratiosOf(curve);
  if (!ratios) return null;
  for (let decimals = 0; decimals < mostDecimals; decimals++)
    if (ratios.every((ratio) => inDecimals(ratio, decimals).c === 1n)) return decimals;
  return mostDecimals;
}

/** The integers of value · 10^decimals = (a·counts + b) / c, in lowest terms. */
export function inDecimals({ a, b, c }: Ratio, decimals: number): Ratio {
  const factor = 10n ** BigInt(decimals);
  const divisor = gcd(gcd(a * factor, b * factor), c);
  return { a: (a * factor) / divisor, b: (b * factor) / divisor, c: c / divisor };
}

/** The largest of |a·counts|, |b|, |a·counts + b| and c over everything that the point can hold. */
export function largestTerm({ a, b, c }: Ratio, point: PlacedPoint): bigint {
  const { min, max } = codeOfPoint(point)!;
  const ends = [a * BigInt(min), a * BigInt(max)];
  return [...ends, ...ends.map((end) => end + b), a, b, c].map(abs).reduce((most, term) => (term > most ? term : most));
}

function gcd(a: bigint, b: bigint): bigint {
  let [x, y] = [abs(a), abs(b)];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

function abs(a: bigint): bigint {
  return a < 0n ? -a : a;
}
