// One run of Stryker, with its settings for this workspace.

import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const require = createRequire(import.meta.url);

/** Mutates a piece; the report is written to `report`, from where the next run goes on. */
export function mutate({ root, piece, report, concurrency }) {
  const settings = {
    mutate: piece.mutate,
    testRunner: "vitest",
    plugins: [require.resolve("@stryker-mutator/vitest-runner")],
    vitest: { configFile: "tests/scripts/mutation/vitest.config.ts", dir: "tests", related: false },
    coverageAnalysis: "perTest",
    concurrency,
    incremental: true,
    incrementalFile: report,
    jsonReporter: { fileName: report },
    reporters: ["json", "progress-append-only"],
    tempDirName: ".cache/stryker",
    ignorePatterns: ["docs", "examples", "packages/*/dist"],
    disableTypeChecks: false,
    allowEmpty: false,
  };
  const file = join(root, ".cache/mutation/stryker.json");
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, JSON.stringify(settings));
  const stryker = join(dirname(fileURLToPath(import.meta.resolve("@stryker-mutator/core"))), "../../bin/stryker.js");
  const env = {
    ...process.env,
    BYTERAIL_MUTATION_TESTS: piece.tests.join(","),
    BYTERAIL_MUTATION_FIRST: piece.first.join(","),
  };
  return spawnSync(process.execPath, [stryker, "run", file], { cwd: root, env, stdio: "inherit" }).status;
}
