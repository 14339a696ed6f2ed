/**
 * Byte and word order, in one place: an order is the list of byte positions from the least significant byte up.
 * Codec, generator and diagnosis all work from that list and know nothing of "big" and "little".
 */
import type { ByteOrder, WordOrder } from "../station/description.js";

/** Whether a word order means anything for a value of so many bits: two or more whole 16-bit words. */
export function hasWords(bits: number): boolean {
  return bits >= 32 && bits % 16 === 0;
}

/**
 * Position of each byte of a value, least significant first.
 *
 * ```text
 * 0x11223344   big, highFirst     11 22 33 44    3 2 1 0
 *              big, lowFirst      33 44 11 22    1 0 3 2
 *              little, lowFirst   44 33 22 11    0 1 2 3
 *              little, highFirst  22 11 44 33    2 3 0 1
 * ```
 *
 * @param bits width: a multiple of 8
 * @param wordOrder by default `highFirst` for big and `lowFirst` for little; without effect on values of less than two words
 */
export function significance(bits: number, byteOrder: ByteOrder, wordOrder?: WordOrder | null): number[] {
  const count = bits / 8;
  const bytes = Array.from({ length: count }, (_, k) => k);
  if (!hasWords(bits)) return byteOrder === "big" ? bytes.reverse() : bytes;
  const highFirst = wordOrder ? wordOrder === "highFirst" : byteOrder === "big";
  return bytes.map((k) => {
    const word = highFirst ? count / 2 - 1 - (k >> 1) : k >> 1;
    return 2 * word + (byteOrder === "big" ? 1 - (k & 1) : k & 1);
  });
}
