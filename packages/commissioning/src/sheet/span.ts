/** The span of an analog point: which counts are 0 % and 100 %, and how percent, counts, signal and value follow from one another. */
import {
  acceptedValues,
  characteristicOf,
  type Direction,
  linearScale,
  numberOf,
  type PlacedPoint,
  roundTiesToEven,
  type Span,
  signalOf,
} from "byterail";
import { held } from "./image.js";

/** The ways between percent of the span, counts, signal and value. */
export interface PointSpan {
  readonly counts: Span;
  /** Value at 0 % and at 100 %. */
  readonly value: Span;
  /** Whether equal steps of counts are equal steps of the value. */
  readonly shape: "linear" | "curved";
  /** The counts nearest to a percentage of the span; ties to even. */
  readonly countsAt: (percent: number) => number;
  readonly percentOf: (counts: number) => number;
  readonly valueOf: (counts: number) => number;
  readonly countsOf: (value: number) => number;
  /** In `signalUnit`, or null without a signal. */
  readonly signalOf: ((counts: number) => number) | null;
  readonly signalUnit: "mA" | "V" | null;
}

/**
 * The span of a point, or null for one without: a number that has neither a scale with ends nor `limits`. Percent are
 * those of the counts, and so of the signal; behind a square root, 25 % of the signal is 50 % of the flow.
 */
export function spanOf(point: PlacedPoint, direction: Direction): PointSpan | null {
  const number = numberOf(point);
  if (!number || point.bits > 53 + (point.kind === "real" ? 11 : 0)) return null;
  const { scale } = number;
  const characteristic = scale && characteristicOf(scale);
  const ends = characteristic ? endsOf(scale!) : acceptedValues(point, direction);
  if (!ends || ends[0] === ends[1]) return null;
  const percent = linearScale(ends, [0, 100]);
  const signal = scale && signalOf(scale);
  const asHeld = held(point);
  const toValue = characteristic?.toValue ?? ((counts: number) => counts);
  return {
    counts: ends,
    value: [toValue(ends[0]), toValue(ends[1])],
    shape: scale?.points || scale?.shape === "squareRoot" ? "curved" : "linear",
    countsAt: (p) => asHeld(point.kind === "real" ? percent.toCounts(p) : roundTiesToEven(percent.toCounts(p))),
    percentOf: percent.toValue,
    valueOf: toValue,
    countsOf: characteristic?.toCounts ?? ((value) => value),
    signalOf: signal?.toValue ?? null,
    signalUnit: (signal && scale?.signalUnit) ?? null,
  };
}

function endsOf({ counts, points }: { readonly counts?: Span; readonly points?: readonly Span[] }): Span {
  return counts ?? [points![0]![0], points![points!.length - 1]![0]];
}
