/** Random counts of a point, with a liking for the places where something changes. */
import {
  codeOf,
  codeOfPoint,
  numberOf,
  type NumberBase,
  type PlacedPoint,
  type RawValue,
  roundTiesToEven,
  signalOf,
} from "byterail";
import { healthOf, ne43 } from "byterail/map";
import fc from "fast-check";

/**
 * Counts that a point can carry, as `decodeRaw` and `encodeRaw` have them: of a boolean true or false, of a real its bit
 * pattern. Often they are an edge: the ends of the type and of the scale, special counts, the bands of NAMUR NE 43, and
 * the counts beside each; −0 of sign-magnitude; of a real also NaN, the infinities and the smallest numbers.
 *
 * @example
 * ```ts
 * import { assemble, pointHandle } from "byterail";
 * import { counts } from "@byterail/testkit";
 * import fc from "fast-check";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "ai", inputs: [{ name: "level", type: "uint16", scale: { counts: [0, 20000], value: [0, 100] } }] }],
 * });
 * const level = counts(pointHandle(inputs, "level").point);
 * fc.sample(level, { numRuns: 300, seed: 1 }).includes(20000); // → true
 * ```
 */
export function counts(point: PlacedPoint): fc.Arbitrary<RawValue> {
  if (point.kind === "boolean") return fc.boolean();
  const code = codeOfPoint(point) ?? codeOf("unsigned", point.bits); // raw of a real is its pattern
  return preferring<RawValue>(notable(point), between(code.min, code.max));
}

/** Raw of a number at which something changes. */
export function notable(point: PlacedPoint): RawValue[] {
  if (point.kind === "real") return point.bits === 32 ? notable32 : notable64;
  return [...edges(point), ...(point.code === "signMagnitude" ? [-0] : [])];
}

/** Any counts of a range, or the edges in it. */
export function preferring<T>(edges: readonly T[], any: fc.Arbitrary<T>): fc.Arbitrary<T> {
  return edges.length > 0 ? fc.oneof({ withCrossShrink: true }, any, fc.constantFrom(...edges)) : any;
}

/** Any whole number of a range, `bigint` where its ends are. */
export function between(min: number | bigint, max: number | bigint): fc.Arbitrary<number | bigint> {
  return typeof min === "bigint"
    ? fc.bigInt({ min, max: max as bigint })
    : fc.integer({ min: min + 0, max: (max as number) + 0 }); // −0 is no end of a range
}

/** Counts of an integer at which something changes, and those beside each, within the type. */
export function edges(point: PlacedPoint): (number | bigint)[] {
  const code = codeOfPoint(point)!;
  const wide = typeof code.min === "bigint";
  const { scale, specialCounts = [] } = numberOf(point)!;
  const named = [
    ...(scale?.counts ?? []),
    ...(scale?.points?.map(([n]) => n) ?? []),
    ...specialCounts.map(({ counts }) => counts),
    ...bandEdges(point.description as NumberBase),
  ].flatMap((n) => [n - 1, n, n + 1]);
  const own = [...named, 0, 1, -1].map((n) => (wide ? BigInt(n) : n));
  const one = (wide ? 1n : 1) as number;
  const [min, max] = [code.min as number, code.max as number];
  return [...new Set([...own, min, min + one, max - one, max])].filter((n) => n >= min && n <= max);
}

// The counts nearest to each end of a band; where the point has no such bands, none.
function bandEdges(description: NumberBase): number[] {
  const signal = description.scale && signalOf(description.scale);
  if (!signal) return [];
  const judge = healthOf(description);
  return Object.values(ne43)
    .map((mA) => roundTiesToEven(signal.toCounts(mA)))
    .filter((n) => judge(n - 1) !== judge(n + 1));
}

// Of IEEE 754: 0, −0, the smallest number, the largest subnormal, the smallest normal, 1, ± the largest, ±∞, NaN.
const notable32 = [
  0, 0x80000000, 1, 0x007fffff, 0x00800000, 0x3f800000, 0x7f7fffff, 0xff7fffff, 0x7f800000, 0xff800000, 0x7fc00000,
];
const notable64 = [
  0n,
  1n << 63n,
  1n,
  0xfffffffffffffn,
  1n << 52n,
  0x3ff0000000000000n,
  0x7fefffffffffffffn,
  0xffefffffffffffffn,
  0x7ff0000000000000n,
  0xfff0000000000000n,
  0x7ff8000000000000n,
];
