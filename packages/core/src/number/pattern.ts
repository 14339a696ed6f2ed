/**
 * Bit patterns in bytes: unsigned integers of 1 to 64 bits that start at any bit of a run of bytes, whatever the
 * order of that run. Everything that is read or written, from one bit to a 64-bit integer, goes through here.
 * Reading and writing check nothing: lengths are checked once at the edge, values before they get here.
 */
import { widestNumber } from "./types.js";

/** Reads and writes one unsigned pattern. `at` is added to every position. */
export interface Pattern<U = number | bigint> {
  /** The pattern in the bytes. */
  readonly read: (bytes: Uint8Array, at: number) => U;
  /** Changes the bits of the pattern and no other. */
  readonly write: (bytes: Uint8Array, at: number, pattern: U) => void;
}

/**
 * The pattern of `bits` bits from bit `low` up of the integer that `positions` spell.
 *
 * @param positions byte positions, least significant first (see `significance`)
 * @param low lowest bit, counted from the least significant of the integer
 * @param bits 1 to 64; up to 53 the pattern is a `number`, beyond a `bigint`
 */
export function pattern(positions: readonly number[], low: number, bits: number): Pattern {
  const run = positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1);
  return (run.length > 4 ? longPattern(run, low & 7, bits) : shortPattern(run, low & 7, bits)) as Pattern;
}

/** A pattern within one byte or two, as bare numbers: `((b[p0] | b[p1] << 8) >>> shift) & mask`. */
export interface ShortRun {
  readonly p0: number;
  /** Of a pattern within one byte, that same byte: the mask leaves nothing of its second reading. */
  readonly p1: number;
  readonly shift: number;
  readonly mask: number;
}

/** The numbers of a pattern within one byte or two, or null for one that takes more. */
export function shortRun(positions: readonly number[], low: number, bits: number): ShortRun | null {
  const first = low >> 3;
  const count = ((low + bits - 1) >> 3) - first;
  return count > 1
    ? null
    : { p0: positions[first]!, p1: positions[first + count]!, shift: low & 7, mask: 2 ** bits - 1 };
}

// Shifts on 32-bit integers, the fastest there is. The first byte stands in for those that the run does not have.
function shortPattern(
  [p0 = 0, p1 = p0, p2 = p0, p3 = p0]: readonly number[],
  shift: number,
  bits: number,
): Pattern<number> {
  const mask = 2 ** bits - 1;
  const word = (b: Uint8Array, at: number) =>
    b[at + p0]! | (b[at + p1]! << 8) | (b[at + p2]! << 16) | (b[at + p3]! << 24);
  return {
    read: (b, at) => ((word(b, at) >>> shift) & mask) >>> 0,
    write: (b, at, u) => {
      const now = (word(b, at) & ~(mask << shift)) | (u << shift);
      b[at + p3] = now >>> 24;
      b[at + p2] = now >>> 16;
      b[at + p1] = now >>> 8;
      b[at + p0] = now;
    },
  };
}

// Anything else, byte by byte in exact arithmetic: doubles up to 53 bits, bigint beyond. The formulas are the same for
// both; they are written once, and `as number` stands for either.
function longPattern(run: readonly number[], shift: number, bits: number): Pattern<number> {
  const cast = (bits > widestNumber ? BigInt : Number) as (n: number) => number;
  const parts = run.map((position, k) => {
    const first = k === 0 ? shift : 0;
    const weight = k === 0 ? 0 : 8 * k - shift;
    return { position, first, mask: 2 ** Math.min(8 - first, bits - weight) - 1, weight: cast(2) ** cast(weight) };
  });
  return {
    read: (b, at) =>
      parts.reduce(
        (sum, { position, first, mask, weight }) => sum + cast((b[at + position]! >>> first) & mask) * weight,
        cast(0),
      ),
    write: (b, at, u) => {
      for (const { position, first, mask, weight } of parts) {
        const part = Math.floor(Number((u / weight) % cast(256))) & mask;
        b[at + position] = (b[at + position]! & ~(mask << first)) | (part << first);
      }
    },
  };
}
