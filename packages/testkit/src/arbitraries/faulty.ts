/** Frames with one thing wrong, each labelled with it and with what core reports about it. */
import {
  acceptedValues,
  ByterailError,
  decode,
  type Health,
  type ImageLayout,
  numberCodec,
  numberOf,
  patch,
  patchRaw,
  type PlacedPoint,
  type Problem,
  type RawValue,
} from "byterail";
import { inspect } from "byterail/map";
import fc from "fast-check";
import type { AnyImage } from "../matchers/result.js";
import { counts, notable } from "./counts.js";
import { frame } from "./frame.js";

/**
 * What is wrong with a frame. `length`: bytes too few or too many · `code`: a BCD digit above 9 · `notFinite`: a real that
 * is NaN or infinite · `report`: special counts, which are no measurement · `signal`: a 4 to 20 mA signal outside the
 * measuring range of NAMUR NE 43 · `limits`: a value beyond what encode accepts.
 */
export type FrameFault = "length" | "code" | "notFinite" | "report" | "signal" | "limits";

/** A frame with one thing wrong. */
export interface FaultyFrame {
  readonly bytes: Uint8Array;
  readonly fault: FrameFault;
  /** The point that carries the fault; null for a wrong length. */
  readonly point: string | null;
  /** What is wrong, in a sentence. */
  readonly says: string;
  /** What `inspect` of core says of that point; null for a wrong length. */
  readonly health: Health | null;
  /** What core throws: `decode` for a wrong length, else `patch` for the value that was decoded; may be none. */
  readonly problems: readonly Problem[];
}

/** Narrows faulty frames. */
export interface FaultOptions {
  /** Faults to choose from; by default all. */
  readonly faults?: readonly FrameFault[];
}

/**
 * Random frames with one thing wrong, for what has to cope with them: decoding rejects nothing but a wrong length, and
 * tells the rest by health.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { faultyFrame } from "@byterail/testkit";
 * import fc from "fast-check";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "scale", inputs: [{ name: "weight", type: "uint16", code: "bcd" }] }],
 * });
 * const [wrong] = fc.sample(faultyFrame(inputs, { faults: ["code"] }), { numRuns: 1, seed: 1 });
 * [wrong!.point, wrong!.health]; // → ["weight", "invalid"]
 * ```
 * @param image `layout.inputs` or `layout.outputs`
 * @throws `RangeError` where no point can have one of the faults
 */
export function faultyFrame(
  image: ImageLayout<unknown, unknown, unknown>,
  { faults = ["length", "code", "notFinite", "report", "signal", "limits"] }: FaultOptions = {},
): fc.Arbitrary<FaultyFrame> {
  const all = faults.flatMap((fault) =>
    fault === "length"
      ? [wrongLength(image)]
      : image.points.flatMap((point) => {
          const alone = { ...image, points: [point] };
          return isAbleTo(alone, point, fault) ? [faultAt(image, alone, point, fault)] : [];
        }),
  );
  if (all.length === 0)
    throw new RangeError(`no point of the ${image.direction} can have one of: ${faults.join(", ")}`);
  return fc.oneof(...all);
}

function wrongLength(image: AnyImage): fc.Arbitrary<FaultyFrame> {
  const { byteLength } = image;
  const lengths = fc.nat(2 * byteLength + 8).filter((length) => length !== byteLength);
  return lengths
    .chain((length) => fc.uint8Array({ minLength: length, maxLength: length }))
    .map((bytes) => ({
      bytes,
      fault: "length",
      point: null,
      says: `${bytes.length} bytes where ${byteLength} are expected`,
      health: null,
      problems: problemsOf(() => decode(image, bytes)),
    }));
}

type PointFault = Exclude<FrameFault, "length">;

function faultAt(image: AnyImage, alone: AnyImage, point: PlacedPoint, fault: PointFault): fc.Arbitrary<FaultyFrame> {
  const { name } = point;
  return fc.tuple(frame(image), rawWith(alone, point, fault)).map(([bytes, raw]) => {
    patchRaw(alone, bytes, { [name]: raw } as never);
    const { health, value } = rowOf(alone, bytes, name);
    const problems = problemsOf(() => patch(alone, bytes.slice(), { [name]: value } as never));
    return { bytes, fault, point: name, says: says[fault](name, raw, value), health, problems };
  });
}

