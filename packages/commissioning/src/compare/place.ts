/** Where a point stands, down to the bit, in a form that two revisions can be compared by. */
import { type Direction, type PlacedPoint, touchedBytes } from "byterail";
import { type AddressOptions, pointAddress } from "byterail/map";

/** A point as it stands in one revision. */
export interface PointPlace {
  readonly name: string;
  readonly module: string;
  readonly slot: number;
  readonly type: PlacedPoint["type"];
  readonly code: PlacedPoint["code"];
  /** First byte that holds a bit of it; its lowest bit there, of a boolean, else null. */
  readonly byte: number;
  readonly bit: number | null;
  readonly bits: number;
  readonly address: string | null;
}

/** The place of a point in its revision. */
export function placeOf(point: PlacedPoint, direction: Direction, addresses: AddressOptions): PointPlace {
  const { name, module, slot, type, code, kind, low, bits } = point;
  const bit = kind === "boolean" ? low & 7 : null;
  return {
    name,
    module,
    slot,
    type,
    code,
    byte: touchedBytes(point)[0]!,
    bit,
    bits,
    address: pointAddress(point, direction, addresses),
  };
}

/** The bytes of a point, least significant first: only those that hold a bit of it. */
export function spelling({ positions, low, bits }: PlacedPoint): readonly number[] {
  return positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1);
}

/** The same for points of the same bits in the same order, read in the same way, whatever their name. */
export function bitsKey(point: PlacedPoint): string {
  return [point.kind, point.code, point.bits, point.low & 7, ...spelling(point)].join("/");
}

/** Number of a bit of the image: byte times 8, and the bit in the byte. */
export function imageBit(bytes: readonly number[], low: number, k: number): number {
  const bit = (low & 7) + k;
  return 8 * bytes[bit >> 3]! + (bit & 7);
}
