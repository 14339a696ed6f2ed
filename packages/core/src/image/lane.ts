/**
 * The fast lane: booleans, and integers within two bytes that are plain or on a straight line. Nearly every point of a
 * station is one of these. Each gets closures over bare numbers, which the engine compiles into a few shifts; the formulas
 * stand here once and are those of `number/` and `scale/`, which the tests hold them to.
 */
import { acceptedValues } from "../layout/accepted.js";
import { numberOf, type PlacedPoint } from "../layout/point.js";
import { codeOf } from "../number/code.js";
import { type ShortRun, shortRun } from "../number/pattern.js";
import { ratioOf, roundTiesToEven } from "../scale/linear.js";
import type { Direction } from "../station/description.js";

/** The short way to and from one point. `at` is where the image begins. */
export interface Lane<T = boolean | number> {
  readonly name: string;
  readonly read: (bytes: Uint8Array, at: number) => T;
  /** Changes the bits of the point and no other; false for a value that is not accepted, with nothing written. */
  readonly write: (bytes: Uint8Array, value: unknown) => boolean;
}

/** The numbers of an integer: counts are the pattern, less `less` from `from` up; the value is `(a·counts + b) / c`. */
export interface Line {
  readonly from: number;
  readonly less: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** The lane of a point, or null for one that has to go the long way. */
export function laneOf(point: PlacedPoint, direction: Direction): Lane | null {
  const run = shortRun(point.positions, point.low, point.bits);
  if (!run) return null;
  // A name that is a key already is looked up faster than one that was put together.
  const name = Object.keys({ [point.name]: 0 })[0]!;
  return point.kind === "boolean" ? flagLane(name, run) : numberLane(name, run, point, direction);
}

function flagLane(name: string, { p0, shift }: ShortRun): Lane<boolean> {
  const bit = 1 << shift;
  return {
    name,
    read: (bytes, at) => (bytes[at + p0]! & bit) !== 0,
    write: (bytes, value) => {
      if (value === true) bytes[p0]! |= bit;
      else if (value === false) bytes[p0]! &= ~bit;
      else return false;
      return true;
    },
  };
}

function numberLane(
  name: string,
  { p0, p1, shift, mask }: ShortRun,
  point: PlacedPoint,
  direction: Direction,
): Lane<number> | null {
  const line = lineOf(point);
  if (!line) return null;
  const { from, less, a, b, c } = line;
  const { min, max } = codeOf(point.code!, point.bits);
  const [lowest, highest] = acceptedValues(point, direction) ?? [-Infinity, Infinity];
  const keep = ~(mask << shift);
  const unscaled = !numberOf(point)!.scale;
  return {
    name,
    read: (bytes, at) => {
      const pattern = ((bytes[at + p0]! | (bytes[at + p1]! << 8)) >>> shift) & mask;
      return (a * (pattern >= from ? pattern - less : pattern) + b) / c;
    },
    write: (bytes, value) => {
      if (typeof value !== "number" || !(value >= lowest && value <= highest)) return false;
      const counts = roundTiesToEven((value * c - b) / a);
      if (!(counts >= min && counts <= max) || (unscaled && counts !== value)) return false;
      const pattern = (from ? counts : counts + less) & mask;
      const word = ((bytes[p0]! | (bytes[p1]! << 8)) & keep) | (pattern << shift);
      if (p1 !== p0) bytes[p1] = word >>> 8;
      bytes[p0] = word;
      return true;
    },
  };
}

/** The line of a number whose counts are a shift of the number line and whose value is on a straight one, or null. */
export function lineOf(point: PlacedPoint): Line | null {
  const { scale, specialCounts } = numberOf(point)!;
  const { from, less } = codeOf(point.code ?? "real", point.bits);
  if (from === undefined || specialCounts || scale?.points || scale?.shape === "squareRoot") return null;
  const { a, b, c } = scale ? ratioOf(scale.counts!, scale.value ?? scale.signal!) : { a: 1, b: 0, c: 1 };
  return { from: Number(from), less: Number(less), a: Number(a), b: Number(b), c: Number(c) };
}
