/**
 * A scale written out: the integers of its straight lines, for targets that carry the arithmetic themselves. The integers
 * come from the core, and the arithmetic of the targets is the core's, operation by operation.
 */
import { type NumberBase, type PlacedPoint, type Ratio, ratioOf, type Scale } from "byterail";

/** One straight line of a piecewise characteristic. It holds from these counts and this value on; the first holds below, too. */
export interface Piece {
  readonly counts: number;
  readonly value: number;
  readonly ratio: Ratio;
}

/** A scale, written out. */
export type Curve =
  | { readonly shape: "linear"; readonly ratio: Ratio }
  /** value = scale(root(fraction(counts))), root being mirrored below zero. */
  | { readonly shape: "squareRoot"; readonly fraction: Ratio; readonly scale: Ratio }
  /** Pieces by rising counts. */
  | { readonly shape: "pieces"; readonly pieces: readonly Piece[]; readonly values: "rise" | "fall" };

/** The curve of a point, or null for one without a scale. */
export function curveOf({ description }: PlacedPoint): Curve | null {
  const { scale } = description as NumberBase;
  return scale ? curveOfScale(scale) : null;
}

function curveOfScale({ counts, value, signal, shape, points }: Scale): Curve {
  if (points) {
    const sorted = [...points].sort(([a], [b]) => a - b);
    const pieces = sorted.slice(1).map(([n, v], k) => {
      const [from, start] = sorted[k]!;
      return { counts: from, value: start, ratio: ratioOf([from, n], [start, v]) };
    });
    return { shape: "pieces", pieces, values: sorted[0]![1] < sorted[1]![1] ? "rise" : "fall" };
  }
  const ends = value ?? signal!;
  if (shape === "squareRoot") return { shape, fraction: ratioOf(counts!, [0, 1]), scale: ratioOf([0, 1], ends) };
  return { shape: "linear", ratio: ratioOf(counts!, ends) };
}

/** The straight lines of a curve, or null for one that has none. */
export function ratiosOf(curve: Curve): readonly Ratio[] | null {
  if (curve.shape === "squareRoot") return null;
  return curve.shape === "linear" ? [curve.ratio] : curve.pieces.map(({ ratio }) => ratio);
}

/**
 * `(a * counts + b) / c` as an expression of C or Python, for doubles. Steps that change nothing are left out.
 *
 * @param zero whether counts can be -0: adding 0 makes 0 of it, as in the core, and then stays
 */
export function valueText({ a, b, c }: Ratio, counts: string, zero: "signed" | "unsigned"): string {
  const product = a === 1n ? counts : `${doubleText(a)} * ${counts}`;
  const alone = b === 0n && a > 0n && zero === "unsigned";
  const sum = alone ? product : b < 0n ? `${product} - ${doubleText(-b)}` : `${product} + ${doubleText(b)}`;
  return c === 1n ? sum : `${alone ? sum : `(${sum})`} / ${doubleText(c)}`;
}

/** Whether the counts of a point know a -0. */
export function zeroOf({ code }: PlacedPoint): "signed" | "unsigned" {
  return code === null || code === "signMagnitude" ? "signed" : "unsigned";
}

/** `(value * c - b) / a` likewise. */
export function countsText({ a, b, c }: Ratio, value: string): string {
  const product = c === 1n ? value : `${value} * ${doubleText(c)}`;
  const difference = b === 0n ? product : b < 0n ? `${product} + ${doubleText(-b)}` : `${product} - ${doubleText(b)}`;
  return a === 1n ? difference : `${b === 0n ? product : `(${difference})`} / ${doubleText(a)}`;
}

/** A finite double as C and Python write it, so that it reads back the same. */
export function doubleText(value: number | bigint): string {
  const text = String(Number(value));
  return /[.e]/.test(text) ? text : `${text}.0`;
}
