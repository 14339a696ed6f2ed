// How Stryker runs the tests: all test files and all sources are one script, which is evaluated anew for every mutant by
// the runner and the assertions that vitest itself is made of. A worker of vitest takes a third of a second to start, and
// most mutants die within milliseconds.

import { createRequire } from "node:module";
import { basename, join } from "node:path";
import { Script } from "node:vm";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { commonTokens, declareFactoryPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";
import * as vitest from "@vitest/runner";
import { bundle } from "./bundle.mjs";
import { expect, vi } from "./expect.mjs";
import { testFiles } from "./testFiles.mjs";

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, "one-script", createRunner)];

createRunner.inject = [commonTokens.options];
function createRunner({ byterail: { tests, first, only } }) {
  const stryker = (globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ??= {});
  const script = {};

  return {
    capabilities: () => ({ reloadEnvironment: true }),

    async init() {
      // No program is found, so that `testWith` skips what would start one.
      Object.assign(process.env, { PATH: "", BYTERAIL_NO_SKIP: "" });
      script.files = testFiles("tests", tests, first).filter((file) => file.startsWith(only));
      script.path = join(process.cwd(), "tests/mutation.cjs");
      script.compiled = new Script(await bundle(script.files), { filename: script.path });
    },

    async dryRun() {
      stryker.activeMutant = undefined;
      const results = await runTests(script, stryker, { bail: false });
      return { status: DryRunStatus.Complete, tests: results, mutantCoverage: stryker.mutantCoverage };
    },

    async mutantRun({ activeMutant, testFilter, hitLimit }) {
      Object.assign(stryker, { activeMutant: activeMutant.id, hitLimit, hitCount: 0 });
      // The whole of every file with a test that reaches the mutant: what one test makes of a layout others find made.
      const files = testFilter && new Set(testFilter.map((id) => id.slice(0, id.indexOf("#"))));
      const own = basename(activeMutant.fileName).replace(/\.\w+$/, ".test.ts");
      const results = await runTests(script, stryker, { bail: true, files, own });
      const endless = determineHitLimitReached(stryker.hitCount, hitLimit);
      return toMutantRunResult(endless ?? { status: DryRunStatus.Complete, tests: results });
    },
  };
}

// `own` is the name of the test file that most mutants of a source die in; it comes first.
async function runTests({ files, path, compiled }, stryker, { bail, files: wanted, own }) {
  const modules = compiled.runInThisContext()(createRequire(path), { ...vitest, expect, vi });
  const results = [];
  let failed = false;
  const runner = {
    config: settings,
    importFile: (file) => modules[file](),
    onBeforeRunTask: (test) => {
      if (failed && bail) test.mode = "skip";
      // What a file does outside its tests is no test's: a skipped test has no end that would say so.
      stryker.currentTestId = test.mode === "skip" ? undefined : idOf(test);
    },
    onAfterRunTask: (test) => {
      failed ||= test.result?.state === "fail";
      stryker.currentTestId = undefined;
    },
  };
  const isOwn = (file) => basename(file) === own;
  for (const name of [...files.filter(isOwn), ...files.filter((file) => !isOwn(file))]) {
    if (wanted && !wanted.has(name)) continue;
    const [file] = await vitest.startTests([name], runner);
    const run = testsOf(file).filter(({ result }) => result?.state === "pass" || result?.state === "fail");
    // What fails outside any test, such as a station assembled for all of them, fails the file.
    const broken = file.result?.state === "fail" && !run.some(({ result }) => result.state === "fail");
    results.push(...(broken ? [...run, file] : run).map(resultOf));
    failed ||= broken;
    if (failed && bail) break;
  }
  return results;
}

const settings = {
  root: process.cwd(),
  setupFiles: [],
  passWithNoTests: true,
  allowOnly: true,
  sequence: { shuffle: false, concurrent: false, seed: 1, hooks: "stack", setupFiles: "list" },
  maxConcurrency: 1,
  testTimeout: 60_000,
  hookTimeout: 60_000,
  retry: 0,
  tags: [],
  strictTags: false,
};

function testsOf(suite) {
  return suite.tasks.flatMap((task) => (task.type === "test" ? [task] : testsOf(task)));
}

function titleOf(task) {
  const around = task.suite && task.suite !== task.file ? `${titleOf(task.suite)} › ` : "";
  return around + task.name;
}

function idOf(task) {
  return `${task.file.filepath}#${titleOf(task)}`;
}

function resultOf(task) {
  return {
    id: idOf(task),
    name: titleOf(task),
    fileName: join(process.cwd(), "tests", task.file.filepath),
    timeSpentMs: task.result.duration ?? 0,
    ...(task.result.state === "fail"
      ? { status: TestStatus.Failed, failureMessage: task.result.errors?.[0]?.message ?? "failed" }
      : { status: TestStatus.Success }),
  };
}
