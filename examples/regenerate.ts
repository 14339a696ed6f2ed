// Every file that is made from the keg washer: its station.json, one of each target, the loop-check sheet; and what the
// commands on the pages print. The tests check that they are fresh.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { kegWasher } from "./kegWasher.station.js";
import { pages, withOutputs } from "./pages.js";

const here = dirname(fileURLToPath(import.meta.url));
const command = fileURLToPath(import.meta.resolve("@byterail/cli/dist/byterail.js"));
const station = "kegWasher.json";

// The two ends of a span stand in one line, as one would write them.
const text = JSON.stringify(kegWasher, null, 2).replace(/\[\s+(-?[\d.]+),\s+(-?[\d.]+)\s+\]/g, "[$1, $2]");
writeFileSync(join(here, station), `${text}\n`);
const byterail = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], { cwd: here, encoding: "utf8" });
  process.stderr.write(stderr);
  if (status !== 0) process.exitCode = status ?? 1;
  return stdout.trimEnd();
};

const generated = byterail("generate", station, "--out", "generated", "--to", "all");
console.log(`\nGenerated from ${station} into examples/generated:\n${generated}`);
byterail("sheet", station, "--html", "--out", "generated/kegWasher.sheet.html");

// Goldens of a controller that is unlike the usual one in every option; for the tests alone.
const unusual = [
  ...["--to", "structured-text", "bit-copies", "csv", "--elements", "16", "--element-order", "high-first"],
  ...["--arithmetic", "real", "--count", "words", "--inputs-at", "64"],
];
byterail("generate", station, "--out", "../tests/goldens", ...unusual);

// Written once all commands have run, so that a page is never half new.
for (const page of pages) writeFileSync(join(here, page.file), withOutputs(page, command));

console.log("\nRead on: README.md for the command line and the cautions, packages/core for the library.");
