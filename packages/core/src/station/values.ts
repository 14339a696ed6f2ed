/**
 * Types of values by name, inferred from the literals of a description. Flat mapped types over unions only: no recursion
 * and no tuple arithmetic, so that an editor stays quick on a station of a thousand points.
 */
import type { Direction, Station } from "./description.js";

/** Every named thing of an entry: the point itself, or the fields of a packed word. */
type Named<E> = E extends { readonly name: string }
  ? E
  : E extends { readonly fields: readonly (infer F extends { readonly name: string })[] }
    ? F
    : never;

/** All points of a module, or of a union of modules. A module from a file may have entries or not. */
type PointsOf<M, D extends Direction> = M extends { readonly [K in D]?: infer L } ? PointsIn<L> : never;
type PointsIn<L> = L extends readonly (infer E)[] ? Named<E> : never;

/** Widths that a `number` does not hold. */
type Wide = 54 | 55 | 56 | 57 | 58 | 59 | 60 | 61 | 62 | 63 | 64;

// Codes with patterns that no bigint can say: −0 of sign-magnitude, a BCD nibble above 9 (NaN).
type WideValue<P> = P extends { readonly code: "bcd" | "signMagnitude" } ? bigint | number : bigint;

type ValueOf<P> = P extends { readonly type: infer T }
  ? T extends "bit"
    ? boolean
    : T extends "int64" | "uint64"
      ? WideValue<P>
      : string extends T
        ? boolean | number | bigint
        : number
  : P extends { readonly bits: infer B }
    ? number extends B
      ? number | bigint
      : B extends Wide
        ? WideValue<P>
        : number
    : boolean;

/** A BCD pattern that is no decimal number, as an IEC 61131-3 based literal. */
export type BadPattern = `16#${string}`;

type RawOf<P> = P extends { readonly type: "float64" }
  ? bigint
  : P extends { readonly code: "bcd" }
    ? ValueOf<P> | BadPattern
    : ValueOf<P>;

// A description whose names are plain `string` was read from a file: any name may be asked for.
type ByName<P extends { readonly name: string }, Any, V> = string extends P["name"] ? Record<string, Any> : V;

/** Value of every point of one direction, by name. */
export type Values<S extends Station, D extends Direction> = ValuesOf<PointsOf<S["modules"][number], D>>;

type ValuesOf<P extends { readonly name: string }> = ByName<
  P,
  boolean | number | bigint,
  { [Q in P as Q["name"]]: ValueOf<Q> }
>;

/** Counts of every point of one direction, by name; of a real, its bit pattern. */
export type RawValues<S extends Station, D extends Direction> = RawsOf<PointsOf<S["modules"][number], D>>;

type RawsOf<P extends { readonly name: string }> = ByName<
  P,
  boolean | number | bigint | string,
  { [Q in P as Q["name"]]: RawOf<Q> }
>;

/** Values grouped by module: `{ sensors: { supply: 6.2 } }`. */
export type Grouped<S extends Station, D extends Direction> = string extends S["modules"][number]["name"]
  ? Record<string, Record<string, boolean | number | bigint>>
  : { [M in WithData<S["modules"][number], D> as M["name"]]: ValuesOf<PointsOf<M, D>> };

type WithData<M, D extends Direction> = M extends { readonly name: string } & { readonly [K in D]: readonly unknown[] }
  ? M
  : never;
