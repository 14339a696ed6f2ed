/**
 * Resolution and quantisation: how fine a point can tell, and how far off its counts may be for that reason alone.
 * A converter of n bits divides its span in 2^n steps; rounding to the nearest is off by half a step at most and, evenly
 * spread, by step/√12 (JCGM 100:2008, 4.3.7: a/√3 for a rectangle of half width a).
 */
import type { Scale } from "../station/description.js";
import { characteristicOf, signalOf } from "./characteristic.js";
import type { Characteristic } from "./linear.js";

/** One step of a quantity, with the error that rounding to steps makes; all in the unit of the quantity. */
export interface Resolution {
  /** One step: the least significant bit. */
  readonly step: number;
  /** Largest error of rounding: half a step. */
  readonly largestError: number;
  /** Root-mean-square error of rounding: step/√12. */
  readonly rmsError: number;
}

/**
 * Resolution of a converter.
 *
 * @example
 * ```ts
 * import { converterResolution } from "byterail/map";
 * converterResolution(12, 10).step; // → 0.00244140625
 * ```
 * @param bits of the converter
 * @param span in the unit of the quantity, e.g. 16 for 4 to 20 mA
 */
export function converterResolution(bits: number, span: number): Resolution {
  return resolutionOf(Math.abs(span) / 2 ** bits);
}

/** What one count of a scaled point is worth. */
export interface PointResolution {
  /** In value units; where the characteristic is no straight line, the largest step within the ends. */
  readonly value: Resolution;
  /** In `signalUnit`, or null without a signal. */
  readonly signal: Resolution | null;
  /** One count in percent of the span. */
  readonly percentOfSpan: number;
}

/** Resolution of a point by its scale, or null where the scale has no ends. */
export function scaleResolution(scale: Scale): PointResolution | null {
  const characteristic = characteristicOf(scale);
  if (!characteristic) return null;
  const knots = (scale.points?.map(([n]) => n) ?? [...scale.counts!]).sort((a, b) => a - b);
  const counts = knots[knots.length - 1]! - knots[0]!;
  const step = ({ toValue }: Characteristic, from: number, to: number) =>
    Math.abs((toValue(to) - toValue(from)) / (to - from));
  // Pieces are straight, but for a root: that is steepest at one of its ends.
  const pieces = knots.slice(1).map((end, k) => [knots[k]!, end] as const);
  const steps = pieces.flatMap(([start, end]) =>
    scale.shape === "squareRoot"
      ? [step(characteristic, start, start + 1), step(characteristic, end - 1, end)]
      : step(characteristic, start, end),
  );
  const signal = signalOf(scale);
  return {
    value: resolutionOf(Math.max(...steps)),
    signal: signal && resolutionOf(step(signal, scale.counts![0], scale.counts![1])),
    percentOfSpan: 100 / counts,
  };
}

function resolutionOf(step: number): Resolution {
  return { step, largestError: step / 2, rmsError: step / Math.sqrt(12) };
}
