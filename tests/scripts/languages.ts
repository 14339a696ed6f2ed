// Generated C, Python and Structured Text against the library, on many random stations: `languages [--stations 10000]`. The
// comparisons are those of `npm test`, which makes 200 of each. Ends with 1 where one differs.

import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { machineLine } from "../support/machine.js";
import { markdownTable } from "../support/markdownTable.js";
import type {} from "../support/nightly.js";
import { workspace, writeSection } from "../support/page.js";
import type { TaskMeta } from "vitest";

const { values: options } = parseArgs({ options: { stations: { type: "string", default: "10000" } } });

const languages: Readonly<Record<string, string>> = {
  "c.test.ts": "C, by gcc with the sanitizer of undefined behaviour",
  "python.test.ts": "Python",
  "structured-text.test.ts": "Structured Text, by the evaluator of the tests",
};

interface Report {
  readonly testResults: readonly {
    readonly name: string;
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
const report = join(tests, ".cache/languages.json");
mkdirSync(join(tests, ".cache"), { recursive: true });
spawnSync(
  process.execPath,
  [
    ...[join(tests, "node_modules/vitest/vitest.mjs"), "run", "--no-file-parallelism", "-t", "agrees with the core"],
    ...["--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
    ...Object.keys(languages).map((file) => `generate/${file}`),
  ],
  {
    cwd: tests,
    stdio: ["ignore", "inherit", "inherit"],
    env: { ...process.env, BYTERAIL_STATIONS: options.stations, BYTERAIL_NO_SKIP: "1" },
  },
);

const { testResults } = JSON.parse(readFileSync(report, "utf8")) as Report;
const results = testResults.flatMap(({ name, assertionResults }) =>
  assertionResults.flatMap(({ title, status, duration = 0, meta: { compared }, failureMessages }) =>
    compared || status === "failed" ? [{ name, title, status, duration, compared, failureMessages }] : [],
  ),
);
const rows = results.map(({ name, title, status, duration, compared }) => [
  [Object.entries(languages).find(([file]) => name.endsWith(file))![1], /arithmetic \w+/.exec(title)?.[0]]
    .filter(Boolean)
    .join(", "),
  compared ? compared.stations.toLocaleString("en") : "not done",
  compared ? compared.cases.toLocaleString("en") : "",
  `${(duration / 60_000).toFixed(1)} min`,
  status === "passed" ? "none" : "SOME",
]);
const tables = [
  markdownTable(["the library against generated", "stations", "cases", "time", "differences"], rows, [0]),
  `${machineLine()}.`,
].join("\n\n");
console.log(tables);
for (const { title, failureMessages } of results) for (const each of failureMessages) console.log(`${title}: ${each}`);
writeSection("docs/reliability.md", "languages", tables);
process.exitCode = results.length < 5 || results.some(({ status }) => status !== "passed") ? 1 : 0;
