/** Puts the tables into the page about performance, between two markers; the words around them are people's. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";

const begin = "<!-- bench: begin -->";
const end = "<!-- bench: end -->";

/** Replaces what stands between the markers; makes the page where there is none. */
export function writePage(path: string, tables: string): void {
  const text = existsSync(path) ? readFileSync(path, "utf8") : `# Performance\n\n${begin}\n${end}\n`;
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from < 0 || to < from) throw new Error(`${path} has no place for the tables: ${begin} … ${end}`);
  writeFileSync(path, `${text.slice(0, from + begin.length)}\n${tables.trim()}\n${text.slice(to)}`);
}