const says: Readonly<Record<PointFault, (name: string, raw: RawValue, value: unknown) => string>> = {
  code: (name, raw) => `${name} is ${raw}, a pattern with a digit above 9`,
  notFinite: (name, _, value) => `${name} is ${value}`,
  report: (name, raw) => `${name} is ${raw} counts, a report and no measurement`,
  signal: (name, raw) => `${name} is ${raw} counts, a signal outside the measuring range`,
  limits: (name, _, value) => `${name} is ${value}, beyond what encode accepts`,
};

/** Whether a point can carry a fault: judged by what core says of counts that have it. */
function isAbleTo(alone: AnyImage, point: PlacedPoint, fault: PointFault): boolean {
  switch (fault) {
    case "code":
      return badDigits(point).length > 0;
    case "notFinite":
      return point.kind === "real";
    case "report":
      return (numberOf(point)?.specialCounts ?? []).length > 0;
    default: // the ends of the type are among these: what they do not show nothing does
      return point.kind !== "boolean" && notable(point).some((raw) => shows(alone, point, fault, raw));
  }
}

function rawWith(alone: AnyImage, point: PlacedPoint, fault: PointFault): fc.Arbitrary<RawValue> {
  switch (fault) {
    case "code":
      return fc.constantFrom(...badDigits(point));
    case "notFinite":
      return fc.constantFrom<RawValue>(...(point.bits === 32 ? [0x7fc00000, 0x7f800000, 0xff800000] : wideNotFinite));
    case "report":
      return fc.constantFrom(...numberOf(point)!.specialCounts!.map(({ counts }) => rawOf(point, counts)));
    default:
      return counts(point).filter((raw) => shows(alone, point, fault, raw));
  }
}

const wideNotFinite = [0x7ff8000000000000n, 0x7ff0000000000000n, 0xfff0000000000000n];

// Patterns with one digit above 9, of each digit that has the bits for it.
function badDigits({ code, bits }: PlacedPoint): string[] {
  if (code !== "bcd") return [];
  const digits = Math.floor(bits / 4);
  return Array.from({ length: digits }, (_, k) => ["A", "F"].map((digit) => `16#${digit}${"0".repeat(k)}`)).flat();
}

// Raw of a real is its pattern.
function rawOf({ kind, bits, code }: PlacedPoint, counts: number): RawValue {
  if (kind !== "real") return code && bits > 53 ? BigInt(counts) : counts;
  const bytes = new Uint8Array(bits / 8);
  numberCodec(bits === 32 ? "float32" : "float64", "big").write(bytes, counts);
  return numberCodec(bits === 32 ? "uint32" : "uint64", "big").read(bytes);
}

function shows(alone: AnyImage, point: PlacedPoint, fault: "signal" | "limits", raw: RawValue): boolean {
  const bytes = patchRaw(alone, new Uint8Array(alone.byteLength), { [point.name]: raw } as never);
  const { value, health, signal } = rowOf(alone, bytes, point.name);
  if (!Number.isFinite(Number(value))) return false;
  if (fault === "signal") return signal !== null && health !== "ok" && health !== "none" && !isReport(point, raw);
  const limits = acceptedValues(point, alone.direction);
  return limits !== null && ((value as number) < limits[0] || (value as number) > limits[1]);
}

function isReport(point: PlacedPoint, raw: RawValue): boolean {
  return (numberOf(point)?.specialCounts ?? []).some(({ counts }) => Number(raw) === counts);
}

function rowOf(image: AnyImage, bytes: Uint8Array, name: string) {
  return inspect(image, bytes).find((row) => row.name === name)!;
}

function problemsOf(action: () => unknown): readonly Problem[] {
  try {
    action();
    return [];
  } catch (error) {
    if (error instanceof ByterailError) return error.problems;
    throw error;
  }
}
