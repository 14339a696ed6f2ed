// What each entry of the kit brings along: only `node` reads files, only `vitest` registers anything.

import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const dist = join(dirname(fileURLToPath(import.meta.url)), "../../packages/testkit/dist");

/** Modules from outside that a built file imports, itself or through others of the package. */
function importsOf(file: string, seen = new Set<string>()): ReadonlySet<string> {
  if (seen.has(file)) return new Set();
  seen.add(file);
  const source = readFileSync(join(dist, file), "utf8");
  const names = [...source.matchAll(/(?:from|import) ['"]([^'"]+)['"]/g)].map(([, name]) => name!);
  const found = names.flatMap((name) => (name.startsWith("./") ? [...importsOf(name.slice(2), seen)] : [name]));
  return new Set(found);
}

const core = ["byterail", "byterail/frames", "byterail/map"];
const entries: Readonly<Record<string, readonly string[]>> = {
  "index.js": [...core, "fast-check"],
  "jest.js": core,
  "node.js": ["byterail", "byterail/frames", "node:fs", "node:url"],
  "vitest.js": [...core, "vitest"],
};

for (const [entry, modules] of Object.entries(entries))
  test(`${entry} imports ${modules.join(", ")} and nothing else`, () => {
    expect([...importsOf(entry)].sort()).toEqual([...modules].sort());
    expect(existsSync(join(dist, entry.replace(".js", ".d.ts")))).toBe(true);
  });
