/** Random frames of an image, and random values for one. */
import {
  acceptedValues,
  type AnyValue,
  characteristicOf,
  codeOfPoint,
  type Direction,
  type ImageLayout,
  numberOf,
  patchRaw,
  type PlacedPoint,
  type Span,
} from "byterail";
import fc from "fast-check";
import { between, counts, edges, preferring } from "./counts.js";

/**
 * Random frames: any bytes of the length of the image, half of the time with the points at counts where something
 * changes. They shrink to zeros.
 *
 * @example
 * ```ts
 * import { assemble, decodeRaw, encodeRaw } from "byterail";
 * import { frame } from "@byterail/testkit";
 * import fc from "fast-check";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "ai", inputs: [{ name: "level", type: "int24" }, { name: "flow", type: "float32" }] }],
 * });
 * fc.assert(fc.property(frame(inputs), (bytes) => encodeRaw(inputs, decodeRaw(inputs, bytes)).join() === bytes.join()));
 * ```
 * @param image `layout.inputs` or `layout.outputs`
 */
export function frame(image: ImageLayout<unknown, unknown, unknown>): fc.Arbitrary<Uint8Array> {
  const { byteLength, points } = image;
  const bytes = fc.uint8Array({ minLength: byteLength, maxLength: byteLength });
  if (points.length === 0) return bytes;
  const raw = fc.record(Object.fromEntries(points.map((point) => [point.name, counts(point)])));
  const patched = fc.tuple(bytes, raw).map(([any, chosen]) => patchRaw(image, any.slice(), chosen as never));
  return fc.oneof({ withCrossShrink: true }, bytes, patched);
}

/**
 * Random values that encode accepts, one for each point. Those of bits and integers come back from `decode` as they were
 * given, and so do those of reals without a scale; a value beyond the digits of a real comes back rounded.
 *
 * @example
 * ```ts
 * import { assemble, decode, encode } from "byterail";
 * import { values } from "@byterail/testkit";
 * import fc from "fast-check";
 * const { outputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "little",
 *   modules: [{ name: "drive", outputs: [{ name: "run", type: "bit" }, { name: "speed", type: "uint16", limits: [0, 3000] }] }],
 * });
 * fc.assert(fc.property(values(outputs), (given) => decode(outputs, encode(outputs, given)).speed === given.speed));
 * ```
 * @param image `layout.inputs` or `layout.outputs`
 * @throws `RangeError` for a point whose limits leave no value
 */
export function values<V>(image: ImageLayout<V, unknown, unknown>): fc.Arbitrary<V> {
  const each = image.points.map((point) => [point.name, valuesOf(point, image.direction)] as const);
  return fc.record(Object.fromEntries(each)) as fc.Arbitrary<unknown> as fc.Arbitrary<V>;
}

function valuesOf(point: PlacedPoint, direction: Direction): fc.Arbitrary<AnyValue> {
  if (point.kind === "boolean") return fc.boolean();
  const limits = acceptedValues(point, direction);
  return point.kind === "real" ? reals(point, limits) : integers(point, limits, direction);
}

// Integers go through their counts, so that a value is one that decode can give.
function integers(point: PlacedPoint, limits: Span | null, direction: Direction): fc.Arbitrary<AnyValue> {
  const { scale, specialCounts = [] } = numberOf(point)!;
  const code = codeOfPoint(point)!;
  const characteristic = scale && characteristicOf(scale);
  const toValue = (n: number | bigint): AnyValue => (characteristic ? characteristic.toValue(n as number) : n);
  const isAccepted = (n: number | bigint) =>
    (!limits || ((toValue(n) as number) >= limits[0] && (toValue(n) as number) <= limits[1])) &&
    !specialCounts.some(({ counts }) => Number(n) === counts);
  const [min, max] = accepted(code.min, code.max, limits, characteristic ? characteristic.toCounts : (n) => n);
  const one = (typeof min === "bigint" ? 1n : 1) as number;
  const ends = [min, (min as number) + one, (max as number) - one, max];
  const notable = [...edges(point), ...ends].filter((n) => n >= min && n <= max && isAccepted(n));
  // Beside each report and each end stands one that is none, where there is one at all.
  if (notable.length === 0)
    throw new RangeError(`no value of point ${point.name} of the ${direction} is accepted: its limits leave none`);
  return preferring(notable, between(min, max).filter(isAccepted)).map(toValue);
}

// The range of counts whose values lie within the limits; rounding may take in one at each end that does not.
function accepted(
  least: number | bigint,
  most: number | bigint,
  limits: Span | null,
  toCounts: (value: number) => number,
): readonly [number | bigint, number | bigint] {
  if (!limits) return [least, most];
  const [from, to] = limits.map(toCounts).sort((a, b) => a - b) as [number, number];
  const [low, high] = [Math.floor(from), Math.ceil(to)];
  if (typeof least === "number") return [Math.max(least, low), Math.min(most as number, high)];
  const [lowest, highest] = [low, high].map((n) => (Number.isFinite(n) ? BigInt(n) : n > 0 ? most : least));
  return [lowest! > least ? lowest! : least, highest! < most ? highest! : most];
}

function reals(point: PlacedPoint, limits: Span | null): fc.Arbitrary<number> {
  const { scale, specialCounts = [] } = numberOf(point)!;
  const characteristic = scale && characteristicOf(scale);
  const fits = (value: number) => !limits || (value >= limits[0] && value <= limits[1]);
  const nearest = (value: number) => (point.bits === 32 && fits(Math.fround(value)) ? Math.fround(value) : value);
  const counts = (value: number) => (characteristic ? characteristic.toCounts(value) : value);
  const holds = (n: number) => Number.isFinite(point.bits === 32 ? Math.fround(n) : n);
  const isAccepted = (value: number) =>
    Number.isFinite(value) &&
    holds(counts(value)) &&
    !specialCounts.some((special) => special.counts === counts(value));
  // Without limits, as far as a scale does not overflow on the way to counts and back.
  const most = characteristic ? 1e9 : point.bits === 32 ? 2 ** 127 : Number.MAX_VALUE;
  const [min, max] = (limits ?? [-most, most]).map((n) => n + 0) as [number, number]; // −0 is no end of a range
  return fc.double({ min, max, noNaN: true }).map(nearest).filter(isAccepted);
}
