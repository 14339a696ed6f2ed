// Data that nobody sound would send, for as long as asked: `fuzz [--minutes 10] [--seed 1]`. Ends with 1 where a call threw
// anything but the library's own error, took more than a second (a search of diagnosis, a command: five), changed a
// prototype, or memory grew.

import { parseArgs } from "node:util";
import { station } from "@byterail/testkit";
import { assemble, type Layout } from "byterail";
import fc from "fast-check";
import {
  attackBytes,
  attackDescription,
  attackDiagnosis,
  bytesAndValues,
  descriptions,
  observations,
  type Outcome,
} from "../support/hostile.js";
import { attackCommand, hostileFiles } from "../support/hostileFiles.js";
import { machineLine } from "../support/machine.js";
import { markdownTable } from "../support/markdownTable.js";
import { writeSection } from "../support/page.js";

const { values: options } = parseArgs({
  options: { minutes: { type: "string", default: "10" }, seed: { type: "string", default: "1" } },
});
const minutes = Number(options.minutes);
/** In milliseconds: a call, a search for pairs of faults, and a command, which is a new process on a machine that may be busy. */
const longest = { call: 1000, search: 5000, command: 5000 };
/** Memory that comes and goes by chance: compiled code, caches of the engine. */
const memoryNoise = 24 * 2 ** 20;

interface Tally {
  calls: number;
  slowest: number;
  foreign: number;
}

const tallies = new Map<string, Tally>();
const offenders: string[] = [];
const keys = () => Reflect.ownKeys(Object.prototype).length + Reflect.ownKeys(Array.prototype).length;
const keysBefore = keys();
let seed = Number(options.seed);
let rounds = 0;
let memory = 0;
const start = Date.now();

while (Date.now() - start < minutes * 60_000) {
  const [data] = fc.sample(descriptions(), { seed: seed++, numRuns: 1 });
  count(attackDescription(data), data);
  const [description] = fc.sample(station(), { seed: seed++, numRuns: 1 });
  const layout = assemble(description!) as Layout;
  const [given] = fc.sample(bytesAndValues(layout), { seed: seed++, numRuns: 1 });
  count(attackBytes(layout, ...given!), description);
  const [seen] = fc.sample(observations(layout), { seed: seed++, numRuns: 1 });
  count([attackDiagnosis(layout, seen!)], { description, seen }, longest.search);
  // A command is a process: one round of them takes as long as a hundred others.
  if (rounds % 100 === 0) {
    const [files] = fc.sample(hostileFiles(), { seed: seed++, numRuns: 1 });
    count(await attackCommand(files!), files, longest.command);
  }
  // The first hundred rounds make what the engine keeps.
  if (++rounds === 100) memory = heap();
}

const growth = heap() - memory;
const polluted = keys() !== keysBefore;
const rows = [...tallies].map(([what, { calls, slowest, foreign }]) => [
  what,
  calls.toLocaleString("en"),
  `${slowest.toFixed(0)} ms`,
  String(foreign),
]);
const grown = growth > memoryNoise;
const tables = [
  markdownTable(["call", "calls", "slowest", "not our own error"], rows, [0]),
  `${minutes} minutes, seed ${options.seed}. Prototypes ${polluted ? "CHANGED" : "unchanged"}. Heap after the first 100 rounds and at the end: ${(growth / 2 ** 20).toFixed(1)} MiB more (${grown ? "MORE THAN" : "below"} ${memoryNoise / 2 ** 20}). ${machineLine()}.`,
].join("\n\n");
console.log(tables);
if (offenders.length > 0) console.log(offenders.slice(0, 10).join("\n"));
writeSection("docs/reliability.md", "fuzz", tables);
process.exitCode = offenders.length > 0 || polluted || grown ? 1 : 0;

function count(outcomes: readonly Outcome[], data: unknown, limit = longest.call): void {
  for (const { what, time, foreign } of outcomes) {
    const tally = tallies.get(what) ?? { calls: 0, slowest: 0, foreign: 0 };
    tallies.set(what, tally);
    tally.calls++;
    tally.slowest = Math.max(tally.slowest, time);
    if (foreign !== null) tally.foreign++;
    if (foreign !== null || time > limit) {
      const shown = JSON.stringify(data, (_, value) => (typeof value === "bigint" ? String(value) : value));
      offenders.push(`${what}, ${time.toFixed(0)} ms, ${String(foreign)}: ${shown}`);
    }
  }
}

function heap(): number {
  globalThis.gc!();
  globalThis.gc!();
  return process.memoryUsage().heapUsed;
}
