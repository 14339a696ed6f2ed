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
const { status, stdout, stderr } = spawnSync(
  process.execPath,
  [command, "generate", station, "--to", "all", "--out", "generated"],
  {
    cwd: here,
    encoding: "utf8",
  },
);
process.stderr.write(stderr);
console.log(`\nGenerated from ${station} into examples/generated:\n${stdout.trimEnd()}`);
console.log("\nRead on: README.md for the command line and the cautions, packages/core for the library.");
process.exitCode = status ?? 1;
