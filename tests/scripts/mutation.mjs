// Mutation testing of core and commissioning: which changes of the sources no test notices.
// `node scripts/mutation.mjs [PIECE …] [--files GLOB [--tests START]] [--concurrency N]`, in any folder; see docs/mutation.md.

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { pieces } from "./mutation/pieces.mjs";
import { scoreRow, survivorLines } from "./mutation/report.mjs";
import { mutate } from "./mutation/stryker.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const cache = join(root, ".cache/mutation");

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    files: { type: "string" },
    // Only the test files that start so: quick while tests of one part are written, no score.
    tests: { type: "string", default: "" },
    concurrency: { type: "string", default: "1" },
  },
});

const unknown = positionals.filter((name) => !pieces.some((piece) => piece.name.startsWith(name)));
if (unknown.length > 0) {
  console.error(`no piece ${unknown.join(", ")}; there are ${pieces.map(({ name }) => name).join(", ")}`);
  process.exit(2);
}
const chosen = values.files
  ? [
      {
        name: values.files.replaceAll(/\W+/g, "-"),
        mutate: [values.files],
        tests: ["core", "commissioning"],
        first: [],
        only: values.tests,
      },
    ]
  : pieces.filter(({ name }) => positionals.length === 0 || positionals.some((start) => name.startsWith(start)));

const rows = [];
mkdirSync(cache, { recursive: true });
for (const piece of chosen) {
  const report = join(cache, `${piece.name.replaceAll("/", "-")}.json`);
  const status = mutate({ root, piece, report: relative(root, report), concurrency: Number(values.concurrency) });
  if (status !== 0) {
    rows.push(`| ${piece.name} | failed |||||`);
    process.exitCode = 1;
    continue;
  }
  const result = JSON.parse(readFileSync(report, "utf8"));
  rows.push(scoreRow(piece.name, result));
  writeFileSync(report.replace(/json$/, "txt"), survivorLines(result).join("\n"));
}
console.log(
  `\n| piece | mutants | killed | timeout | survived | no test | score |\n|---|---|---|---|---|---|---|\n${rows.join("\n")}`,
);
console.log(`\nsurvivors: ${relative(process.cwd(), cache)}/*.txt`);
