/** Free text of a description made safe for each place where a sheet prints it. */

/** Text between tags and in quoted attributes of HTML. */
export function htmlText(text: string): string {
  return oneLine(text).replace(/[&<>"'`]/g, (char) => `&#${char.charCodeAt(0)};`);
}

/** A string of CSS, quotes included. */
export function cssString(text: string): string {
  return `"${oneLine(text).replace(/[^\p{L}\p{N} .,:;()\-–·]/gu, (char) => `\\${char.codePointAt(0)!.toString(16)} `)}"`;
}

/** Text of Markdown inside a line or a cell that shows as it is: no mark-up, no HTML, no end of the cell, no link. */
export function markdownText(text: string): string {
  return oneLine(text)
    .replace(/[\\`*_{}[\]<>|~&$]/g, "\\$&")
    .replace(/(https?|ftp|mailto|xmpp)(?=:)|(www)(?=\.)/gi, "$&\\");
}

/** The same at the beginning of a line, where more signs mean something. */
export function markdownLine(text: string): string {
  return markdownText(text)
    .replace(/^[-+=#]/, "\\$&")
    .replace(/^(\d+)(?=[.)])/, "$1\\");
}

/** A field of CSV (RFC 4180). A text that a spreadsheet would run as a formula gets an apostrophe before it. */
export function csvField(cell: string | number | null): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const text = oneLine(cell);
  const safe = startsFormula.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

// The full-width forms of the signs are taken for the signs by some spreadsheets. A text in quotes could hide one, too.
const startsFormula = /^[\s"']*[=+\-@＝＋－＠]/u;

// Controls, line ends and direction marks become spaces.
function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]+/gu, " ").trim();
}
