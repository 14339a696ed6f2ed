/** Random scales, exact: their integers stay within 2^49 for every type of up to 32 bits. */
import type { Accuracy, Code, Scale, Span } from "byterail";
import fc from "fast-check";
import type { Allowed } from "./options.js";
import { anyPlace, oneOf, placeIn, record, when } from "./pick.js";

/** A scale before it is known which counts it has to fit. */
export interface ScaleSeed {
  readonly shape: "linear" | "squareRoot" | "piecewise";
  readonly counts: readonly number[];
  /** Values in units of the last decimal. */
  readonly values: readonly number[];
  readonly decimals?: number;
  readonly signal?: Pick<Scale, "signal" | "signalUnit">;
  /** The signal is the value. */
  readonly bare?: true;
  readonly falls?: true;
  readonly unit?: string;
  readonly accuracy?: Accuracy;
}

/** Accuracy of an instrument or a channel. */
export const accuracies: fc.Arbitrary<Accuracy> = oneOf({ percentOfSpan: 0.1 }, { absolute: 0.02 });

/** Spans that converters have: left-justified, signed, in thousandths of the signal. */
const usualCounts = oneOf<readonly number[]>([4000, 20000], [0, 20000], [0, 4095], [-32768, 32767], [819, 4095]);

export function scaleSeeds({ scales, extras }: Allowed): fc.Arbitrary<ScaleSeed> {
  const value = fc.integer({ min: -10_000, max: 10_000 });
  return record<ScaleSeed>(
    {
      shape: oneOf(...scales),
      counts: fc.oneof({ withCrossShrink: true }, fc.array(anyPlace, { minLength: 2, maxLength: 4 }), usualCounts),
      values: fc.array(value, { minLength: 2, maxLength: 4 }),
    },
    {
      decimals: fc.integer({ min: 1, max: 3 }),
      signal: oneOf<Pick<Scale, "signal" | "signalUnit">>(
        { signal: [4, 20], signalUnit: "mA" },
        { signal: [0, 10], signalUnit: "V" },
        { signal: [20, 4], signalUnit: "mA" },
        { signal: [-10, 10], signalUnit: "V" },
      ),
      bare: fc.constant(true),
      falls: fc.constant(true),
      ...when(extras, { unit: { unit: oneOf("bar", "°C", "%") }, accuracy: { accuracy: accuracies } }),
    },
  );
}

/** The scale of a seed for counts of a code (null for a real), or undefined where the code has but one count. */
export function scaleOf(seed: ScaleSeed, code: Code | null): Scale | undefined {
  const { shape, decimals = 0, signal, bare, falls, unit, accuracy } = seed;
  const [min, max] = code ? [Number(code.min), Number(code.max)] : [-1e6, 1e6];
  if (min === max) return undefined;
  const counts = apart(
    seed.counts.map((place) => placeIn(place, min, max)),
    max,
  ).map((n) => (code ? n : n / 2));
  const values = apart(seed.values, 1e5).map((v) => Number(`${v}e-${decimals}`));
  const about = { ...(unit && { unit }), ...(accuracy && { accuracy }) };
  const ends: Span = [counts[0]!, counts[1]!];
  if (shape === "piecewise") {
    const size = Math.min(counts.length, values.length);
    const [ns, vs] = [counts, values].map((list) => list.slice(0, size).sort((a, b) => a - b)) as [number[], number[]];
    if (falls) vs.reverse();
    const points = ns.map((n, k): Span => [n, vs[k]!]);
    return { ...(signal && { counts: ends, ...signal }), points, ...about };
  }
  const line =
    signal && bare
      ? { counts: ends, ...signal }
      : { counts: ends, ...signal, value: [values[0]!, values[1]!] as const };
  return shape === "squareRoot" ? { ...line, shape, ...about } : { ...line, ...about };
}

// Each number once, and at least two of them.
function apart(list: readonly number[], max: number): number[] {
  const different = [...new Set(list)];
  const [only = 0] = different;
  return different.length > 1 ? different : [only, only < max ? only + 1 : only - 1];
}
