/**
 * A placed point: a named value and where it stands in the image. Orders are resolved here, once: `positions` and `low`
 * say everything that a codec, a generator or a drawing needs to know about them.
 */
import { significance } from "../number/order.js";
import { type IntegerCode, isReal, plainCode } from "../number/types.js";
import type {
  BitOrder,
  BitPoint,
  ByteOrder,
  Field,
  FlagField,
  NumberBase,
  NumberField,
  NumberPoint,
  NumberType,
  WordOrder,
} from "../station/description.js";
import { bitAt, type PlacedEntry, type PlacedModule } from "./placement.js";

/** What a point holds. */
export type PointKind = "boolean" | "integer" | "real";

/** A point with its place in the image. */
export interface PlacedPoint {
  readonly name: string;
  /** Name and slot of its module. */
  readonly module: string;
  readonly slot: number;
  /** `field` for every part of a packed word, boolean ones included. */
  readonly type: "bit" | NumberType | "field";
  readonly kind: PointKind;
  /** How its bits stand for counts; null for booleans and reals. */
  readonly code: IntegerCode | null;
  /** First byte; for a field, of its word. */
  readonly byte: number;
  /** Number in its byte, counted from the least significant, of a `bit` point; else null. */
  readonly bit: number | null;
  /** Width in bits: 1 to 64. */
  readonly bits: number;
  /** Width of the packed word and position of the field in it; null outside one. */
  readonly word: number | null;
  readonly shift: number | null;
  /** Image bytes of the integer that holds the point, least significant first. */
  readonly positions: readonly number[];
  /** Lowest bit of the point in that integer. */
  readonly low: number;
  /** What the description says of it. */
  readonly description: BitPoint | NumberPoint | Field;
}

/** Unused bytes or bits that the description declares. */
export interface PlacedSpare {
  readonly module: string;
  readonly slot: number;
  readonly byte: number;
  /** First spare bit in filling order; null for whole bytes. */
  readonly bit: number | null;
  readonly bits: number;
  /** Which way single bits are filled. */
  readonly bitOrder: BitOrder;
}

/** The orders that a value inherits when it has none of its own. */
export interface Orders {
  readonly byteOrder: ByteOrder;
  readonly wordOrder: WordOrder | null;
}

/** The points that one entry of a module contributes. */
export function pointsOf(
  placed: PlacedEntry,
  home: PlacedModule,
  station: Orders,
): readonly (PlacedPoint | PlacedSpare)[] {
  const { entry, start, bits } = placed;
  const module = home.module.name;
  const { slot, bitOrder } = home;
  const byte = start >> 3;
  if ("spare" in entry) return [{ module, slot, byte, bit: null, bits, bitOrder }];
  if ("spareBits" in entry) return [{ module, slot, ...bitAt(start, bitOrder), bits, bitOrder }];
  // One literal makes every point, so that all share one shape in memory.
  const point = (description: PlacedPoint["description"], type: PlacedPoint["type"], spot: Spot): PlacedPoint => {
    const isBoolean = type === "bit" || isFlag(description);
    const code = isBoolean ? null : codeNameOf(description as NumberPoint | NumberField);
    const kind = isBoolean ? "boolean" : code ? "integer" : "real";
    return { name: description.name, module, slot, type, kind, code, ...spot, description };
  };
  if ("type" in entry && entry.type === "bit") {
    const { byte, bit } = bitAt(start, bitOrder);
    return [point(entry, "bit", { byte, bit, bits, word: null, shift: null, positions: [byte], low: bit })];
  }
  // Nearest wins, each order on its own: point or word, module, station, network.
  const own: Partial<Orders> = entry as object;
  const byteOrder = own.byteOrder ?? home.module.byteOrder ?? station.byteOrder;
  const wordOrder = own.wordOrder ?? home.module.wordOrder ?? station.wordOrder;
  const positions = significance(bits, byteOrder, wordOrder).map((position) => byte + position);
  const whole: Spot = { byte, bit: null, bits, word: null, shift: null, positions, low: 0 };
  if ("type" in entry) return [point(entry, entry.type, whole)];
  return entry.fields.map((field) => {
    const shift = isFlag(field) ? field.bit : field.shift;
    return point(field, "field", { ...whole, bits: isFlag(field) ? 1 : field.bits, word: bits, shift, low: shift });
  });
}

type Spot = Pick<PlacedPoint, "byte" | "bit" | "bits" | "word" | "shift" | "positions" | "low">;

/** Whether a row of an image is a point, with a name, rather than a spare. */
export function isPoint(row: PlacedPoint | PlacedSpare): row is PlacedPoint {
  return "name" in row;
}

/** The description of a point that is a number, or null for a boolean. */
export function numberOf(point: PlacedPoint): (NumberPoint | NumberField) | null {
  return point.kind === "boolean" ? null : (point.description as NumberPoint | NumberField);
}

/** Code of a number by its description; null for a real. */
export function codeNameOf(description: NumberPoint | NumberField): IntegerCode | null {
  if ("bits" in description) return description.code ?? (description.signed ? "twosComplement" : "unsigned");
  return isReal(description.type) ? null : (description.code ?? plainCode(description.type));
}

/** Engineering unit of a point, or null. */
export function unitOf(point: PlacedPoint): string | null {
  const { scale, unit } = point.description as NumberBase;
  return (scale ? (scale.unit ?? (scale.value || scale.points ? undefined : scale.signalUnit)) : unit) ?? null;
}

/** Image bytes that hold a bit of the point, in image order. */
export function touchedBytes({ positions, low, bits }: PlacedPoint): readonly number[] {
  return positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1).sort((a, b) => a - b);
}

/** Whether a field is one boolean bit. */
export function isFlag(field: PlacedPoint["description"]): field is FlagField {
  return "bit" in field;
}
