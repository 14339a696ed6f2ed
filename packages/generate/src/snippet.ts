/** Small pieces of text that generated files are put together from. */

/** Lines with an indent before each that is not empty. */
export function indent(lines: readonly string[], by = "  "): string[] {
  return lines.map((line) => (line === "" ? "" : by + line));
}

/** Lines as a text that ends with a line feed. */
export function textOf(lines: readonly string[]): string {
  return `${lines.join("\n")}\n`;
}

/** Free text of a description in one printable line: controls, line ends and direction marks become spaces. */
export function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu, " ").trim();
}
