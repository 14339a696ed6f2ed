// Puts the tables into the guide, between two markers; the words around them are people's.

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

const begin = "<!-- benchmark: begin -->";
const end = "<!-- benchmark: end -->";

/** The guide, wherever the script was bundled to. */
export const page = join(workspace(import.meta.dirname), "docs/diagnosis.md");

/** Replaces what stands between the markers. */
export function writePage(path: string, tables: string): void {
  const text = readFileSync(path, "utf8");
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from < 0 || to < from) throw new Error(`${path} has no place for the tables: ${begin} … ${end}`);
  writeFileSync(path, `${text.slice(0, from + begin.length)}\n${tables.trim()}\n${text.slice(to)}`);
}

function workspace(folder: string): string {
  if (existsSync(join(folder, "pnpm-workspace.yaml"))) return folder;
  if (folder === dirname(folder)) throw new Error("this script runs inside the workspace");
  return workspace(dirname(folder));
}
