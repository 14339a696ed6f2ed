/** Small pieces of C: comments, literals, widths. */
import { oneLine } from "../snippet.js";

/** Free text within a comment: it can neither end it nor begin another, nor hide the end of its line. */
export function commentText(text: string): string {
  const safe = oneLine(text)
    .replaceAll("*/", "* /")
    .replaceAll("/*", "/ *")
    .replace(/\?(?=\?)/g, "? ");
  return safe.endsWith("\\") ? `${safe} .` : safe;
}

/** A comment of one or more lines, in which free text has been made safe. */
export function comment(lines: readonly string[]): string[] {
  const texts = lines.map((line) => (line === "" ? "" : ` ${line}`));
  return texts.length === 1 ? [`/*${texts[0]} */`] : ["/*", ...texts.map((text) => ` *${text}`), " */"];
}

/** The narrowest of 8, 16, 32 and 64 bits that holds so many. */
export function roomFor(bits: number): 8 | 16 | 32 | 64 {
  return bits <= 8 ? 8 : bits <= 16 ? 16 : bits <= 32 ? 32 : 64;
}

/** An unsigned literal in hexadecimal. C gives it the type that it needs; only beyond 32 bits it must be told. */
export function hexText(value: bigint): string {
  return `0x${value.toString(16).toUpperCase()}${value >> 32n ? "ULL" : "U"}`;
}

/** A whole number as a literal, whatever its size. The smallest of 64 bits has no literal of its own. */
export function wholeText(value: bigint, kind: "signed" | "unsigned" = "signed"): string {
  if (kind === "unsigned") return `${value}${value >> 32n ? "ULL" : "U"}`;
  const size = value < 0n ? -value : value;
  if (size === 1n << 63n) return "(-9223372036854775807LL - 1)";
  return `${value}${size >> 31n ? "LL" : ""}`;
}
