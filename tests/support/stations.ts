// Random stations and scales for the tests: the stations are those of the test kit.

import { station } from "@byterail/testkit";
import type { Span, Station } from "byterail";
import fc from "fast-check";

/**
 * A random valid station with a byte order of its own and every name once, for tests that change it further: without
 * network, slots and set lengths, and without what refers to other parts of it.
 */
export function stations(): fc.Arbitrary<Station> {
  return station({
    networks: [],
    placement: ["order", "packing", "alignment", "bitOrder", "lengthMultiple", "group", "reserve", "pin"],
    extras: ["unit", "deadband", "onNetworkLoss", "orders"],
    entries: [0, 10],
  });
}

/** Two different values with at most three decimals. */
export function valueSpans(): fc.Arbitrary<Span> {
  return fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: -10_000, max: 10_000 }), { minLength: 2, maxLength: 2 }),
      fc.integer({ min: 0, max: 3 }),
    )
    .map(([ends, decimals]) => ends.map((n) => Number(`${n}e-${decimals}`)) as unknown as Span);
}

/** Points of a piecewise linear characteristic, rising or falling. */
export function curves([min, max]: Span): fc.Arbitrary<{ readonly points: readonly Span[] }> {
  const axis = (from: number, to: number, size: number) =>
    fc
      .uniqueArray(fc.integer({ min: from, max: to }), { minLength: size, maxLength: size })
      .map((list) => list.sort((a, b) => a - b));
  return fc.integer({ min: 2, max: 4 }).chain((size) =>
    fc.tuple(axis(min, max, size), axis(-1000, 1000, size), fc.boolean()).map(([counts, values, falls]) => {
      const ordered = falls ? [...values].reverse() : values;
      return { points: counts.map((n, k): Span => [n, ordered[k]!]) };
    }),
  );
}
