// One run of Stryker, with its settings for this workspace.

import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));

/** Mutates a piece and writes the report. */
export function mutate({ root, piece, report, concurrency }) {
  const settings = {
    mutate: piece.mutate,
    testRunner: "one-script",
    plugins: [join(here, "runner.mjs")],
    byterail: { tests: piece.tests, first: piece.first, only: piece.only ?? "" },
    coverageAnalysis: "perTest",
    concurrency,
    // Generous, as a timeout counts as a kill: a busy machine must not raise the score.
    timeoutMS: 10_000,
    jsonReporter: { fileName: report },
    reporters: ["json", "progress-append-only"],
    tempDirName: ".cache/stryker",
    ignorePatterns: ["docs", "examples", "packages/*/dist"],
    disableTypeChecks: false,
    allowEmpty: false,
    warnings: { unknownOptions: false },
  };
  const file = join(root, ".cache/mutation/stryker.json");
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, JSON.stringify(settings));
  const stryker = join(dirname(fileURLToPath(import.meta.resolve("@stryker-mutator/core"))), "../../bin/stryker.js");
  return spawnSync(process.execPath, [stryker, "run", file], { cwd: root, stdio: "inherit" }).status;
}
