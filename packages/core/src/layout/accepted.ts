/**
 * What encode accepts: what the type or field can hold, narrowed by `limits`. A scaled output without `limits` is limited
 * to the ends of its value, as no valve should be driven past them by a slip; an input is not, as simulators and tests
 * must be able to send over-range.
 */
import { type Code, codeOf } from "../number/code.js";
import type { Direction, NumberBase, Span } from "../station/description.js";
import type { PlacedPoint } from "./point.js";

/** Lowest and highest value, in value units, or null where only the type limits it. */
export function acceptedValues(point: PlacedPoint, direction: Direction): Span | null {
  const { limits, scale } = point.description as NumberBase;
  if (limits) return limits;
  if (!scale || direction === "inputs") return null;
  const ends = scale.points?.map(([, value]) => value) ?? scale.value ?? scale.signal!;
  return [Math.min(...ends), Math.max(...ends)];
}

/** The code of an integer point: its smallest and largest counts and the way to and from its bits. */
export function codeOfPoint({ code, bits }: PlacedPoint): Code | null {
  return code && codeOf(code, bits);
}
