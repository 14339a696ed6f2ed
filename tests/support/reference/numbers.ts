/** Bits to counts, bit by bit in bigints, from the rules alone. */
import type { ByteOrder, WordOrder } from "byterail";

/** Bytes of an integer of `bits`, from the first image byte on, least significant first. */
export function leastFirst(bits: number, byteOrder: ByteOrder, wordOrder: WordOrder | undefined): number[] {
  const bytes = bits / 8;
  // Words have an order where there are two or more whole ones.
  if (bytes % 2 !== 0 || bytes < 4) {
    const upwards = Array.from({ length: bytes }, (_, k) => k);
    return byteOrder === "little" ? upwards : upwards.reverse();
  }
  const words = Array.from({ length: bytes / 2 }, (_, k) => k);
  const lowFirst = (wordOrder ?? (byteOrder === "little" ? "lowFirst" : "highFirst")) === "lowFirst";
  const fromLow = lowFirst ? words : words.reverse();
  return fromLow.flatMap((word) => (byteOrder === "little" ? [2 * word, 2 * word + 1] : [2 * word + 1, 2 * word]));
}

/** The unsigned pattern of `bits` bits from bit `low` up of the integer that those bytes make. */
export function patternIn(bytes: Uint8Array, positions: readonly number[], low: number, bits: number): bigint {
  let pattern = 0n;
  for (let k = 0; k < bits; k++) {
    const place = low + k;
    const byte = BigInt(bytes[positions[Math.floor(place / 8)]!]!);
    pattern |= ((byte >> BigInt(place % 8)) & 1n) << BigInt(k);
  }
  return pattern;
}

/** Counts of a pattern; NaN for BCD that is no decimal number, "-0" for the second zero of sign and magnitude. */
export function countsIn(pattern: bigint, code: string, bits: number): bigint | "NaN" | "-0" {
  const half = 1n << BigInt(bits - 1);
  if (code === "twosComplement") return pattern >= half ? pattern - 2n * half : pattern;
  if (code === "offsetBinary") return pattern - half;
  if (code === "signMagnitude") return pattern === half ? "-0" : pattern > half ? half - pattern : pattern;
  if (code === "bcd") {
    let counts = 0n;
    for (let digit = BigInt(Math.ceil(bits / 4)) - 1n; digit >= 0n; digit--) {
      const nibble = (pattern >> (4n * digit)) & 15n;
      if (nibble > 9n) return "NaN";
      counts = 10n * counts + nibble;
    }
    return counts;
  }
  return pattern;
}

/** The value of an IEEE 754 pattern: sign, exponent and fraction put together, no view of memory. */
export function realIn(pattern: bigint, bits: 32 | 64): number {
  const [exponentBits, fractionBits] = bits === 32 ? [8, 23] : [11, 52];
  const sign = pattern >> BigInt(bits - 1) ? -1 : 1;
  const most = 2 ** exponentBits - 1;
  const exponent = Number((pattern >> BigInt(fractionBits)) & BigInt(most));
  const fraction = Number(pattern & ((1n << BigInt(fractionBits)) - 1n));
  const bias = 2 ** (exponentBits - 1) - 1;
  if (exponent === most) return fraction ? Number.NaN : sign * Number.POSITIVE_INFINITY;
  if (exponent === 0) return sign * fraction * 2 ** (1 - bias) * 2 ** -fractionBits;
  return sign * (1 + fraction * 2 ** -fractionBits) * 2 ** (exponent - bias);
}
