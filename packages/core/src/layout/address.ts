/**
 * Direct addresses of IEC 61131-3, table 15: `%IX0.3 %IB2 %IW1 %QD4`. Whether `%IW1` is byte 1 or word 1 the standard
 * leaves open, so it is an option here.
 */
import { fail, shown } from "../problem.js";
import type { Direction } from "../station/description.js";
import type { PlacedPoint } from "./point.js";

/** Size letter of an address: bit, byte, word of 16, 32 or 64 bits. */
export type AddressSize = "X" | "B" | "W" | "D" | "L";

/** What an address says. */
export interface Address {
  readonly direction: Direction;
  readonly size: AddressSize;
  /** First byte. */
  readonly byte: number;
  /** Bit in the byte, for size X; else null. */
  readonly bit: number | null;
}

/** How addresses are written. */
export interface AddressOptions {
  /** What the number after W, D and L counts: bytes (default), or words of that size. */
  readonly counting?: "bytes" | "words";
  /** Byte of the controller's memory at which the image starts; default 0. */
  readonly start?: number;
}

const sizes: Readonly<Record<number, AddressSize>> = { 8: "B", 16: "W", 32: "D", 64: "L" };
const bytesOf = { X: 1, B: 1, W: 2, D: 4, L: 8 };

/**
 * The address of a point, or null where none can be said: 24-bit values, fields of several bits, and, counted in words,
 * a word that does not start at a multiple of its size.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { pointAddress } from "byterail/map";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "level", inputs: [{ name: "low", type: "bit" }, { name: "tank", type: "uint16" }] }],
 * });
 * inputs.points.map((point) => pointAddress(point, "inputs", { start: 64 })); // → ["%IX64.0", "%IW65"]
 * ```
 */
export function pointAddress(point: PlacedPoint, direction: Direction, options?: AddressOptions): string | null {
  const { positions, low, bits, kind, type, byte } = point;
  if (kind === "boolean")
    return formatAddress({ direction, size: "X", byte: positions[low >> 3]!, bit: low & 7 }, options);
  const size = sizes[bits];
  return type !== "field" && size ? formatAddress({ direction, size, byte, bit: null }, options) : null;
}

/** Writes an address; null where it cannot be said when counted in words. */
export function formatAddress(
  { direction, size, byte, bit }: Address,
  { counting, start = 0 }: AddressOptions = {},
): string | null {
  const number = (start + byte) / (counting === "words" ? bytesOf[size] : 1);
  if (!Number.isInteger(number)) return null;
  return `%${direction === "inputs" ? "I" : "Q"}${size}${number}${size === "X" ? `.${bit}` : ""}`;
}

/**
 * Reads an address; the letter X may be left out of a bit's.
 *
 * @example
 * ```ts
 * import { parseAddress } from "byterail/map";
 * parseAddress("%QW3", { counting: "words" }); // → { direction: "outputs", size: "W", byte: 6, bit: null }
 * ```
 * @throws `ByterailError` `address.syntax`, or `address.start` for one that lies before the start of the image
 */
export function parseAddress(text: string, { counting, start = 0 }: AddressOptions = {}): Address {
  const [, area, letter, number, bit] = /^%([IQ])([XBWDL]?)(\d{1,7})(?:\.([0-7]))?$/.exec(text.toUpperCase()) ?? [];
  const size = (letter || "X") as AddressSize;
  if (!area || (size === "X") !== (bit !== undefined))
    fail("address.syntax", "address", `${shown(text)} is no address such as %IX0.3, %IB2, %IW1 or %QD4`);
  const byte = Number(number) * (counting === "words" ? bytesOf[size] : 1) - start;
  if (byte < 0) fail("address.start", "address", `${text} lies before byte ${start}, where the image starts`);
  return { direction: area === "I" ? "inputs" : "outputs", size, byte, bit: bit ? Number(bit) : null };
}
