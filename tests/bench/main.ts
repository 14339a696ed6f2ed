/**
 * The benchmark. It reports; it judges nothing. `--quick` measures only this project, and shorter; any other word picks the
 * operations whose workload and title contain it (`"B encode"`). A whole run writes its tables into the page.
 */
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Layout, assemble } from "byterail";
import { assemblyTimes, memoryPerPoint } from "./assembly.js";
import { byHandModule } from "./byHandModule.js";
import { generatedModule } from "./generated.js";
import { machineLine } from "../support/machine.js";
import { checkEqual, operationsFor } from "./operations.js";
import { writeSection } from "../support/page.js";
import { peerReports } from "./peers/peers.js";
import { consumed, measure, type Pace } from "./rounds.js";
import { assemblyTable, memoryLine, ownTable, peerTable, type Row } from "./table.js";
import { workloads } from "./workloads.js";

const quick = process.argv.includes("--quick");
const only = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const folder = dirname(fileURLToPath(import.meta.url));

// The optimising compiler waits for thousands of repetitions where a function is as long as some here.
const pace: Pace = quick
  ? { rounds: 31, milliseconds: 1, warmUp: { times: 10_000, milliseconds: 1500 } }
  : { rounds: 101, milliseconds: 2, warmUp: { times: 30_000, milliseconds: 4000 } };
const heavyPace: Pace = quick
  ? { rounds: 7, milliseconds: 1, warmUp: { times: 100, milliseconds: 200 } }
  : { rounds: 15, milliseconds: 1, warmUp: { times: 100, milliseconds: 2000 } };

const before = machineLine();
console.log(before);
const memory = memoryPerPoint();
const rows: Row[] = [];
for (const work of workloads) {
  const hand = await byHandModule(work, folder);
  const module = await generatedModule(assemble(work.station) as Layout, folder);
  // During its first runs the engine still changes the shape of what a literal makes; values of many shapes would be
  // measured otherwise.
  for (let k = 0; k < 5000; k++) hand.decode(work.frames[k % work.frames.length]!);
  checkEqual(work, hand, module);
  const captured = quick && work.id === "B" ? 10_000 : 100_000;
  for (const operation of operationsFor(work, hand, module, captured)) {
    if (only.length > 0 && !only.some((word) => `${work.id} ${operation.title}`.includes(word))) continue;
    const times = measure(operation.contenders, operation.per >= captured ? heavyPace : pace);
    rows.push({ work: work.id, operation, times: times.map((time) => time / operation.per) });
  }
}
const tables = [ownTable(rows)];
if (only.length === 0) tables.push(assemblyTable(assemblyTimes(pace)), memoryLine(memory));
if (only.length === 0 && !quick) {
  tables.push(peerTable(peerReports(folder, { ...pace, rounds: 51 }), rows));
  const text = [
    `Measured on ${before.replace(/;.*/, "")}; load average before ${loadOf(before)}, after ${loadOf(machineLine())}.`,
    `Processor time of V8 in one thread, medians of ${pace.rounds} interleaved rounds; a ratio is to the code by hand in the same process.`,
    ...tables,
  ];
  writeFileSync(join(folder, "tables.md"), text.join("\n\n"));
  writeSection("docs/performance.md", "bench", text.join("\n\n"));
}
console.log(tables.join("\n\n"));
console.log(`${machineLine()}; results consumed: ${consumed.toExponential(3)}`);

function loadOf(line: string): string {
  return line.slice(line.lastIndexOf("average") + 8);
}
