// Runs a snippet: its module is written beside the tests, from where the built packages are found by name, and imported.

import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Snippet } from "./collect.js";
import { moduleOf } from "./snippet.js";

const here = dirname(fileURLToPath(import.meta.url));

/** Runs the snippet; throws what it throws, or the first claim that does not hold. */
export async function runSnippet({ file, line, source }: Snippet): Promise<void> {
  const folder = join(here, "../.cache/snippets");
  const path = join(folder, `${file.replaceAll(/[^\w.]+/g, "-")}-${line}.mjs`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(path, moduleOf(source, pathToFileURL(join(here, "checks.ts")).href));
  await import(/* @vite-ignore */ pathToFileURL(path).href);
}
