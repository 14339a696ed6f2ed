/**
 * A slow decoder, written from the rules of the description alone and bit by bit, to judge the library by. Of the library
 * it knows the types of a description and nothing else.
 */
import type { ByteOrder, Direction, Entry, NetworkId, Scale, Station, WordOrder } from "byterail";
import { minus, onLine, type Rational, rational } from "../rational.js";
import { countsIn, leastFirst, patternIn, realIn } from "./numbers.js";
import { bitsOf, placed, type ReferenceEntry } from "./placement.js";

/** What the reference says of one point of one frame. */
export interface ReferenceValue {
  readonly name: string;
  readonly byte: number;
  readonly bit: number | null;
  readonly bits: number;
  /** Counts, the pattern of a real, or a boolean; BCD that is no number as a based literal. */
  readonly raw: boolean | bigint | "-0" | string;
  /** A boolean, the exact value of a number on a straight line, or the double that plain arithmetic gives. */
  readonly value: boolean | Rational | number;
}

/** Byte orders of the networks, as their standards send words (common practice, from memory). */
const ordersOfNetworks: Record<NetworkId, ByteOrder> = {
  "ethernet-ip": "little",
  profinet: "big",
  "profibus-dp": "big",
  "modbus-tcp": "big",
  ethercat: "little",
  canopen: "little",
  "io-link": "big",
};

/** Length of an image by the rules, in bytes. */
export function referenceLength(station: Station, direction: Direction): number {
  return placed(station, direction).byteLength;
}

/** Every point of one image in one frame. */
export function referenceDecode(station: Station, direction: Direction, bytes: Uint8Array): ReferenceValue[] {
  return placed(station, direction).entries.flatMap((entry) => valuesOf(station, entry, bytes));
}

function valuesOf(
  station: Station,
  { module, entry, start, bitOrder }: ReferenceEntry,
  bytes: Uint8Array,
): ReferenceValue[] {
  if ("spare" in entry || "spareBits" in entry) return [];
  const byte = Math.floor(start / 8);
  if ("type" in entry && entry.type === "bit") {
    const bit = bitOrder === "lsbFirst" ? start % 8 : 7 - (start % 8);
    const on = patternIn(bytes, [byte], bit, 1) === 1n;
    return [{ name: entry.name, byte, bit, bits: 1, raw: on, value: on }];
  }
  const nearest = <K extends "byteOrder" | "wordOrder">(key: K) =>
    ((entry as Partial<Record<K, unknown>>)[key] ?? module[key] ?? station[key]) as never;
  const byteOrder: ByteOrder = nearest("byteOrder") ?? ordersOfNetworks[station.network!];
  const wordOrder: WordOrder | undefined = nearest("wordOrder");
  const positions = leastFirst(bitsOf(entry as Entry), byteOrder, wordOrder).map((position) => byte + position);
  if ("word" in entry)
    return entry.fields.map((field) => {
      if ("bit" in field) {
        const on = patternIn(bytes, positions, field.bit, 1) === 1n;
        return { name: field.name, byte, bit: null, bits: 1, raw: on, value: on };
      }
      const code = field.code ?? (field.signed ? "twosComplement" : "unsigned");
      const pattern = patternIn(bytes, positions, field.shift, field.bits);
      return {
        name: field.name,
        byte,
        bit: null,
        bits: field.bits,
        ...numberOf(pattern, code, field.bits, field.scale),
      };
    });
  const bits = bitsOf(entry);
  const pattern = patternIn(bytes, positions, 0, bits);
  const place = { name: entry.name, byte, bit: null, bits };
  if (entry.type.startsWith("float")) {
    const x = realIn(pattern, bits as 32 | 64);
    return [{ ...place, raw: pattern, value: entry.scale ? scaledReal(x, entry.scale) : x }];
  }
  const code = entry.code ?? (entry.type.startsWith("u") ? "unsigned" : "twosComplement");
  return [{ ...place, ...numberOf(pattern, code, bits, entry.scale) }];
}

function numberOf(
  pattern: bigint,
  code: string,
  bits: number,
  scale: Scale | undefined,
): Pick<ReferenceValue, "raw" | "value"> {
  const counts = countsIn(pattern, code, bits);
  if (counts === "NaN") return { raw: `16#${pattern.toString(16).toUpperCase()}`, value: Number.NaN };
  if (counts === "-0") return { raw: counts, value: scale ? scaledValue(0n, scale) : -0 };
  return { raw: counts, value: scale ? scaledValue(counts, scale) : rational(counts) };
}

function scaledValue(counts: bigint, scale: Scale): Rational | number {
  if (scale.points) return onPoints(Number(counts), scale.points);
  const [n0, n1] = scale.counts!;
  const [v0, v1] = scale.value ?? scale.signal!;
  if (scale.shape === "squareRoot") {
    const part = (Number(counts) - n0) / (n1 - n0);
    return v0 + (v1 - v0) * Math.sign(part) * Math.sqrt(Math.abs(part));
  }
  return onLine(counts, [BigInt(n0), BigInt(n1)], [asPrinted(v0), asPrinted(v1)]);
}

/** Plain real arithmetic: right within a few roundings. */
function scaledReal(x: number, scale: Scale): number {
  if (scale.points) return onPoints(x, scale.points);
  const [n0, n1] = scale.counts!;
  const [v0, v1] = scale.value ?? scale.signal!;
  const part = (x - n0) / (n1 - n0);
  return v0 + (v1 - v0) * (scale.shape === "squareRoot" ? Math.sign(part) * Math.sqrt(Math.abs(part)) : part);
}

// The first and the last line go on beyond their ends.
function onPoints(x: number, points: readonly (readonly [number, number])[]): number {
  const sorted = [...points].sort((a, b) => a[0] - b[0]);
  const found = sorted.findIndex(([n], k) => k > 0 && x <= n);
  const k = found < 0 ? sorted.length - 1 : found;
  const [[n0, v0], [n1, v1]] = [sorted[k - 1]!, sorted[k]!];
  return v0 + ((v1 - v0) * (x - n0)) / (n1 - n0);
}

/** A number of a description, read as the decimal that it prints as. */
function asPrinted(x: number): Rational {
  const [digits, exponent = "0"] = String(x).split("e") as [string, string?];
  const [whole, part = ""] = digits.split(".") as [string, string?];
  const power = Number(exponent) - part.length;
  const top = BigInt(whole + part);
  const fraction = power >= 0 ? rational(top * 10n ** BigInt(power)) : rational(top, 10n ** BigInt(-power));
  return minus(fraction, rational(0n));
}
