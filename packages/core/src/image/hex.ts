/** Hex text, as people copy it from a scanner or a capture. */
import { fail, shown } from "../problem.js";

/** Bytes as upper-case hex pairs with single spaces: `01 F4`. */
export function toHex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
}

/**
 * Bytes of hex pairs; white space and `|` between the pairs are ignored.
 *
 * @example
 * ```ts
 * import { fromHex } from "byterail/frames";
 * fromHex("01 F4 | 00 0a"); // → new Uint8Array([0x01, 0xf4, 0x00, 0x0a])
 * ```
 * @throws `ByterailError` `hex.syntax`
 */
export function fromHex(text: string): Uint8Array {
  const digits = text.replace(/[\s|]+/g, "");
  const wrong = /[^0-9a-f]/i.exec(digits);
  if (wrong) fail("hex.syntax", "hex", `${shown(wrong[0])} is no hex digit`);
  if (digits.length % 2) fail("hex.syntax", "hex", `${digits.length} digits make no whole bytes`);
  return Uint8Array.from(digits.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}
