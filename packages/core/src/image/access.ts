/**
 * Access to one point: bits → counts → value and back. Made once per point; what comes out checks only what can still
 * be wrong, the values given by the caller.
 */
import { acceptedValues } from "../layout/accepted.js";
import { numberOf, type PlacedPoint } from "../layout/point.js";
import { codeOf, countsProblem } from "../number/code.js";
import { type Pattern, pattern } from "../number/pattern.js";
import { widestNumber } from "../number/types.js";
import { fail, shown } from "../problem.js";
import { characteristicOf } from "../scale/characteristic.js";
import { roundTiesToEven } from "../scale/linear.js";
import type { Direction, NumberField, NumberPoint, Span } from "../station/description.js";
import { fastLane, laneThrough, type Lane } from "./lane.js";

/** A value of a point, whatever its type. */
export type PointValue = boolean | number | bigint;
/** Counts of a point; the pattern of a real; an IEC 61131-3 based literal for BCD that is no decimal number. */
export type RawValue = boolean | number | bigint | string;

/** Why a value was not accepted. */
export interface Refusal {
  readonly code: string;
  readonly message: string;
}

/** What happens to a value beyond what a point accepts. */
export type OutOfRange = "reject" | "clamp";

/** The ways to and from one point. */
export interface Access {
  readonly point: PlacedPoint;
  readonly bits: Pattern;
  /** The shortest way to read and write the value. */
  readonly lane: Lane;
  readonly toValue: (pattern: number | bigint) => PointValue;
  readonly toRaw: (pattern: number | bigint) => RawValue;
  /** The pattern of a value, or why there is none. */
  readonly fromValue: (value: unknown, outOfRange: OutOfRange) => number | bigint | Refusal;
  readonly fromRaw: (raw: unknown) => number | bigint | Refusal;
  /** Counts of a pattern; of a real, its own number. */
  readonly toCounts: (pattern: number | bigint) => number | bigint;
}

/** Makes the access of a placed point. */
export function accessTo(point: PlacedPoint, direction: Direction): Access {
  const number = numberOf(point);
  const limits = acceptedValues(point, direction) ?? [-Infinity, Infinity];
  const ways = number ? numberAccess(point, number, limits) : booleanAccess;
  const bits = pattern(point.positions, point.low, point.bits);
  return { point, bits, lane: fastLane(point, limits, bits) ?? longLane(point, bits, ways), ...ways };
}

type Ways = Omit<Access, "point" | "bits" | "lane">;

function longLane(point: PlacedPoint, bits: Pattern, { toValue, fromValue }: Ways): Lane {
  return laneThrough(point, bits, toValue, (value) => {
    const pattern = fromValue(value, "reject");
    return isRefusal(pattern) ? -1 : pattern;
  });
}

const toBoolean = (pattern: number | bigint) => pattern === 1;
const fromBoolean = (value: unknown) =>
  typeof value === "boolean" ? Number(value) : refusal("value.type", `must be true or false, not ${shown(value)}`);

const booleanAccess: Ways = {
  toValue: toBoolean,
  toRaw: toBoolean,
  fromValue: fromBoolean,
  fromRaw: fromBoolean,
  toCounts: (pattern) => pattern,
};

function numberAccess(point: PlacedPoint, number: NumberPoint | NumberField, limits: Span): Ways {
  const { scale, specialCounts } = number;
  const real = point.code === null;
  const code = codeOf(point.code ?? "real", point.bits);
  const bitsAlone = codeOf("unsigned", point.bits);
  const bigint = !real && point.bits > widestNumber;
  const { toCounts, toPattern } = code;
  const scaled = scale ? characteristicOf(scale) : null;
  const special = specialCounts && new Set(specialCounts.map(({ counts }) => String(counts)));
  return {
    toCounts,
    toValue: scaled ? (u) => scaled.toValue(toCounts(u) as number) : toCounts,
    // BCD with a nibble above 9 has no counts; its pattern keeps raw lossless.
    toRaw: real ? (u) => u : (u) => (Number.isNaN(toCounts(u)) ? `16#${u.toString(16).toUpperCase()}` : toCounts(u)),
    fromValue: (given, outOfRange) => {
      if (!(bigint ? typeof given === "bigint" || Object.is(given, -0) : Number.isFinite(given)))
        return refusal("value.type", `must be a ${bigint ? "bigint" : "finite number"}, not ${shown(given)}`);
      let value = given as number;
      if (!(value >= limits[0] && value <= limits[1])) {
        if (outOfRange !== "clamp")
          return refusal("value.limits", `must be ${limits[0]} to ${limits[1]}, not ${shown(given)}`);
        value = limits[value < limits[0] ? 0 : 1];
        if (bigint) value = BigInt(Math.trunc(value)) as never;
      }
      let counts: number | bigint = scaled ? scaled.toCounts(value) : value;
      // A scaled value has one zero, so that −0 is no pattern of its own here.
      if (scaled && !real) counts = roundTiesToEven(counts as number) + 0;
      if (outOfRange === "clamp") counts = counts < code.min ? code.min : counts > code.max ? code.max : counts;
      const wrong = countsProblem(counts, code);
      if (wrong) return refusal("value.range", scaled ? `${shown(given)} stands for counts that ${wrong}` : wrong);
      if (special?.has(String(counts)))
        return refusal(
          "value.special",
          `${shown(given)} stands for ${counts} counts, which are a report; encode them raw`,
        );
      return toPattern(counts);
    },
    fromRaw: (raw) => {
      const isPattern = code.name === "bcd" && typeof raw === "string" && /^16#[0-9a-f]{1,16}$/i.test(raw);
      const bits = isPattern ? (bigint ? BigInt : Number)(`0x${raw.slice(3)}`) : raw;
      const rule = real || isPattern ? bitsAlone : code;
      const wrong = countsProblem(bits, rule);
      return wrong
        ? refusal("value.range", `${real ? "the bit pattern" : "counts"} ${wrong}`)
        : rule.toPattern(bits as number);
    },
  };
}

/** Writes what the short way refused: it may be one to clamp, or is refused here with its reason. */
export function writeAnyway(
  { point, bits, fromValue }: Access,
  bytes: Uint8Array,
  value: unknown,
  outOfRange: OutOfRange = "reject",
): void {
  const result = fromValue(value, outOfRange);
  if (isRefusal(result)) fail(result.code, point.name, result.message);
  bits.write(bytes, 0, result);
}

/** Whether a pattern was refused. */
export function isRefusal(result: unknown): result is Refusal {
  return typeof result === "object";
}

function refusal(code: string, message: string): Refusal {
  return { code, message };
}
