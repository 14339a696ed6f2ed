/** Puts tables into a page of the docs, between the markers of a section; the words around them are people's. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

/**
 * Replaces what stands between `<!-- section: begin -->` and `<!-- section: end -->`.
 *
 * @param page such as `docs/performance.md`, from the root of the workspace
 */
export function writeSection(page: string, section: string, tables: string): void {
  const path = join(workspace(import.meta.dirname), page);
  const [begin, end] = [`<!-- ${section}: begin -->`, `<!-- ${section}: end -->`];
  const text = readFileSync(path, "utf8");
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from < 0 || to < from) throw new Error(`${page} has no place for the tables: ${begin} … ${end}`);
  writeFileSync(path, `${text.slice(0, from + begin.length)}\n${tables.trim()}\n${text.slice(to)}`);
}

/** The root of the workspace, wherever a script was bundled to. */
export function workspace(folder: string): string {
  if (existsSync(join(folder, "pnpm-workspace.yaml"))) return folder;
  if (folder === dirname(folder)) throw new Error("this script runs inside the workspace");
  return workspace(dirname(folder));
}
