// What the evaluated text must give for a frame or for values, judged by the core and by exact arithmetic.

import {
  type AnyValue,
  acceptedValues,
  characteristicOf,
  codeOfPoint,
  decode,
  decodeRaw,
  type ImageLayout,
  numberOf,
  patch,
  type PlacedPoint,
  type Ratio,
  ratioOf,
  type Scale,
} from "byterail";
import { healthOf } from "byterail/map";
import { expect } from "vitest";
import { exactCounts, exactFixed, fixedInside, nearest } from "./exact.js";

/** Rounding to REAL: half a unit in the last place, relative. */
const u = 2 ** -24;

/** Between 0 and this there is no REAL. */
const smallestReal = 2 ** -149;

export const healthNumbers = {
  ok: 0,
  none: 0,
  belowMeasuring: 1,
  aboveMeasuring: 2,
  failedLow: 3,
  failedHigh: 4,
  invalid: 5,
};

export interface Counter {
  fixed: number;
  lreal: number;
  real: number;
  health: number;
  special: number;
}

type Members = Readonly<Record<string, boolean | number | bigint>>;
type Types = ReadonlyMap<string, string>;

/** Judges what the unpack block made of a frame. */
export function judgeInputs(
  image: ImageLayout,
  frame: Uint8Array,
  members: Members,
  types: Types,
  decimals: number,
  counter: Counter,
): void {
  const values = decode(image, frame);
  const raw = decodeRaw(image, frame);
  for (const point of image.points) {
    const got = members[point.name]!;
    const value = values[point.name]!;
    const number = numberOf(point);
    const at = `${point.name} ${JSON.stringify(point.description)} of raw ${raw[point.name]}`;
    if (!number) {
      expect(got, at).toBe(value);
      continue;
    }
    const counts = point.kind === "real" ? realOf(point, raw[point.name]!) : raw[point.name]!;
    const invalid = typeof counts === "string" || (typeof counts === "number" && !Number.isFinite(counts));
    if (types.has(`${point.name}_health`)) {
      // The core judges counts as `number`; those of a wide point are compared exactly here.
      const health = invalid ? "invalid" : exactHealth(number, counts as AnyValue as number | bigint);
      expect(Number(members[`${point.name}_health`]), at).toBe(healthNumbers[health]);
      counter.health++;
    } else expect(["none"]).toContain(healthOf(number)(counts as number));
    const type = types.get(point.name)!;
    if (invalid) {
      expect(Number(got) + 0, at).toBe(0);
    } else if (!number.scale) {
      // Whole numbers know no -0, nor does a REAL that was put together need to show it.
      expect(Number(got) + 0, at).toBe(Number(counts) + 0);
      if (typeof counts === "bigint") expect(got, at).toBe(counts);
    } else if (type === "DINT" || type === "LINT") {
      expect(got, at).toBe(nearest(exactFixed(point, BigInt(counts as number), decimals)!));
      // Beside the exact value: the core is within half a digit, and what binary64 leaves open.
      expect(Math.abs(Number(got) - (value as number) * 10 ** decimals), at).toBeLessThanOrEqual(
        0.5 + 1e-12 * Math.abs(Number(got)),
      );
      counter.fixed++;
    } else if (type === "LREAL") {
      if (isOrdinary(counts as number)) expect(got === value || [got, value], at).toBe(true);
      counter.lreal++;
    } else if (isOrdinary(counts as number)) {
      expect(Math.abs(Number(got) - (value as number)), at).toBeLessThanOrEqual(
        realBound(point, number.scale, counts as number, value as number),
      );
      counter.real++;
    }
  }
}

// Far out the text limits a real, so that no product overflows; there the core goes on.
function isOrdinary(x: number): boolean {
  return Math.abs(x) < 1e30;
}

// REAL: 3 units in the last place for counts on a line. A root, and lines on a REAL that comes from the wire, lose what a
// difference of larger numbers loses.
function realBound(point: PlacedPoint, scale: Scale, x: number, value: number): number {
  if (scale.shape === "squareRoot")
    return (
      16 *
      u *
      (Math.abs(value) + 2 * Math.abs((scale.value ?? scale.signal)![0])) *
      (point.kind === "real" ? rootLoss(scale, x) : 1)
    );
  if (point.kind !== "real") return 3 * unitInLastPlace(value);
  return Math.max(
    smallestReal,
    ...linesOf(scale).map(
      ({ a, b, c }) => (8 * u * Math.max(Math.abs(Number(a) * x), Math.abs(Number(b)))) / Number(c),
    ),
  );
}

