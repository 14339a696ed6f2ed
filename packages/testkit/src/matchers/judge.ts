/** Whether a point reads what a test expects of it, and by how many counts it misses. */
import { characteristicOf, numberOf, type PlacedPoint, patch, unitOf } from "byterail";
import { type Inspected, inspect } from "byterail/map";
import { toHex } from "byterail/frames";
import { type AnyImage, attempt } from "./result.js";

/** How near is near enough. Without a tolerance a value must be the expected one; on a float32, the nearest that it holds. */
export interface Tolerance {
  /**
   * In counts: 0.5 takes what encode would send for the expected value. On integers, scaled or not; a real has no counts,
   * and `value` is for it.
   */
  readonly counts?: number;
  /** In value units, for every number. */
  readonly value?: number;
}

/** One point beside what was expected of it. */
export interface Judged {
  readonly point: PlacedPoint;
  readonly expected: unknown;
  readonly received: Inspected;
  readonly matches: boolean;
}

/** Judges the points of a frame for which something is expected. The frame has the length of the image. */
export function judge(
  image: AnyImage,
  bytes: Uint8Array,
  expected: Readonly<Record<string, unknown>>,
  tolerance: Tolerance,
): Judged[] {
  const rows = inspect(image, bytes);
  return image.points.flatMap((point, k): Judged[] => {
    if (!Object.hasOwn(expected, point.name)) return [];
    const [wanted, received] = [expected[point.name], rows[k]!];
    return [{ point, expected: wanted, received, matches: matches(point, wanted, received, tolerance) }];
  });
}

function matches(point: PlacedPoint, wanted: unknown, received: Inspected, tolerance: Tolerance): boolean {
  const { value } = received;
  if (value === wanted || (Number.isNaN(value) && Number.isNaN(wanted))) return true;
  if (typeof wanted !== typeof value || typeof value === "boolean") return false;
  if (tolerance.value !== undefined && distance(value, wanted as number) <= tolerance.value) return true;
  if (point.kind === "real") return isNearestReal(point, wanted as number, received);
  const off = countsOff(point, wanted, received);
  return tolerance.counts !== undefined && off !== null && Math.abs(off) <= tolerance.counts;
}

/** How many counts more the frame has than the expected value stands for; null where that is no number. */
export function countsOff(point: PlacedPoint, wanted: unknown, { raw }: Inspected): number | null {
  if (point.kind !== "integer" || typeof raw === "string" || typeof raw === "boolean") return null;
  const scale = numberOf(point)?.scale;
  const counts = scale && typeof wanted === "number" ? characteristicOf(scale)!.toCounts(wanted) : wanted;
  if (typeof counts !== typeof raw) return null;
  const off = Number((raw as number) - (counts as number));
  return Number.isFinite(off) ? off : null;
}

/** What was expected, in words: the value, its bytes as encode would write them, and by how many counts they differ. */
export function expectation(
  image: AnyImage,
  bytes: Uint8Array,
  { point, expected, received, matches }: Judged,
): string {
  const unit = unitOf(point);
  const text = `expected ${typeof expected === "string" ? JSON.stringify(expected) : String(expected)}${unit ? ` ${unit}` : ""}`;
  if (matches) return text;
  const written = attempt(() => patch(image, bytes.slice(), { [point.name]: expected }));
  if ("problems" in written) return `${text}, which does not encode (${written.problems.join("; ")})`;
  const whole = point.kind !== "boolean" && `${toHex(ownBytes(point, written.result))}`;
  const off = countsOff(point, expected, received);
  const counts =
    off !== null && Number.isInteger(off) && `${counted(Math.abs(off), "count")} ${off < 0 ? "too low" : "too high"}`;
  return [whole ? `${text} = ${whole}` : text, ...(counts ? [counts] : [])].join("; ");
}

/** A number of things in words: `1 count`, `2 counts`. */
export function counted(size: number, thing: string): string {
  return `${size} ${thing}${size === 1 ? "" : "s"}`;
}

function ownBytes({ positions }: PlacedPoint, bytes: Uint8Array): Uint8Array {
  const first = Math.min(...positions);
  return bytes.subarray(first, first + positions.length);
}

// A binary32 holds 6.2 as 6.199999809: what was expected is then the nearest that it can hold.
function isNearestReal(point: PlacedPoint, wanted: number, { value }: Inspected): boolean {
  if (point.bits !== 32) return false;
  const characteristic = characteristicOf(numberOf(point)?.scale ?? {});
  if (!characteristic) return Math.fround(wanted) === value;
  return characteristic.toValue(Math.fround(characteristic.toCounts(wanted))) === value;
}

function distance(a: number | bigint, b: number | bigint): number {
  return Math.abs(Number((a as number) - (b as number)));
}
