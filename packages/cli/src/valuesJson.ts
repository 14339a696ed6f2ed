/**
 * Values of points as JSON. JSON has no 64-bit integers, no NaN and no infinities, and `JSON.stringify` loses −0:
 * what does not fit a number of JSON is written as a text, and −0 as `-0`. Reading takes the same.
 */
import { codeOfPoint, type ImageLayout, type PlacedPoint, type PointValue, type RawValue } from "byterail";

/** Whether values are in engineering units, or counts and the patterns of reals. */
export type ValueKind = "value" | "raw";

/** Writes values by name as a JSON object, one a line, in the order of the image. */
export function valuesToJson(
  { points }: ImageLayout,
  values: Readonly<Record<string, PointValue | RawValue>>,
  kind: ValueKind,
): string {
  const lines = points.map(
    (point) => `  ${JSON.stringify(point.name)}: ${token(values[point.name]!, isWide(point, kind))}`,
  );
  return lines.length === 0 ? "{}" : `{\n${lines.join(",\n")}\n}`;
}

/**
 * Reads what stands for a value in JSON. What cannot be read is handed on as it is: encode refuses it, together with
 * everything else that is wrong.
 */
export function valueFromJson(given: unknown, point: PlacedPoint, kind: ValueKind): unknown {
  if (isWide(point, kind)) return wideFromJson(given, point);
  if (kind === "value" && point.kind !== "boolean" && isNotFinite(given)) return Number(given);
  return given;
}

/** Whether values of the point are integers that not every number of JSON holds. */
export function isWide(point: PlacedPoint, kind: ValueKind): boolean {
  if (point.kind === "real") return kind === "raw" && point.bits > 53;
  return typeof codeOfPoint(point)?.max === "bigint";
}

function token(value: PointValue | RawValue, wide: boolean): string {
  if (wide) return JSON.stringify(Object.is(value, -0) ? "-0" : String(value));
  if (typeof value !== "number") return JSON.stringify(value);
  if (!Number.isFinite(value)) return JSON.stringify(String(value));
  return Object.is(value, -0) ? "-0" : JSON.stringify(value);
}

// A number of JSON beyond 2^53 may already be another than was written, so only a text will do there.
function wideFromJson(given: unknown, { code }: PlacedPoint): unknown {
  if (given === "-0" || Object.is(given, -0)) return code === "signMagnitude" ? -0 : 0n;
  if (typeof given === "string" && /^-?\d{1,32}$/.test(given)) return BigInt(given);
  if (Number.isSafeInteger(given)) return BigInt(given as number);
  return isNotFinite(given) ? Number(given) : given;
}

function isNotFinite(given: unknown): boolean {
  return given === "NaN" || given === "Infinity" || given === "-Infinity";
}
