/**
 * A number in bytes, without a station around it: for a register, a header or a test. Within a station the layout
 * knows the place and the order of each point; see `image/`.
 */
import { fail } from "../problem.js";
import type { ByteOrder, CountsCode, NumberType, WordOrder } from "../station/description.js";
import { codeOf, countsProblem } from "./code.js";
import { significance } from "./order.js";
import { pattern } from "./pattern.js";
import { isReal, plainCode, widthOf } from "./types.js";

/** Reads and writes one number; `N` is `bigint` for 64-bit integers. */
export interface NumberCodec<N extends number | bigint = number> {
  /** Bytes taken: 1 to 8. */
  readonly byteLength: number;
  /** Reads the number at `offset` (bytes, default 0). Throws `bytes.end` where the bytes end before it. */
  readonly read: (bytes: Uint8Array, offset?: number) => N;
  /** Checks, then writes; nothing is written of a number that the type cannot hold. Throws `value.range`. */
  readonly write: (bytes: Uint8Array, value: N, offset?: number) => void;
}

/** Type of a value: `bigint` for 64-bit integers, `number` for all others. */
export type NumberOf<T extends NumberType> = T extends "int64" | "uint64" ? bigint : number;

/**
 * The codec of a number type.
 *
 * @example
 * ```ts
 * import { numberCodec } from "byterail";
 * const word = numberCodec("int16", "big");
 * const bytes = new Uint8Array(3);
 * word.write(bytes, -2, 1);
 * bytes; // → new Uint8Array([0, 0xff, 0xfe])
 * word.read(bytes, 1); // → -2
 * ```
 * @param byteOrder never the host's: it must be said
 * @param more word order of 32- and 64-bit values, and a code other than plain binary for an integer
 */
export function numberCodec<T extends NumberType>(
  type: T,
  byteOrder: ByteOrder,
  more: { readonly wordOrder?: WordOrder; readonly code?: CountsCode } = {},
): NumberCodec<NumberOf<T>> {
  const bits = widthOf(type);
  const byteLength = bits / 8;
  const code = codeOf(isReal(type) ? "real" : (more.code ?? plainCode(type)), bits);
  const bytesOf = pattern(significance(bits, byteOrder, more.wordOrder), 0, bits);
  const inside = (bytes: Uint8Array, offset: number) => {
    if (!(offset >= 0 && offset + byteLength <= bytes.length && Number.isInteger(offset)))
      fail("bytes.end", `byte ${offset}`, `${byteLength} bytes do not fit in the ${bytes.length} given`);
  };
  return {
    byteLength,
    read: (bytes, offset = 0) => {
      inside(bytes, offset);
      return code.toCounts(bytesOf.read(bytes, offset)) as NumberOf<T>;
    },
    write: (bytes, value, offset = 0) => {
      inside(bytes, offset);
      const problem = countsProblem(value, code);
      if (problem) fail("value.range", type, problem);
      bytesOf.write(bytes, offset, code.toPattern(value));
    },
  };
}
