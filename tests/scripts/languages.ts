// Generated C, Python and Structured Text against the library, on many random stations:
// `languages [c|python|structured-text …] [--stations 10000]`. The comparisons are those of `npm test`, which makes 200 of
// each. The table has the last run of every language. Ends with 1 where one differs.

import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { TaskMeta } from "vitest";
import { machineLine } from "../support/machine.js";
import { markdownTable } from "../support/markdownTable.js";
import type {} from "../support/nightly.js";
import { workspace, writeSection } from "../support/page.js";

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: { stations: { type: "string", default: "10000" } },
});

const languages: Readonly<Record<string, string>> = {
  c: "C, by gcc with the sanitizer of undefined behaviour",
  python: "Python",
  "structured-text": "Structured Text, by the evaluator of the tests",
};
const unknown = positionals.filter((name) => !(name in languages));
if (unknown.length > 0) {
  console.error(`no language ${unknown.join(", ")}; there are ${Object.keys(languages).join(", ")}`);
  process.exit(2);
}

// What vitest's JSON reporter writes, as far as it is read here.
interface Report {
  readonly startTime: number;
  readonly testResults: readonly {
    readonly assertionResults: readonly {
      readonly title: string;
      readonly status: string;
      readonly duration?: number;
      readonly meta: TaskMeta;
      readonly failureMessages: readonly string[];
    }[];
  }[];
}

const tests = join(workspace(import.meta.dirname), "tests");
const reports = join(tests, ".cache/languages");
mkdirSync(reports, { recursive: true });
const reportOf = (language: string) => join(reports, `${language}.json`);

for (const language of positionals.length > 0 ? positionals : Object.keys(languages)) {
  const vitest = [join(tests, "node_modules/vitest/vitest.mjs"), "run", "-t", "agrees with the core"];
  const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${reportOf(language)}`];
  spawnSync(process.execPath, [...vitest, ...reporters, `generate/${language}.test.ts`], {
    cwd: tests,
    stdio: ["ignore", "inherit", "inherit"],
    env: { ...process.env, BYTERAIL_STATIONS: options.stations, BYTERAIL_NO_SKIP: "1" },
  });
}

let differing = false;
const rows = Object.entries(languages).flatMap(([language, title]) => {
  if (!existsSync(reportOf(language))) return [];
  const { startTime, testResults } = JSON.parse(readFileSync(reportOf(language), "utf8")) as Report;
  const compared = testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ meta, status }) => meta.compared || status === "failed");
  for (const { status, title: test, failureMessages } of compared) {
    differing ||= status === "failed";
    for (const message of failureMessages) console.log(`${language}, ${test}: ${message}`);
  }
  differing ||= compared.length === 0;
  return compared.map(({ title: test, status, duration = 0, meta }) => [
    [title, /arithmetic \w+/.exec(test)?.[0]].filter(Boolean).join(", "),
    meta.compared?.stations.toLocaleString("en") ?? "not done",
    meta.compared?.cases.toLocaleString("en") ?? "",
    status === "passed" ? "none" : "SOME",
    `${(duration / 60_000).toFixed(1)} min`,
    new Date(startTime).toISOString().slice(0, 10),
  ]);
});
const table = markdownTable(
  ["the library against generated", "stations", "cases", "differences", "time", "day"],
  rows,
  [0],
);
const page = `${table}\n\n${machineLine()}.`;
console.log(page);
writeSection("docs/reliability.md", "languages", page);
process.exitCode = differing ? 1 : 0;
