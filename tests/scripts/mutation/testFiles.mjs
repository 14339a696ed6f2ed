// The test files of a piece, in the order in which they run: those where its mutants die, then tables of cases, then what
// takes long.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

// The compiler and the bundler judge other things than results, and take seconds.
const left = ["core/types.test.ts", "core/bundle.test.ts"];

/** Paths from the folder of the tests. */
export function testFiles(root, folders, first) {
  const files = folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".test.ts"))
      .map((name) => `${folder}/${name.replaceAll("\\", "/")}`),
  );
  const rank = (file) => {
    // Deep data and long series of random cases.
    if (/\/(odd|text|properties)\.test/.test(file)) return first.length + 2;
    const place = first.findIndex((name) => file.startsWith(name));
    if (place >= 0) return place;
    return first.length + (readFileSync(join(root, file), "utf8").includes("fc.assert(") ? 1 : 0);
  };
  return files.filter((file) => !left.includes(file)).sort((a, b) => rank(a) - rank(b));
}
