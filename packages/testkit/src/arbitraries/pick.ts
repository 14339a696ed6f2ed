/**
 * Records of choices. What is optional shrinks away, what is listed shrinks to its first item, and everything that has to
 * fit something else is chosen by a number and made to fit afterwards: so a failing station shrinks to a plain one.
 */
import fc from "fast-check";

/** Arbitraries by key. */
export type Keys = Readonly<Record<string, fc.Arbitrary<unknown>>>;

const absent = Symbol("absent");

/**
 * A record that has the required keys, each of the optional ones every other time, and of the usual ones five times out of
 * six; `T` tells its type. (`requiredKeys` of fast-check leaves few out, and where every module is pinned no bits are packed.)
 */
export function record<T>(required: Keys, optional: Keys = {}, usual: Keys = {}): fc.Arbitrary<T> {
  const maybe = (keys: Keys, freq: number) =>
    Object.fromEntries(Object.entries(keys).map(([key, any]) => [key, fc.option(any, { nil: absent, freq })]));
  return fc
    .record({ ...required, ...maybe(usual, 6), ...maybe(optional, 2) })
    .map((all) => Object.fromEntries(Object.entries(all).filter(([, value]) => value !== absent)) as T);
}

/** These keys where their rule is among the allowed ones. */
export function when<A extends string>(allowed: readonly A[], keys: Partial<Record<A, Keys>>): Keys {
  return Object.assign({}, ...allowed.map((rule) => keys[rule] ?? {})) as Keys;
}

/** One of a list. */
export function oneOf<const T>(...list: readonly T[]): fc.Arbitrary<T> {
  return fc.constantFrom(...list);
}

/** A whole number that picks a place in a range: itself where it lies inside, else wrapped into it. */
export const anyPlace: fc.Arbitrary<number> = fc.oneof(
  { withCrossShrink: true },
  fc.integer({ min: 0, max: 1000 }),
  fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }),
);

/** The whole number of a range that a place stands for. */
export function placeIn(place: number, min: number, max: number): number {
  const size = max - min + 1;
  if (place >= min && place <= max) return place;
  return min + ((((place - min) % size) + size) % size);
}
