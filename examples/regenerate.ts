// Every file that is made from the keg washer: its station.json, and one of each target. CI checks that they are fresh.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { kegWasher } from "./kegWasher.station.js";

const here = dirname(fileURLToPath(import.meta.url));
const command = fileURLToPath(import.meta.resolve("@byterail/cli/dist/byterail.js"));
const station = "kegWasher.json";

// The two ends of a span stand in one line, as one would write them.
const text = JSON.stringify(kegWasher, null, 2).replace(/\[\s+(-?[\d.]+),\s+(-?[\d.]+)\s+\]/g, "[$1, $2]");
writeFileSync(join(here, station), `${text}\n`);
const generate = (folder: string, ...options: string[]) =>
  spawnSync(process.execPath, [command, "generate", station, ...options, "--out", folder], {
    cwd: here,
    encoding: "utf8",
  });

const { status, stdout, stderr } = generate("generated", "--to", "all");
process.stderr.write(stderr);
console.log(`\nGenerated from ${station} into examples/generated:\n${stdout.trimEnd()}`);

// Goldens of a controller that is unlike the usual one in every option; for the tests alone.
const unusual = [
  "--elements",
  "16",
  "--element-order",
  "high-first",
  "--arithmetic",
  "real",
  "--count",
  "words",
  "--inputs-at",
  "64",
];
const goldens = generate("../tests/goldens", "--to", "structured-text", "bit-copies", "csv", ...unusual);
process.stderr.write(goldens.status === 0 ? "" : goldens.stderr);

console.log("\nRead on: README.md for the command line and the cautions, packages/core for the library.");
process.exitCode = status || goldens.status || 0;
