// Bundles the bench and runs it in a fresh process: `node bench/run.mjs [--quick] [part of an operation's title …]`.

import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildSync } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const outdir = join(here, "../.cache/bench");
const entryPoints = [join(here, "main.ts"), join(here, "peers/child.ts")];
buildSync({
  entryPoints,
  outdir,
  bundle: true,
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  outExtension: { ".js": ".mjs" },
});
const args = ["--expose-gc", "--single-threaded", join(outdir, "main.mjs"), ...process.argv.slice(2)];
process.exitCode = spawnSync(process.execPath, args, { stdio: "inherit" }).status ?? 1;
