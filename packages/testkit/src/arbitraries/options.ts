/** What random stations may be made of. */
import { type CountsCode, type Direction, type NetworkId, type NumberType, networks } from "byterail";

/** Kinds of entries: a bit, a number, a packed word with its fields, unused bits, unused bytes. */
export type EntryType = "bit" | NumberType | "word" | "spareBits" | "spare";

/** Rules of placement that a station or a module may state. */
export type PlacementRule =
  | "order"
  | "packing"
  | "alignment"
  | "bitOrder"
  | "lengthMultiple"
  | "length"
  | "group"
  | "slot"
  | "reserve"
  | "pin";

/** Keys that a point or a module may have beside what its bits are. */
export type Extra =
  | "unit"
  | "limits"
  | "specialCounts"
  | "deadband"
  | "onNetworkLoss"
  | "accuracy"
  | "exclusive"
  | "title"
  | "orders"
  | "awkwardNames";

/** Narrows random stations. Each list names what may occur; a list left out means all of it, an empty one nothing. */
export interface StationOptions {
  /** Fewest and most modules; default 0 to 6. */
  readonly modules?: readonly [min: number, max: number];
  /** Fewest and most entries of a module in one direction; default 0 to 8. With 1 or more, each direction has entries. */
  readonly entries?: readonly [min: number, max: number];
  /** Directions with data. */
  readonly directions?: readonly Direction[];
  /** Kinds of entries. */
  readonly types?: readonly EntryType[];
  /** Codes beside plain binary and two's complement. */
  readonly codes?: readonly CountsCode[];
  /** Shapes of scales. */
  readonly scales?: readonly ("linear" | "squareRoot" | "piecewise")[];
  /** Rules of placement. */
  readonly placement?: readonly PlacementRule[];
  /** Networks. */
  readonly networks?: readonly NetworkId[];
  /** Further keys. `orders`: byte and word orders of modules and points; `awkwardNames`: long, and shared by a command and its feedback. */
  readonly extras?: readonly Extra[];
}

/** Options with nothing left out. */
export type Allowed = Required<StationOptions>;

const numberTypes = [8, 16, 24, 32, 64].flatMap((bits) => [`uint${bits}`, `int${bits}`] as NumberType[]);

const everything: Allowed = {
  modules: [0, 6],
  entries: [0, 8],
  directions: ["inputs", "outputs"],
  types: ["bit", ...numberTypes, "float32", "float64", "word", "spareBits", "spare"],
  codes: ["offsetBinary", "signMagnitude", "bcd"],
  scales: ["linear", "squareRoot", "piecewise"],
  placement: [
    "order",
    "packing",
    "alignment",
    "bitOrder",
    "lengthMultiple",
    "length",
    "group",
    "slot",
    "reserve",
    "pin",
  ],
  networks: Object.keys(networks) as NetworkId[],
  extras: [
    "unit",
    "limits",
    "specialCounts",
    "deadband",
    "onNetworkLoss",
    "accuracy",
    "exclusive",
    "title",
    "orders",
    "awkwardNames",
  ],
};

/** Options with the defaults filled in. */
export function allowedBy(options: StationOptions): Allowed {
  return { ...everything, ...options };
}
