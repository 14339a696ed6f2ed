/**
 * The fast lane: booleans, and integers within two bytes that are plain or on a straight line, as bare numbers. Nearly
 * every point of a station is one of these. A loop over bare numbers runs several times faster than a chain of calls per
 * point; the formulas stand here once and are those of `number/` and `scale/`, which the tests hold them to.
 */
import { acceptedValues } from "../layout/accepted.js";
import { numberOf, type PlacedPoint } from "../layout/point.js";
import { codeOf } from "../number/code.js";
import { type ShortRun, shortRun } from "../number/pattern.js";
import { ratioOf, roundTiesToEven } from "../scale/linear.js";
import type { Direction } from "../station/description.js";

/** Counts are the pattern, less `less` from `from` up; the value is `(a·counts + b) / c`. */
export interface Lane extends ShortRun {
  readonly name: string;
  readonly from: number;
  readonly less: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** What encode accepts, in value units and in counts. */
  readonly lowest: number;
  readonly highest: number;
  readonly min: number;
  readonly max: number;
  /** Whether the value is the counts and must be whole. */
  readonly unscaled: boolean;
}

/** The lane of a point, or null for one that has to go the long way. */
export function laneOf(point: PlacedPoint, direction: Direction): Lane | null {
  const run = shortRun(point.positions, point.low, point.bits);
  const number = numberOf(point);
  const { min, max, from, less } = codeOf(point.code ?? (number ? "real" : "unsigned"), point.bits);
  const scale = number?.scale;
  if (!run || from === undefined || number?.specialCounts || scale?.points || scale?.shape === "squareRoot")
    return null;
  const ratio = scale ? ratioOf(scale.counts!, scale.value ?? scale.signal!) : { a: 1, b: 0, c: 1 };
  const [lowest, highest] = (number && acceptedValues(point, direction)) ?? [-Infinity, Infinity];
  return {
    // A name that is a key already is looked up faster than one that was put together.
    name: Object.keys({ [point.name]: 0 })[0]!,
    ...run,
    ...{ from: Number(from), less: Number(less), a: Number(ratio.a), b: Number(ratio.b), c: Number(ratio.c) },
    ...{ lowest, highest, min: Number(min), max: Number(max), unscaled: !scale },
  };
}

/** Reads a boolean. */
export function readFlag({ p0, shift }: Lane, bytes: Uint8Array, at: number): boolean {
  return ((bytes[at + p0]! >>> shift) & 1) === 1;
}

/** Reads a number. */
export function readNumber({ p0, p1, shift, mask, from, less, a, b, c }: Lane, bytes: Uint8Array, at: number): number {
  const pattern = ((bytes[at + p0]! | (bytes[at + p1]! << 8)) >>> shift) & mask;
  return (a * (pattern >= from ? pattern - less : pattern) + b) / c;
}

/** Sets a boolean in bytes whose bit is 0; false for what is none, with nothing written. */
export function setFlag({ p0, shift }: Lane, bytes: Uint8Array, value: unknown): boolean {
  if (value === true) bytes[p0]! |= 1 << shift;
  return value === true || value === false;
}

/** Sets a number in bytes whose bits are 0; false for one that is not accepted, with nothing written. */
export function setNumber(lane: Lane, bytes: Uint8Array, value: unknown): boolean {
  if (typeof value !== "number" || !(value >= lane.lowest && value <= lane.highest)) return false;
  const counts = roundTiesToEven((value * lane.c - lane.b) / lane.a);
  if (!(counts >= lane.min && counts <= lane.max) || (lane.unscaled && counts !== value)) return false;
  const { p0, p1, shift, mask } = lane;
  const bits = ((lane.from ? counts : counts + lane.less) & mask) << shift;
  bytes[p0]! |= bits;
  if (p1 !== p0) bytes[p1]! |= bits >>> 8;
  return true;
}
