// Exact scaling to judge fixed point by, in fractions of bigints: from the two ends that stand around the counts or the value,
// apart from the integers that the library derives.

import type { NumberBase, PlacedPoint, Span } from "byterail";
import { compare, minus, onLine, type Rational, rational } from "../../../support/rational.js";

/** A number as the decimal that it prints as. */
export function decimal(value: number): Rational {
  const [digits, exponent = "0"] = String(value).split("e") as [string, string?];
  const [whole, part = ""] = digits.split(".") as [string, string?];
  const power = Number(exponent) - part.length;
  const top = BigInt(whole + part);
  return power >= 0 ? rational(top * 10n ** BigInt(power)) : rational(top, 10n ** BigInt(-power));
}

/** The value of counts · 10^decimals, exactly; null for a square root. */
export function exactFixed(point: PlacedPoint, counts: bigint, decimals: number): Rational | null {
  const ends = knotsOf(point);
  if (!ends) return null;
  const k = Math.max(0, ends.slice(1, -1).filter(([n]) => counts >= BigInt(n)).length);
  const [[n0, v0], [n1, v1]] = [ends[k]!, ends[k + 1]!];
  const { top, over } = onLine(counts, [BigInt(n0), BigInt(n1)], [decimal(v0), decimal(v1)]);
  return rational(top * 10n ** BigInt(decimals), over);
}

/** The counts of a fixed-point value, exactly; null for a square root. */
export function exactCounts(point: PlacedPoint, fixed: bigint, decimals: number): Rational | null {
  const ends = knotsOf(point);
  if (!ends) return null;
  const value = rational(fixed, 10n ** BigInt(decimals));
  const rises = ends[0]![1] < ends[1]![1];
  const passed = ends.slice(1, -1).filter(([, v]) => compare(value, decimal(v)) * (rises ? 1 : -1) >= 0).length;
  const [[n0, v0], [n1, v1]] = [ends[passed]!, ends[passed + 1]!];
  const [run, rise, above] = [BigInt(n1) - BigInt(n0), minus(decimal(v1), decimal(v0)), minus(value, decimal(v0))];
  // n0 + above / rise · run
  return rational(BigInt(n0) * above.over * rise.top + above.top * rise.over * run, above.over * rise.top);
}

/** To the nearest whole number, ties to even. */
export function nearest({ top, over }: Rational): bigint {
  const floor = floorOf({ top, over });
  const twice = 2n * (top - floor * over);
  return twice > over || (twice === over && floor % 2n !== 0n) ? floor + 1n : floor;
}

/** Fixed-point values inside limits: the lowest and the highest. */
export function fixedInside([low, high]: Span, decimals: number): readonly [bigint, bigint] {
  const times = (value: number) => {
    const { top, over } = decimal(value);
    return rational(top * 10n ** BigInt(decimals), over);
  };
  const lowest = times(low);
  return [-floorOf(rational(-lowest.top, lowest.over)), floorOf(times(high))];
}

function floorOf({ top, over }: Rational): bigint {
  return (top - (((top % over) + over) % over)) / over;
}

// The points of a characteristic of straight lines by rising counts.
function knotsOf({ description }: PlacedPoint): readonly Span[] | null {
  const { counts, value, signal, points, shape } = (description as NumberBase).scale!;
  if (shape === "squareRoot") return null;
  const ends = points ?? [0, 1].map((k): Span => [counts![k]!, (value ?? signal)![k]!]);
  return [...ends].sort(([a], [b]) => a - b);
}
