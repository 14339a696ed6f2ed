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
  const short = shortRun(positions, low, bits);
  if (short) return pattern16(short) as Pattern;
  const run = runOf(positions, low, bits);
  return (bits === 32 && run.length === 4 ? pattern32(run) : longPattern(run, low & 7, bits)) as Pattern;
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
  const [p0 = 0, p1 = p0, ...more] = runOf(positions, low, bits);
  return more.length > 0 ? null : { p0, p1, shift: low & 7, mask: 2 ** bits - 1 };
}

function runOf(positions: readonly number[], low: number, bits: number): readonly number[] {
  return positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1);
}

// Shifts on 32-bit integers, the fastest there is.
function pattern16({ p0, p1, shift, mask }: ShortRun): Pattern<number> {
  const keep = ~(mask << shift);
  return {
    read: (b, at) => ((b[at + p0]! | (b[at + p1]! << 8)) >>> shift) & mask,
    write: (b, at, u) => {
      const word = ((b[at + p0]! | (b[at + p1]! << 8)) & keep) | (u << shift);
      if (p1 !== p0) b[at + p1] = word >>> 8;
      b[at + p0] = word;
    },
  };
}

function pattern32(run: readonly number[]): Pattern<number> {
  const [p0 = 0, p1 = 0, p2 = 0, p3 = 0] = run;
  return {
    read: (b, at) => (b[at + p0]! | (b[at + p1]! << 8) | (b[at + p2]! << 16) | (b[at + p3]! << 24)) >>> 0,
    write: (b, at, u) => {
      b[at + p0] = u;
      b[at + p1] = u >>> 8;
      b[at + p2] = u >>> 16;
      b[at + p3] = u >>> 24;
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
