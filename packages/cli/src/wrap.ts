/** Long texts in lines of a given width. */
import stringWidth from "string-width";

/** Breaks a text into lines of at most so many columns: at spaces; a longer word between its parts, else anywhere. */
export function linesOf(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  const add = (piece: string, joint: string): void => {
    const joined = line === "" ? piece : line + joint + piece;
    if (stringWidth(joined) <= width) {
      line = joined;
      return;
    }
    if (line !== "") lines.push(line);
    line = "";
    const smaller = piecesOf(piece);
    if (stringWidth(piece) <= width || smaller.length === 1) line = piece;
    else for (const each of smaller) add(each, "");
  };
  for (const word of text.split(" ")) add(word, " ");
  return [...lines, line];
}

/** Breaks a text into one string of lines; those after the first are indented. */
export function wrapped(text: string, width: number, indent = ""): string {
  return linesOf(text, width - stringWidth(indent)).join(`\n${indent}`);
}

// causticTemp → caustic, Temp; a word without parts → its characters.
function piecesOf(word: string): readonly string[] {
  const parts = word.split(/(?<=[a-z])(?=[A-Z])|(?<=[_/])/);
  return parts.length > 1 ? parts : [...word];
}
