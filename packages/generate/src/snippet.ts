/** Small pieces of text that generated files are put together from. */

/** Lines with an indent before each that is not empty. */
export function indent(lines: readonly string[], by = "  "): string[] {
  return lines.map((line) => (line === "" ? "" : by + line));
}

/** Lines as a text that ends with a line feed. */
export function textOf(lines: readonly string[]): string {
  return `${lines.join("\n")}\n`;
}

/** Data as JSON in which no control, no direction mark and no half of a character stands raw. */
export function jsonText(data: unknown, spaces = 0): string {
  return JSON.stringify(data, null, spaces).replace(/(?!\n)[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, (sign) =>
    [...Array(sign.length).keys()].map((k) => `\\u${sign.charCodeAt(k).toString(16).padStart(4, "0")}`).join(""),
  );
}

/** Free text of a description in one printable line: controls, line ends and direction marks become spaces. */
export function oneLine(text: string): string {
  return text
    .replace(/\p{Cs}/gu, "\ufffd")
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
    .trim();
}
