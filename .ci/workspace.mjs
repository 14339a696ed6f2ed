// The commands of package.json. Each brings the workspace up to date first (dependencies, built packages) and then does
// its own part; a second run repeats nothing that has not changed.

import { join } from "node:path";
import { build } from "./build.mjs";
import { install, relock } from "./install.mjs";
import { packagesInOrder, readManifest } from "./packages.mjs";
import { Failed, root, run, shell, tool } from "./process.mjs";

const commands = {
  /** The example that shows Byterail at work. */
  demo() {
    build(readManifest("examples").name);
    return run("npm", ["run", "--silent", "demo"], { cwd: join(root, "examples"), shell });
  },

  /** All tests; arguments go to vitest, such as `npm test -- scale`. */
  test(...args) {
    build();
    return node(tool("vitest", { workspace: "tests" }), ["run", ...args], "tests");
  },

  build() {
    build();
    return 0;
  },

  /** The types of packages, tests and examples. */
  typecheck() {
    build();
    // The page of the byte map runs in browsers and has settings of its own.
    const page = "packages/generate/src/html/page";
    const folders = [...packagesInOrder().map(({ folder }) => folder), page, "tests", "examples"];
    const statuses = folders.map((folder) => node(tool("typescript", { command: "tsc" }), ["-p", folder]));
    return Math.max(...statuses);
  },

  lint(...args) {
    return node(tool("@biomejs/biome", { command: "biome" }), ["lint", "--error-on-warnings", ...args]);
  },

  /** Formats everything; with `--check` it changes nothing and fails where something would change. */
  format(...args) {
    const how = args.includes("--check") ? [] : ["--write"];
    return node(tool("@biomejs/biome", { command: "biome" }), ["format", ...how]);
  },

  /** The reference, from the docstrings, into docs/api. */
  docs() {
    build();
    return node(tool("typedoc", { workspace: "docs" }), [], "docs");
  },

  /** The benchmark: a report; `npm run bench -- --quick` only our own rows. */
  bench(...args) {
    build();
    return node("bench/run.mjs", args, "tests");
  },

  /** A proof that takes longer than a test may; without a name, lists them. */
  proof(...args) {
    build();
    return node("scripts/run.mjs", args, "tests");
  },

  relock() {
    relock();
    return 0;
  },

  /** The built command, run in the folder from which npm was called. */
  byterail(...args) {
    build(readManifest("packages/cli").name);
    return run(process.execPath, [join(root, "packages/cli/dist/byterail.js"), ...args], {
      cwd: process.env.INIT_CWD ?? process.cwd(),
    });
  },
};

function node(file, args, folder = ".") {
  return run(process.execPath, [file, ...args], { cwd: join(root, folder) });
}

const [name, ...args] = process.argv.slice(2);
try {
  if (!Object.hasOwn(commands, name ?? ""))
    throw new Failed(`usage: node .ci/workspace.mjs ${Object.keys(commands).join("|")}`);
  if (name !== "relock") install();
  process.exitCode = commands[name](...args);
} catch (error) {
  if (!(error instanceof Failed)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
