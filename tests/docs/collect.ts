// Finds the TypeScript snippets of the documentation: README files, guides, and the examples of docstrings.

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

/** One block of TypeScript: the file it stands in, the line of its first statement, and its text. */
export interface Snippet {
  readonly file: string;
  readonly line: number;
  readonly source: string;
}

const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");

/** Every block fenced as `ts`, but those fenced as `ts no-run`. */
export function collectSnippets(): readonly Snippet[] {
  const packages = filesIn("packages", "flat").map((name) => `packages/${name}`);
  const pages = [
    "README.md",
    ...packages.map((folder) => `${folder}/README.md`),
    ...filesEnding(".md", "docs", "flat"),
  ];
  const sources = packages.flatMap((folder) => filesEnding(".ts", `${folder}/src`, "deep"));
  return [
    ...pages.filter((page) => existsSync(join(root, page))).flatMap((page) => snippetsInMarkdown(page, read(page))),
    ...sources.flatMap((source) => snippetsInDocstrings(source, read(source))),
  ];
}

/** The blocks of a Markdown text. */
export function snippetsInMarkdown(file: string, text: string): readonly Snippet[] {
  return fencedBlocks(file, text.split("\n"), 1);
}

/** The blocks of the `@example`s in the docstrings of a TypeScript source. */
export function snippetsInDocstrings(file: string, text: string): readonly Snippet[] {
  return [...text.matchAll(/\/\*\*[\s\S]*?\*\//g)]
    .filter(([docstring]) => docstring.includes("@example"))
    .flatMap((match) => {
      const lines = match[0].split("\n").map((line) => line.replace(/^\s*\*( |$)/, ""));
      return fencedBlocks(file, lines, text.slice(0, match.index).split("\n").length);
    });
}

function fencedBlocks(file: string, lines: readonly string[], firstLine: number): Snippet[] {
  const blocks: Snippet[] = [];
  let open: { readonly info: string; readonly indent: number; readonly start: number } | undefined;
  for (const [index, line] of lines.entries()) {
    const fence = /^(\s*)```(.*)$/.exec(line);
    if (!fence) continue;
    if (!open) {
      open = { info: fence[2]!.trim(), indent: fence[1]!.length, start: index + 1 };
      continue;
    }
    const { info, indent, start } = open;
    open = undefined;
    if (info !== "ts") continue;
    const source = lines.slice(start, index).map((text) => text.slice(Math.min(indent, text.search(/\S|$/))));
    blocks.push({ file, line: firstLine + start, source: source.join("\n") });
  }
  if (open) throw new Error(`${file}:${firstLine + open.start - 1}: a fenced block has no end`);
  return blocks;
}

function filesEnding(ending: string, folder: string, depth: "flat" | "deep"): readonly string[] {
  return filesIn(folder, depth)
    .filter((name) => name.endsWith(ending))
    .map((name) => `${folder}/${name}`);
}

function filesIn(folder: string, depth: "flat" | "deep"): readonly string[] {
  const full = join(root, folder);
  if (!existsSync(full)) return [];
  const names = readdirSync(full, { recursive: depth === "deep", encoding: "utf8" });
  return names.map((name) => name.replaceAll("\\", "/")).sort();
}

function read(file: string): string {
  return readFileSync(join(root, file), "utf8");
}
