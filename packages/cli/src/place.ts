/** Places in an image as people read them. */
import type { PlacedPoint } from "byterail";

/** The bytes of a point, for a field those of its word: `3`, or `4..5`. */
export function bytesText({ byte, positions }: PlacedPoint): string {
  return rangeText(byte, byte + positions.length - 1);
}

/** The bit of a `bit` point in its byte, or the bits of a field in its word: `3`, or `4..15`. */
export function bitsText({ bit, bits, shift }: PlacedPoint): string {
  return shift === null ? String(bit ?? "") : rangeText(shift, shift + bits - 1);
}

/** First and last number of a range; one alone where they are the same. */
export function rangeText(first: number, last: number): string {
  return first === last ? String(first) : `${first}..${last}`;
}