// How much larger the terms below the root are than their difference.
function rootLoss({ counts }: Scale, x: number): number {
  const [n0] = counts!;
  return x === n0 ? 1 : Math.max(1, (Math.abs(x) + Math.abs(n0)) / Math.abs(x - n0));
}

function unitInLastPlace(value: number): number {
  return value === 0 ? smallestReal : Math.max(2 ** (Math.floor(Math.log2(Math.abs(value))) - 23), smallestReal);
}

function linesOf({ counts, value, signal, points, shape }: Scale): Ratio[] {
  if (points) return points.slice(1).map((end, k) => ratioOf([points[k]![0], end[0]], [points[k]![1], end[1]]));
  return shape === "squareRoot" ? [] : [ratioOf(counts!, (value ?? signal)!)];
}

function realOf(point: PlacedPoint, pattern: AnyValue | string): number {
  const view = new DataView(new ArrayBuffer(8));
  if (point.bits === 64) view.setBigUint64(0, BigInt(pattern));
  else view.setUint32(0, Number(pattern));
  return point.bits === 64 ? view.getFloat64(0) : view.getFloat32(0);
}

function exactHealth(number: NonNullable<ReturnType<typeof numberOf>>, counts: number | bigint) {
  const special = number.specialCounts?.find(({ counts: n }) =>
    typeof counts === "bigint" ? BigInt(n) === counts : n === counts,
  );
  if (special) return special.health;
  if (!number.specialCounts) return healthOf(number)(counts);
  const { specialCounts: _, ...plain } = number;
  return healthOf(plain)(counts);
}

/** A member for a value: as its type holds it. */
export function memberOf(
  point: PlacedPoint,
  value: AnyValue,
  type: string,
  decimals: number,
): boolean | bigint | number {
  if (type === "BOOL") return value === true;
  if (type === "REAL") return Math.fround(Number(value));
  if (type === "LREAL") return Number(value);
  const scaled = numberOf(point)!.scale !== undefined;
  const whole = typeof value === "bigint" ? value : wholeOf(Number(value) * (scaled ? 10 ** decimals : 1));
  const bits = BigInt({ S: 8, I: 16, D: 32, L: 64 }[type.replace("U", "")[0]!]!);
  const [low, high] = type.startsWith("U") ? [0n, (1n << bits) - 1n] : [-(1n << (bits - 1n)), (1n << (bits - 1n)) - 1n];
  return clamp(whole, low, high);
}

function wholeOf(x: number): bigint {
  return Number.isNaN(x) ? 0n : BigInt(Math.round(Math.min(Math.max(x, -1e18), 1e18)));
}

/** Judges the frame that the pack block made of members. */
export function judgeOutputs(
  image: ImageLayout,
  members: Members,
  frame: Uint8Array,
  types: Types,
  decimals: number,
  counter: Counter,
): void {
  const raw = decodeRaw(image, frame);
  for (const point of image.points) {
    const given = members[point.name]!;
    const got = raw[point.name]!;
    const number = numberOf(point);
    const at = `${point.name} ${JSON.stringify(point.description)} of ${given}`;
    if (!number) {
      expect(got, at).toBe(given);
      continue;
    }
    const type = types.get(point.name)!;
    const special = new Set(number.specialCounts?.map(({ counts }) => counts));
    const isSpecial = (counts: bigint) => [...special].some((n) => BigInt(n) === counts);
    if (point.kind === "integer" && special.size > 0) {
      const { min, max } = codeOfPoint(point)!;
      // A width of one or two bits may have nothing but reports.
      if (BigInt(max) - BigInt(min) >= BigInt(special.size)) expect(isSpecial(BigInt(got as number)), at).toBe(false);
    }
    if (number.scale && (type === "DINT" || type === "LINT")) {
      const { min, max } = codeOfPoint(point)!;
      const [low, high] = fixedInside(acceptedValues(point, "outputs")!, decimals);
      const wanted = clamp(
        nearest(exactCounts(point, clamp(given as bigint, low, high), decimals)!),
        BigInt(min),
        BigInt(max),
      );
      if (isSpecial(wanted)) counter.special++;
      else expect(BigInt(got as number), at).toBe(wanted);
      counter.fixed++;
    } else if (number.scale && type === "REAL") {
      judgeReal(point, number.scale, given as number, got, isSpecial, at);
      counter.real++;
    } else {
      const wanted = byCore(image, point, given as number | bigint);
      if (wanted === "special") counter.special++;
      else if (wanted !== "refused") expect(withoutZeroSign(point, got), at).toBe(withoutZeroSign(point, wanted));
      if (number.scale) counter.lreal++;
    }
  }
}

