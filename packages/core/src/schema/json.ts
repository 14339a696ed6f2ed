/**
 * Strict JSON text for descriptions kept in files: JSON.parse lets a repeated key win in silence, and in a station
 * that would be a module or a scale lost.
 */
import { type Problem, printable } from "../problem.js";

/** Parses JSON; problems are a syntax error (with line and column where known) or keys that stand twice in one object. */
export function parseJson(text: string): { readonly value: unknown; readonly problems: readonly Problem[] } {
  try {
    return { value: JSON.parse(text), problems: repeatedKeys(text) };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    const offset = /position (\d+)/.exec(reason);
    const path = offset ? place(text, Number(offset[1])) : "text";
    return { value: undefined, problems: [{ code: "json.syntax", path, message: `is no JSON: ${printable(reason)}` }] };
  }
}

function place(text: string, offset: number): string {
  const lines = text.slice(0, offset).split("\n");
  return `line ${lines.length} column ${lines[lines.length - 1]!.length + 1}`;
}

// The text is known to be valid JSON, so strings and braces are all that must be told apart.
function repeatedKeys(text: string): Problem[] {
  const problems: Problem[] = [];
  const open: (Set<string> | null)[] = [];
  const token = /"(?:[^"\\]|\\.)*"|[{}[\]]/g;
  const colon = /\s*:/y;
  for (let match = token.exec(text); match !== null; match = token.exec(text)) {
    const [found] = match;
    if (found === "{") open.push(new Set());
    else if (found === "[") open.push(null);
    else if (found === "}" || found === "]") open.pop();
    else {
      const keys = open[open.length - 1];
      colon.lastIndex = token.lastIndex;
      if (!keys || !colon.test(text)) continue;
      const key = JSON.parse(found) as string;
      if (keys.has(key))
        problems.push({
          code: "json.repeated",
          path: place(text, match.index),
          message: `key "${printable(key)}" stands twice in one object; keep one`,
        });
      keys.add(key);
    }
  }
  return problems;
}
