/**
 * The layout: where everything of a station stands, in both directions. Plain data, made by `assemble`; codec, generator,
 * sheets and drawings all start from it.
 */
import type { Problem } from "../problem.js";
import type { Direction, Station } from "../station/description.js";
import type { Grouped, RawValues, Values } from "../station/values.js";
import type { PlacedPoint, PlacedSpare } from "./point.js";

declare const types: unique symbol;

/** Values of an image whose names are not known to the compiler: it was read from a file. */
export type AnyValue = boolean | number | bigint;

/** One direction of the process image. */
export interface ImageLayout<
  V = Record<string, AnyValue>,
  R = Record<string, AnyValue | string>,
  G = Record<string, Record<string, AnyValue>>,
> {
  readonly direction: Direction;
  /** Length in bytes, padding included. */
  readonly byteLength: number;
  /** By byte, then bit or shift. */
  readonly points: readonly PlacedPoint[];
  readonly spares: readonly PlacedSpare[];
  /** Whole bytes that no point and no declared spare uses. */
  readonly gaps: readonly Gap[];
  /** In the order of placement; modules without data in this direction are left out. */
  readonly modules: readonly ModuleExtent[];
  /** Carries the inferred types; never there at run time. */
  readonly [types]?: { readonly values: V; readonly raw: R; readonly grouped: G };
}

/** Consecutive unused bytes, and why they are there. */
export interface Gap {
  readonly byte: number;
  readonly bytes: number;
  /** `reserve` of a module, before a `pin`, for `alignment`, or to reach the `length`. */
  readonly why: "reserve" | "pin" | "alignment" | "length";
}

/** What a module takes of an image. */
export interface ModuleExtent {
  readonly name: string;
  readonly title: string | null;
  readonly slot: number;
  /** First byte, and bytes touched, reserve included. */
  readonly byte: number;
  readonly bytes: number;
}

/** A station with everything in its place. */
export interface Layout<S extends Station = Station> {
  readonly station: S;
  readonly inputs: ImageLayout<Values<S, "inputs">, RawValues<S, "inputs">, Grouped<S, "inputs">>;
  readonly outputs: ImageLayout<Values<S, "outputs">, RawValues<S, "outputs">, Grouped<S, "outputs">>;
  /** What is legal but bites. */
  readonly warnings: readonly Problem[];
}
