/** Comments. Free text from a description may hold whatever would end a comment, open one inside it, or start a pragma. */
import { oneLine } from "../snippet.js";

/** A text in one line as a comment. */
export function comment(text: string): string {
  return `(* ${commentText(text)} *)`;
}

/** Lines as one comment. */
export function commentLines(lines: readonly string[]): string[] {
  return lines.length === 1 ? [comment(lines[0]!)] : ["(*", ...lines.map((line) => `  ${commentText(line)}`), "*)"];
}

// A blank between the signs takes their meaning away. Braces are pragmas (edition 3, 6.1.6), which some compilers look for first.
function commentText(text: string): string {
  return oneLine(text)
    .replace(/[{}]/g, (brace) => (brace === "{" ? "[" : "]"))
    .replace(/([(/])(?=\*)/g, "$1 ")
    .replace(/\*(?=[)/])/g, "* ")
    .replace(/\p{Cs}/gu, "\uFFFD")
    .trim();
}