/** Raw of a value in the core, beyond its limits clamped. The text takes a NaN for 0, and an infinity for the largest number. */
function byCore(image: ImageLayout, point: PlacedPoint, given: bigint | number): AnyValue | string {
  const largest = point.kind === "real" && point.bits === 32 ? (2 - 2 ** -23) * 2 ** 127 : Number.MAX_VALUE;
  const finite =
    typeof given === "bigint" ? given : Number.isNaN(given) ? 0 : clamp(given, -Number.MAX_VALUE, Number.MAX_VALUE);
  const value =
    point.kind === "integer" && point.bits <= 53
      ? Number(finite)
      : point.kind === "real" && !numberOf(point)!.scale
        ? clamp(Number(finite), -largest, largest)
        : finite;
  try {
    const raw = decodeRaw(
      image,
      patch(withoutSpecials(image), new Uint8Array(image.byteLength), { [point.name]: value }, { outOfRange: "clamp" }),
    )[point.name]!;
    if (
      point.kind === "integer" &&
      numberOf(point)!.specialCounts?.some(({ counts }) => BigInt(counts) === BigInt(raw as number))
    )
      return "special";
    return raw;
  } catch (error) {
    // Limits with no whole number between them.
    expect(String(error)).toContain("value.");
    expect(numberOf(point)!.limits).toBeDefined();
    return "refused";
  }
}

const plainImages = new WeakMap<ImageLayout, ImageLayout>();

function withoutSpecials(image: ImageLayout): ImageLayout {
  const known = plainImages.get(image);
  if (known) return known;
  const points = image.points.map((point) => {
    const { specialCounts: _, ...plain } = point.description as { specialCounts?: unknown };
    return { ...point, description: plain as PlacedPoint["description"] };
  });
  plainImages.set(image, { ...image, points });
  return plainImages.get(image)!;
}

function withoutZeroSign(point: PlacedPoint, raw: AnyValue | string): AnyValue | string {
  if (point.kind === "real") return raw === 2 ** 31 || raw === 1n << 63n ? "zero" : Number(raw) === 0 ? "zero" : raw;
  return Object.is(raw, -0) || raw === 0n ? 0 : raw;
}

// Encoding in REAL: half a count, and what three roundings of the terms come to in counts.
function judgeReal(
  point: PlacedPoint,
  scale: Scale,
  given: number,
  got: AnyValue | string,
  isSpecial: (counts: bigint) => boolean,
  at: string,
): void {
  const [low, high] = acceptedValues(point, "outputs")!;
  const value = clamp(Number.isNaN(given) ? 0 : given, low, high);
  const code = codeOfPoint(point);
  const exact = characteristicOf(scale)!.toCounts(value);
  const wanted = code ? clamp(exact, Number(code.min), Number(code.max)) : exact;
  const result = code ? Number(got) : realOf(point, got);
  const slack = code ? 0.5 : 0;
  if (code && isSpecial(BigInt(Math.round(wanted)))) return;
  expect(Math.abs(result - wanted), at).toBeLessThanOrEqual(slack + countsBound(scale, value));
}

function countsBound(scale: Scale, value: number): number {
  const termsOf = ({ a, b, c }: Ratio, v: number) =>
    Math.max(Math.abs(v * Number(c)), Math.abs(Number(b))) / Math.abs(Number(a));
  if (scale.shape !== "squareRoot") return Math.max(...linesOf(scale).map((line) => 12 * u * termsOf(line, value)));
  const [n0, n1] = scale.counts!;
  const root = ratioOf([0, 1], (scale.value ?? scale.signal)!);
  const r = Math.abs((value * Number(root.c) - Number(root.b)) / Number(root.a));
  const e = 12 * u * termsOf(root, value);
  return Math.abs(n1 - n0) * (2 * r * e + e * e + 4 * u * r * r) + 12 * u * (Math.abs(n0) + Math.abs(n1 - n0) * r * r);
}

function clamp<T extends number | bigint>(x: T, low: T, high: T): T {
  return x < low ? low : x > high ? high : x;
}
