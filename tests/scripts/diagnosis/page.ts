// Puts tables into the guide, between the markers of their section; the words around them are people's.

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

// The guide, wherever the script was bundled to.
const page = join(workspace(import.meta.dirname), "docs/diagnosis.md");

/** Replaces what stands between the markers of a section. */
export function writeSection(section: "benchmark" | "times", tables: string): void {
  const [begin, end] = [`<!-- ${section}: begin -->`, `<!-- ${section}: end -->`];
  const text = readFileSync(page, "utf8");
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from < 0 || to < from) throw new Error(`${page} has no place for the tables: ${begin} … ${end}`);
  writeFileSync(page, `${text.slice(0, from + begin.length)}\n${tables.trim()}\n${text.slice(to)}`);
}

function workspace(folder: string): string {
  if (existsSync(join(folder, "pnpm-workspace.yaml"))) return folder;
  if (folder === dirname(folder)) throw new Error("this script runs inside the workspace");
  return workspace(dirname(folder));
}
