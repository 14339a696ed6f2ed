/** Numbers in tables for people; `--json` has every digit. */
import type { PlacedPoint, PointValue, RawValue } from "byterail";

/** A value or a signal: whole numbers in full, others to 9 digits, or to the 7 that a float32 holds. */
export function valueText(value: PointValue, point: PlacedPoint): string {
  if (typeof value !== "number" || !Number.isFinite(value)) return String(value);
  if (Object.is(value, -0)) return "-0";
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(point.type === "float32" ? 7 : 9)));
}

/** Counts; of a real, its pattern as a based literal of IEC 61131-3. */
export function rawText(raw: RawValue, point: PlacedPoint): string {
  if (point.kind === "real")
    return `16#${(raw as number | bigint)
      .toString(16)
      .toUpperCase()
      .padStart(point.bits / 4, "0")}`;
  return Object.is(raw, -0) ? "-0" : String(raw);
}
