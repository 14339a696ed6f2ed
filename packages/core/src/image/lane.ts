/**
 * The fast lane: booleans, integers of up to 32 bits that are plain or on a straight line, and plain binary32 reals. Nearly
 * every point of a station is one of these. Each gets closures over bare numbers, which the engine compiles into a few
 * shifts; the formulas stand here once and are those of `number/` and `scale/`, which the tests hold them to.
 */
import { numberOf, type PlacedPoint } from "../layout/point.js";
import { codeOf } from "../number/code.js";
import { type Pattern, type ShortRun, shortRun } from "../number/pattern.js";
import { float32Of, patternOfFloat32 } from "../number/real.js";
import { ratioOf, roundTiesToEven } from "../scale/linear.js";
import type { Span } from "../station/description.js";

/** The short way to and from one point. */
export interface Lane<T = boolean | number | bigint> {
  readonly name: string;
  /** Which code reads and writes: a flag's, that of a number within two bytes, or any other. */
  readonly kind: "flag" | "short" | "other";
  readonly read: (bytes: Uint8Array) => T;
  /** Changes the bits of the point and no other; false for a value that is not accepted, with nothing written. */
  readonly write: (bytes: Uint8Array, value: unknown) => boolean;
}

/** The numbers of an integer: counts are `(pattern ^ flip) - less` (see `Code`), the value is `(a·counts + b) / c`. */
export interface Line {
  readonly flip: number;
  readonly less: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** The fast lane of a point, or null for one that has to go the long way. */
export function fastLane(point: PlacedPoint, limits: Span, bits: Pattern): Lane | null {
  const run = shortRun(point.positions, point.low, point.bits);
  if (point.kind === "boolean") return flagLane(point, run!);
  const line = lineOf(point);
  if (line) return run ? numberLane(point, limits, line, run) : wideLane(point, limits, line, bits as Pattern<number>);
  return isPlainReal(point) ? realLane(point, limits, bits as Pattern<number>) : null;
}

function flagLane(point: PlacedPoint, { p0, shift }: ShortRun): Lane<boolean> {
  const bit = 1 << shift;
  return {
    name: keyOf(point),
    kind: "flag",
    read: (bytes) => (bytes[p0]! & bit) !== 0,
    write: (bytes, value) => {
      if (typeof value !== "boolean") return false;
      bytes[p0] = value ? bytes[p0]! | bit : bytes[p0]! & ~bit;
      return true;
    },
  };
}

function numberLane(point: PlacedPoint, limits: Span, line: Line, run: ShortRun): Lane<number> {
  const { flip, less, a, b, c } = line;
  const { p0, p1, shift, mask } = run;
  const keep = ~(mask << shift);
  const patternOf = patterns(point, limits, line);
  return {
    name: keyOf(point),
    kind: "short",
    read: (bytes) => {
      const pattern = ((bytes[p0]! | (bytes[p1]! << 8)) >>> shift) & mask;
      return (a * ((pattern ^ flip) - less) + b) / c;
    },
    write: (bytes, value) => {
      const pattern = patternOf(value);
      if (pattern < 0) return false;
      const word = ((bytes[p0]! | (bytes[p1]! << 8)) & keep) | (pattern << shift);
      if (p1 !== p0) bytes[p1] = word >>> 8;
      bytes[p0] = word;
      return true;
    },
  };
}

function wideLane(point: PlacedPoint, limits: Span, line: Line, bits: Pattern<number>): Lane {
  const { flip, less, a, b, c } = line;
  return laneThrough(
    point,
    bits,
    (pattern) => (a * (((pattern ^ flip) >>> 0) - less) + b) / c,
    patterns(point, limits, line),
  );
}

function realLane(point: PlacedPoint, limits: Span, bits: Pattern<number>): Lane {
  const [lowest, highest] = limits;
  return laneThrough(point, bits, float32Of, (value) =>
    typeof value === "number" && value >= lowest && value <= highest && Number.isFinite(Math.fround(value))
      ? patternOfFloat32(value)
      : -1,
  );
}

/** A lane through the pattern of a point. `patternOf` gives a negative number for a value that is not accepted. */
export function laneThrough<U extends number | bigint>(
  point: PlacedPoint,
  bits: Pattern<U>,
  toValue: (pattern: U) => boolean | number | bigint,
  patternOf: (value: unknown) => U,
): Lane {
  return {
    name: keyOf(point),
    kind: "other",
    read: (bytes) => toValue(bits.read(bytes, 0)),
    write: (bytes, value) => {
      const pattern = patternOf(value);
      if (pattern < 0) return false;
      bits.write(bytes, 0, pattern);
      return true;
    },
  };
}

/** The pattern of a value on a line; negative for one that is not accepted. */
function patterns(point: PlacedPoint, limits: Span, { flip, less, a, b, c }: Line): (value: unknown) => number {
  const { min, max } = codeOf(point.code!, point.bits);
  const [lowest, highest] = limits;
  const unscaled = !numberOf(point)!.scale;
  return (value) => {
    if (typeof value !== "number" || !(value >= lowest && value <= highest)) return -1;
    const counts = roundTiesToEven((value * c - b) / a);
    if (!(counts >= min && counts <= max) || (unscaled && counts !== value)) return -1;
    return ((counts + less) ^ flip) >>> 0;
  };
}

/** The line of an integer within 32 bits whose counts are a shift of the number line and whose value is on a straight one, or null. */
export function lineOf(point: PlacedPoint): Line | null {
  const { scale, specialCounts } = numberOf(point)!;
  const { flip, min } = codeOf(point.code ?? "real", point.bits);
  if (flip === undefined || point.bits > 32 || specialCounts || scale?.points || scale?.shape === "squareRoot")
    return null;
  const { a, b, c } = scale ? ratioOf(scale.counts!, scale.value ?? scale.signal!) : { a: 1, b: 0, c: 1 };
  return { flip: Number(flip), less: -Number(min), a: Number(a), b: Number(b), c: Number(c) };
}

/** Whether a point is a binary32 that is its own value. */
export function isPlainReal(point: PlacedPoint): boolean {
  const { scale, specialCounts } = numberOf(point)!;
  return point.code === null && point.bits === 32 && !scale && !specialCounts;
}

// A name that is a key already is found faster than one that was put together.
function keyOf({ name }: PlacedPoint): string {
  return Object.keys({ [name]: 0 })[0]!;
}
