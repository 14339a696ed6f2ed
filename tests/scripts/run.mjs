// Runs a proof: `node scripts/run.mjs NAME [its options]`. Each script beside this one is a proof; one in TypeScript is bundled
// first. Without a name, lists them.

import { spawnSync } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildSync } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const [name, ...args] = process.argv.slice(2);
const proofs = readdirSync(here)
  .filter((file) => /\.(ts|mjs)$/.test(file) && file !== "run.mjs")
  .map((file) => basename(file).replace(/\.\w+$/, ""));

if (name === undefined || !proofs.includes(name)) {
  console.error(`usage: npm run proof -- ${proofs.join("|")} [options]`);
  process.exitCode = 2;
} else {
  const script = join(here, `${name}.mjs`);
  const file = existsSync(script) ? script : bundled(name);
  process.exitCode = spawnSync(process.execPath, ["--expose-gc", file, ...args], { stdio: "inherit" }).status ?? 1;
}

function bundled(proof) {
  const outfile = join(here, `../.cache/scripts/${proof}.mjs`);
  buildSync({
    entryPoints: [join(here, `${proof}.ts`)],
    outfile,
    bundle: true,
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
  });
  return outfile;
}
