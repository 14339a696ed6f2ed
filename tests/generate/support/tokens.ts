// Values in plain text, so that two languages can compare them bit by bit.

import type { AnyValue, PlacedPoint } from "byterail";

const view = new DataView(new ArrayBuffer(8));

/** The pattern of a double in 16 hex digits, or `nan`. */
export function doubleToken(value: number): string {
  if (Number.isNaN(value)) return "nan";
  view.setFloat64(0, value);
  return view.getBigUint64(0).toString(16).padStart(16, "0");
}

/** The pattern of the float nearest to a value in 8 hex digits, or `nan`. */
export function floatToken(value: number): string {
  if (Number.isNaN(value)) return "nan";
  view.setFloat32(0, value);
  return view.getUint32(0).toString(16).padStart(8, "0");
}

/** A value with its kind: `b:1`, `i:-5`, `f:3ff0000000000000`, `s:16#1A`. */
export function kindToken(value: AnyValue | string, isReal: boolean): string {
  if (typeof value === "boolean") return `b:${Number(value)}`;
  if (typeof value === "string") return `s:${value}`;
  if (typeof value === "bigint") return `i:${value}`;
  return isReal || Object.is(value, -0) || !Number.isInteger(value) ? `f:${doubleToken(value)}` : `i:${value}`;
}

/** Whether a value is a real number by its nature, whatever it is at the moment. */
export function hasRealValue({ kind, description }: PlacedPoint): boolean {
  return kind === "real" || "scale" in description;
}

/** Steps from one float to another, by their tokens; 0 and -0 are the same place. */
export function floatSteps(one: string, other: string): number {
  if (one === "nan" || other === "nan") return one === other ? 0 : Number.POSITIVE_INFINITY;
  const place = (token: string) => {
    const bits = Number(`0x${token}`);
    return bits >= 2 ** 31 ? 2 ** 31 - bits : bits;
  };
  return Math.abs(place(one) - place(other));
}
