/**
 * Images that travel as 16-bit registers: register k holds bytes 2k and 2k + 1. Which of them is the high byte is said,
 * not guessed.
 */
import { codeOf, countsProblem } from "../number/code.js";
import { fail, type Problem, throwIfAny } from "../problem.js";

/** Which byte of each pair is the high byte of the register. */
export type HighByte = "first" | "second";

/**
 * Bytes of registers.
 *
 * @example
 * ```ts
 * import { fromRegisters, toRegisters } from "byterail/frames";
 * fromRegisters([555, 0, 100]); // → new Uint8Array([0x02, 0x2b, 0, 0, 0, 0x64])
 * toRegisters(new Uint8Array([0x02, 0x2b, 0x64])); // → [555, 0x6400]
 * ```
 * @param registers whole numbers from 0 to 65535
 * @param byteLength of the image; an odd image leaves out the padding of the last register
 * @throws `ByterailError` `register.range` for each that is out of range, `register.count` for a wrong number of them
 */
export function fromRegisters(
  registers: ArrayLike<number>,
  highByte: HighByte = "first",
  byteLength: number = 2 * registers.length,
): Uint8Array {
  const needed = Math.ceil(byteLength / 2);
  if (needed !== registers.length)
    fail("register.count", "registers", `${byteLength} bytes are ${needed} registers, not ${registers.length}`);
  const problems: Problem[] = [];
  const bytes = Array.from(registers).flatMap((word, k) => {
    const wrong = countsProblem(word, codeOf("unsigned", 16));
    if (wrong) problems.push({ code: "register.range", path: `registers[${k}]`, message: wrong });
    return highByte === "first" ? [word >> 8, word] : [word, word >> 8];
  });
  throwIfAny(problems);
  return Uint8Array.from(bytes.slice(0, byteLength));
}

/** Registers of bytes; an odd number of bytes is padded with 0. See {@link fromRegisters}. */
export function toRegisters(bytes: Uint8Array, highByte: HighByte = "first"): number[] {
  const first = highByte === "first" ? 8 : 0;
  return Array.from(
    { length: Math.ceil(bytes.length / 2) },
    (_, k) => (bytes[2 * k]! << first) | ((bytes[2 * k + 1] ?? 0) << (8 - first)),
  );
}
