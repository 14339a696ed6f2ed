/** Random keys of a number, standing alone or a field, made to fit the counts that it can hold. */
import {
  type Code,
  characteristicOf,
  type CountsCode,
  type Direction,
  type Health,
  type NumberBase,
  type Span,
} from "byterail";
import fc from "fast-check";
import type { Allowed } from "./options.js";
import { anyPlace, oneOf, placeIn, record, when } from "./pick.js";
import { type ScaleSeed, scaleOf, scaleSeeds } from "./scales.js";

/** A number before it is known what it can hold. */
export interface NumberSeed {
  readonly code?: CountsCode;
  readonly scale?: ScaleSeed;
  readonly unit?: string;
  readonly limits?: readonly [number, number];
  readonly specialCounts?: readonly (readonly [place: number, health: Exclude<Health, "none">])[];
  readonly deadband?: number;
  readonly onNetworkLoss?: "off" | "hold" | number;
  readonly title?: string;
}

/** Titles, plain and awkward: whatever prints them has to cope. */
export const titles: fc.Arbitrary<string> = oneOf("Supply", 'a "quoted" title', "Größe <b> & 50 % */", "line\nbreak");

export function numberSeeds(allowed: Allowed, direction: Direction): fc.Arbitrary<NumberSeed> {
  const { codes, scales, extras } = allowed;
  const report = fc.tuple(
    anyPlace,
    oneOf("failedHigh", "failedLow", "invalid", "aboveMeasuring", "belowMeasuring", "ok"),
  );
  return record<NumberSeed>(
    {},
    {
      ...(codes.length > 0 && { code: oneOf(...codes) }),
      ...(scales.length > 0 && { scale: scaleSeeds(allowed) }),
      ...when(extras, {
        unit: { unit: oneOf("L/h", "%") },
        limits: { limits: fc.tuple(anyPlace, anyPlace) },
        specialCounts: { specialCounts: fc.array(report, { minLength: 1, maxLength: 2 }) },
        deadband: { deadband: oneOf(0, 0.5, 2) },
        title: { title: titles },
      }),
      ...(direction === "outputs" &&
        when(extras, { onNetworkLoss: { onNetworkLoss: oneOf<"off" | "hold" | number>("off", "hold", 0) } })),
    },
  );
}

/** Widest integer that may have a scale. */
const widestScaled = 32;

/** The keys of a number from its seed; `code` is null for a real. */
export function numberKeys(seed: NumberSeed, code: Code | null): Omit<NumberBase, "name" | "code"> {
  const { unit, deadband, onNetworkLoss, title } = seed;
  const scale = seed.scale && (!code || code.bits <= widestScaled) ? scaleOf(seed.scale, code) : undefined;
  const limits = seed.limits && limitsOf(seed.limits, scale, code);
  const specialCounts = seed.specialCounts && reportsOf(seed.specialCounts, scale, limits, code);
  return {
    ...(title !== undefined && { title }),
    ...(scale ? { scale } : unit && { unit }),
    ...(limits && { limits }),
    ...(specialCounts?.length && { specialCounts }),
    ...(deadband !== undefined && { deadband }),
    ...(onNetworkLoss !== undefined && { onNetworkLoss }),
  };
}

/** Counts that a place stands for; of an integer wider than a double, small ones. */
function countsAt(place: number, code: Code | null): number {
  if (!code) return place / 2;
  if (code.bits > 53) return placeIn(place, 0, 1000);
  return placeIn(place, Number(code.min), Number(code.max));
}

// Both ends are values that the point can hold, so that something is always accepted.
function limitsOf(places: readonly [number, number], scale: NumberBase["scale"], code: Code | null): Span {
  const characteristic = scale && characteristicOf(scale);
  const [a, b] = places.map((place) => {
    const counts = countsAt(place, code);
    return characteristic ? characteristic.toValue(counts) : counts;
  }) as [number, number];
  return a <= b ? [a, b] : [b, a];
}

// A report is no measurement: it lies outside the limits and the scale, where there are any.
function reportsOf(
  seeds: NonNullable<NumberSeed["specialCounts"]>,
  scale: NumberBase["scale"],
  limits: Span | undefined,
  code: Code | null,
): NonNullable<NumberBase["specialCounts"]> {
  const characteristic = scale && characteristicOf(scale);
  const ends = scale?.points?.map(([n]) => n) ?? scale?.counts;
  const isMeasurement = (counts: number) => {
    if (ends && counts >= Math.min(...ends) && counts <= Math.max(...ends)) return true;
    const value = characteristic ? characteristic.toValue(counts) : counts;
    return limits !== undefined && value >= limits[0] && value <= limits[1];
  };
  const room = !code || Number(code.max) - Number(code.min) > 4;
  const chosen = new Map(seeds.map(([place, health]) => [countsAt(place, code), health]));
  return [...chosen].flatMap(([counts, health]) => (room && !isMeasurement(counts) ? [{ counts, health }] : []));
}
