// The steps of .ci/run. Each is counted beside the tests, a failing one stops none of the others.

import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { packagesInOrder, readManifest, workspaces } from "./packages.mjs";
import { pack, packedStepsOf, consumerSteps } from "./packed.mjs";
import { Failed, root, run, shell } from "./process.mjs";
import { publishedStepsOf } from "./published.mjs";
import { installSystemPackages } from "./system.mjs";

const scratch = mkdtempSync(join(tmpdir(), "byterail-checks-"));
const count = { passed: 0, failed: 0 };

try {
  step("system packages", installSystemPackages);
  tests();
  step("demo", () => npm("demo"));
  step("types", () => npm("typecheck"));
  step("documentation", () => npm("docs"));
  step("lint", () => npm("lint"));
  step("format", () => npm("format", "--", "--check"));
  step("visible top level", visibleTopLevel);
  step("lock file names no host", lockFileNamesNoHost);
  step("core is pure", coreIsPure);
  step("no install scripts", noInstallScripts);
  packed();
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
console.log(`${count.passed} passed, ${count.failed} failed`);
process.exitCode = count.failed === 0 && count.passed > 0 ? 0 : 1;

function step(title, check) {
  console.log(`\n— ${title}`);
  try {
    check();
    count.passed++;
  } catch (error) {
    count.failed++;
    console.log(`FAILED: ${title}\n${error instanceof Failed ? error.message : error.stack}`);
  }
}

function npm(script, ...args) {
  const status = run("npm", ["run", "--silent", script, ...args], { shell });
  if (status !== 0) throw new Failed(`npm run ${script} ended with ${status}`);
}

// The tests are counted one by one; a run that ends badly without a failed test, or skips one, counts as a failed step.
function tests() {
  const report = join(scratch, "tests.json");
  console.log("\n— tests");
  const status = run("npm", ["test", "--silent"], { shell, env: { ...process.env, BYTERAIL_TEST_REPORT: report } });
  const {
    numPassedTests = 0,
    numFailedTests = 0,
    numPendingTests = 0,
  } = existsSync(report) ? JSON.parse(readFileSync(report, "utf8")) : {};
  count.passed += numPassedTests;
  count.failed += numFailedTests;
  step("the test run ended well", () => {
    if (status !== 0 && numFailedTests === 0) throw new Failed(`npm test ended with ${status}`);
    if (numPassedTests === 0) throw new Failed("no test passed");
    if (numPendingTests > 0) throw new Failed(`${numPendingTests} tests were skipped`);
  });
}

function visibleTopLevel() {
  const expected =
    "packages tests docs examples package.json pnpm-workspace.yaml tsconfig.base.json README.md DEVELOPERS.md pnpm-lock.yaml LICENSE";
  const found = readdirSync(root).filter((name) => !name.startsWith(".") && name !== "node_modules");
  const [extra, missing] = [difference(found, expected.split(" ")), difference(expected.split(" "), found)];
  if (extra.length + missing.length > 0)
    throw new Failed(`too many: ${extra.join(" ")}\nmissing: ${missing.join(" ")}`);
}

function lockFileNamesNoHost() {
  const lines = readFileSync(join(root, "pnpm-lock.yaml"), "utf8").split("\n");
  const naming = lines.filter((line) => /\w:\/\/|\btarball:|\bregistry:/.test(line));
  if (naming.length > 0) throw new Failed(naming.join("\n"));
}

function coreIsPure() {
  const folder = join(root, "packages/core/src");
  const impure = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .filter((name) => /new Function|eval\(|node:/.test(readFileSync(join(folder, name), "utf8")));
  if (impure.length > 0) throw new Failed(`new Function, eval( or node: in ${impure.join(", ")}`);
  const { dependencies = {}, peerDependencies = {} } = readManifest("packages/core");
  const needed = Object.keys({ ...dependencies, ...peerDependencies });
  if (needed.length > 0) throw new Failed(`core depends on ${needed.join(", ")}`);
}

function noInstallScripts() {
  const hooks = ["preinstall", "install", "postinstall", "prepare", "prepublish", "preprepare", "postprepare"];
  const found = [".", ...workspaces().map(({ folder }) => folder)].flatMap((folder) =>
    hooks.filter((hook) => hook in (readManifest(folder).scripts ?? {})).map((hook) => `${folder}: ${hook}`),
  );
  if (found.length > 0) throw new Failed(found.join("\n"));
}

function packed() {
  const tarballs = [];
  for (const workspace of packagesInOrder()) {
    step(`pack ${workspace.manifest.name}`, () => tarballs.push(pack(workspace, scratch)));
  }
  for (const tarball of tarballs) {
    for (const [title, check] of [...packedStepsOf(tarball), ...publishedStepsOf(tarball)]) step(title, check);
  }
  for (const [title, check] of consumerSteps(tarballs, scratch)) step(title, check);
}

function difference(some, others) {
  return some.filter((name) => !others.includes(name));
}
