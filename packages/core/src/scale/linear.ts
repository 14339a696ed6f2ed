/**
 * The linear scale, exact: value = (a·counts + b) / c in three integers. Decode evaluates just that, each operation
 * rounded once to binary64; encode is its inverse with ties to even. `raw·gain + offset` rounds twice and its inverse misses.
 */
import { fail } from "../problem.js";
import type { Span } from "../station/description.js";
import { abs, decimal, type Fraction, gcd } from "./decimal.js";

/** Three integers of `value = (a·counts + b) / c`: c > 0, greatest common divisor 1. */
export interface Ratio {
  readonly a: bigint;
  readonly b: bigint;
  readonly c: bigint;
}

/** A characteristic: counts to value and back. */
export interface Characteristic {
  /** Value in engineering units. */
  readonly toValue: (counts: number) => number;
  /** Counts, not rounded; `nearestCounts` rounds them. */
  readonly toCounts: (value: number) => number;
}

/** A linear characteristic with its integers. */
export interface LinearScale extends Characteristic {
  readonly ratio: Ratio;
}

/**
 * The linear scale through two points.
 *
 * @example
 * ```ts
 * import { linearScale, roundTiesToEven } from "byterail";
 * const supply = linearScale([4000, 20000], [0, 10]); // bar
 * supply.toValue(12000); // → 5
 * roundTiesToEven(supply.toCounts(6.2)); // → 13920
 * supply.ratio; // → { a: 1n, b: -4000n, c: 1600n }
 * ```
 * @param counts at the two ends; not equal
 * @param value at the two ends, in engineering units; not equal
 */
export function linearScale(counts: Span, value: Span): LinearScale {
  const ratio = ratioOf(counts, value);
  const [a, b, c] = [Number(ratio.a), Number(ratio.b), Number(ratio.c)];
  return { ratio, toValue: (n) => (a * n + b) / c, toCounts: (v) => (v * c - b) / a };
}

/**
 * The integers of the line through two points, from the decimals that the ends print as.
 *
 * @throws `ByterailError` `scale.span` for equal ends
 */
export function ratioOf(counts: Span, value: Span): Ratio {
  const [n0, n1] = inUnits(counts);
  const [v0, v1] = inUnits(value);
  // Counts n / n.over, values v / v.over: value = ((v1 − v0)·n.over·counts + v0·Δn − Δv·n0) / (v.over·Δn).
  const rise = v1.top - v0.top;
  const run = n1.top - n0.top;
  if (!rise || !run) fail("scale.span", "scale", "the two ends of a span must differ");
  const a = rise * n0.over;
  const b = v0.top * run - rise * n0.top;
  const c = v0.over * run;
  const divisor = gcd(gcd(a, b), c) * (c < 0n ? -1n : 1n);
  return { a: a / divisor, b: b / divisor, c: c / divisor };
}

// Both ends as multiples of one decimal unit, 1 / over.
function inUnits(span: Span): readonly [Fraction, Fraction] {
  const [p, q] = [decimal(span[0]), decimal(span[1])];
  const over = p.over > q.over ? p.over : q.over;
  return [
    { top: p.top * (over / p.over), over },
    { top: q.top * (over / q.over), over },
  ];
}

/** The whole number nearest to a number; of two as near, the even one (as IEC 61131-3 REAL → INT). */
export function roundTiesToEven(x: number): number {
  // Beside so large a number there is no room for a fraction: the processor rounds the sum, ties to even.
  return Math.abs(x) < 2251799813685248 ? x + 6755399441055744 - 6755399441055744 : roundLarge(x);
}

// From 2^51 on a fraction can only be a half.
function roundLarge(x: number): number {
  const floor = Math.floor(x);
  return x > floor && floor % 2 ? floor + 1 : floor;
}

/**
 * The largest of |a·counts|, |b|, |a·counts + b| and c over a range of counts. Up to 2^53 decode gives the double
 * nearest to the exact value; up to 2^49 counts → value → counts is the identity.
 */
export function largestTerm({ a, b, c }: Ratio, min: number | bigint, max: number | bigint): bigint {
  const ends = [a * BigInt(min), a * BigInt(max)];
  return [...ends, ...ends.map((end) => end + b), b, c].map(abs).reduce((most, term) => (term > most ? term : most));
}
