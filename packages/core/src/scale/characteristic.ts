/**
 * The characteristic of a description: linear, square root or piecewise linear. Each is strictly monotone, goes on
 * beyond its ends (what the station sent is a fact) and has an inverse.
 */
import { fail } from "../problem.js";
import type { Scale, Span } from "../station/description.js";
import { type Characteristic, type LinearScale, linearScale } from "./linear.js";

/** Counts → value, or null where the scale has no ends to make one from. */
export function characteristicOf(scale: Scale): Characteristic | null {
  if (scale.points) return piecewiseScale(scale.points);
  const value = scale.value ?? scale.signal;
  if (!scale.counts || !value) return null;
  return (scale.shape === "squareRoot" ? squareRootScale : linearScale)(scale.counts, value);
}

/** Counts → signal in `signalUnit`, or null without a signal. The signal is linear whatever the value is. */
export function signalOf(scale: Scale): LinearScale | null {
  return scale.counts && scale.signal ? linearScale(scale.counts, scale.signal) : null;
}

/**
 * Square root extraction: value = v0 + (v1 − v0)·√((counts − n0) / (n1 − n0)), as flow follows differential pressure.
 * Below the lower end the root is mirrored (−√|x|), so that a transmitter a little below zero still has an inverse.
 *
 * @example
 * ```ts
 * import { squareRootScale } from "byterail";
 * squareRootScale([4, 20], [4, 20]).toValue(8); // → 12
 * ```
 */
export function squareRootScale(counts: Span, value: Span): Characteristic {
  const { toValue: fraction, toCounts } = linearScale(counts, [0, 1]);
  const { toValue, toCounts: root } = linearScale([0, 1], value);
  return {
    toValue: (n) => {
      const x = fraction(n);
      return toValue(Math.sign(x) * Math.sqrt(Math.abs(x)));
    },
    toCounts: (v) => {
      const r = root(v);
      return toCounts(Math.sign(r) * r * r);
    },
  };
}

/**
 * Straight lines through `[counts, value]` points, the first and the last going on beyond them.
 *
 * @param points two or more; counts rise or fall strictly, and so do values
 */
export function piecewiseScale(points: readonly Span[]): Characteristic {
  if (!isMonotone(points)) fail("scale.monotone", "scale.points", "counts and values must each rise or fall strictly");
  const sorted = points[0]![0] < points[1]![0] ? points : [...points].reverse();
  const lines = sorted.slice(1).map((end, k) => linearScale([sorted[k]![0], end[0]], [sorted[k]![1], end[1]]));
  const inner = sorted.slice(1, -1);
  const rises = sorted[0]![1] < sorted[1]![1];
  const lineAt = (passed: (point: Span) => boolean) => lines[inner.filter(passed).length]!;
  return {
    toValue: (n) => lineAt(([counts]) => n >= counts).toValue(n),
    toCounts: (v) => lineAt(([, value]) => (rises ? v >= value : v <= value)).toCounts(v),
  };
}

/** Whether counts and values each keep one direction from point to point. */
export function isMonotone(points: readonly Span[]): boolean {
  return [0, 1].every((axis) => {
    const signs = new Set(points.slice(1).map((point, k) => Math.sign(point[axis]! - points[k]![axis]!)));
    return signs.size === 1 && (signs.has(1) || signs.has(-1));
  });
}
