/** What a point is in C: its types, its bounds and which functions it has. Emitters for header and source share it. */
import { acceptedValues, codeOfPoint, type Direction, type PlacedPoint, type Span } from "byterail";
import { type Curve, curveOf } from "../point/curve.js";
import { decimalsOf, inDecimals, largestTerm } from "../point/fixedPoint.js";
import { type Judgement, judgementOf } from "../point/judgement.js";
import { roomFor } from "./text.js";

/** A point as C sees it. */
export interface Shape {
  readonly point: PlacedPoint;
  readonly direction: Direction;
  /** Cleaned name. */
  readonly name: string;
  /** `in` or `out`. */
  readonly way: "in" | "out";
  /** What functions and types begin with, e.g. `kegWasher_in`. */
  readonly prefix: string;
  /** Width of the unsigned integer that carries the pattern. */
  readonly room: 32 | 64;
  readonly patternType: string;
  /** Type of counts, or of the pattern of a real. */
  readonly rawType: string;
  readonly counts: { readonly min: bigint; readonly max: bigint } | null;
  /** What `rawType` can hold. */
  readonly holds: { readonly min: bigint; readonly max: bigint };
  /** Type of the value in the structure. */
  readonly valueType: string;
  readonly curve: Curve | null;
  readonly limits: Span | null;
  readonly judgement: Judgement | null;
  /** BCD that is no decimal number has these counts: all ones, which no BCD reaches. */
  readonly invalid: string | null;
  /** Decimals of the fixed-point form, or why there is none. */
  readonly fixed: Fixed | null;
}

/** The fixed-point form of a scale. */
export type Fixed = { readonly decimals: number } | { readonly missing: string };

/** The shape of a point. */
export function shapeOf(
  point: PlacedPoint,
  name: string,
  direction: Direction,
  station: string,
  decimals?: number,
): Shape {
  const way = direction === "inputs" ? "in" : "out";
  const { bits, code, kind } = point;
  const room = bits <= 32 ? 32 : 64;
  const width = roomFor(bits);
  const signed = code === "twosComplement" || code === "offsetBinary" || code === "signMagnitude";
  const rawType = kind === "boolean" ? "bool" : `${signed ? "int" : "uint"}${width}_t`;
  const known = codeOfPoint(point);
  const curve = curveOf(point);
  const real = bits === 32 ? "float" : "double";
  return {
    ...{ point, direction, name, way, prefix: `${station}_${way}`, room, patternType: `uint${room}_t`, rawType },
    counts: known && { min: BigInt(known.min), max: BigInt(known.max) },
    holds: signed
      ? { min: -(1n << BigInt(width - 1)), max: (1n << BigInt(width - 1)) - 1n }
      : { min: 0n, max: (1n << BigInt(width)) - 1n },
    valueType: curve ? "double" : kind === "real" ? real : rawType,
    curve,
    limits: acceptedValues(point, direction),
    judgement: judgementOf(point),
    invalid: code === "bcd" ? `UINT${width}_MAX` : null,
    fixed: curve && fixedOf(point, curve, decimals),
  };
}

/** Whether the counts leave something of the pattern unsaid: the sign of zero, a digit above 9. */
export function hasPattern({ point }: Shape): boolean {
  return point.code === "bcd" || point.code === "signMagnitude";
}

/** Whether there is a value beside the counts. */
export function hasValue({ point, curve }: Shape): boolean {
  return curve !== null || point.kind === "real" || point.code === "bcd";
}

/** Whether there is a value as float. */
export function hasFloat({ point, curve }: Shape): boolean {
  return curve !== null || (point.kind === "real" && point.bits === 32);
}

function fixedOf(point: PlacedPoint, curve: Curve, wanted: number | undefined): Fixed {
  if (point.kind === "real") return { missing: "its counts are a real" };
  const decimals = decimalsOf(curve);
  if (decimals === null) return { missing: "a square root is no fraction of whole numbers" };
  const chosen = wanted ?? decimals;
  const lines =
    curve.shape === "linear" ? [curve.ratio] : curve.shape === "pieces" ? curve.pieces.map(({ ratio }) => ratio) : [];
  const fits = lines.every((ratio) => largestTerm(inDecimals(ratio, chosen), point) < 1n << 63n);
  return fits ? { decimals: chosen } : { missing: `its terms pass 64 bits with ${chosen} decimals` };
}
