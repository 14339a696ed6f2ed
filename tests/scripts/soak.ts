// A million frames through decode, diff, force, patch and encode, with the heap looked at on the way: it has to be flat.

import { forcing } from "@byterail/commissioning";
import { assemble, decode, encode, patch } from "byterail";
import { diff } from "byterail/frames";
import { kegStation } from "../commissioning/kegStation.js";
import { frameOf, randomFrom } from "../generate/support/stations.js";
import { markdownTable } from "../support/markdownTable.js";
import { machineLine } from "../support/machine.js";
import { writeSection } from "../support/page.js";

const frames = 1_000_000;
const samples = 20;
/** A heap that grows by less than this between the two halves is flat: collecting it leaves such differences by chance. */
const noise = 256 * 1024;

const layout = assemble(kegStation);
const { inputs, outputs } = layout;
const random = randomFrom(1);
const seen = Array.from({ length: 512 }, () => frameOf(inputs as never, random));
const programs = Array.from({ length: 512 }, () => frameOf(outputs as never, random));
const heaps: number[] = [];
let changes = 0;
let bytes = 0;
let before = seen[0]!;

for (let sample = 0; sample < samples; sample++) {
  // The log of a table of forces keeps every change, so a table lasts for a piece of work, and so does it here.
  for (let piece = 0; piece < frames / samples / 1000; piece++) {
    const forces = forcing(layout, { now: () => sample });
    for (let k = 0; k < 1000; k++) {
      const frame = seen[(k * 7 + piece) & 511]!;
      decode(inputs, frame);
      changes += diff(inputs, before, frame).length;
      before = frame;
      const program = programs[(k * 5 + piece) & 511]!;
      if (k % 10 === 0) forces.force("steam", k % 20 === 0);
      const forced = forces.apply(program);
      if (k % 10 === 5) forces.releaseAll();
      patch(outputs, forced, { drain: k % 2 === 0 });
      // What the station cannot send is no program of ours: only values that encode accepts go round.
      bytes += encode(outputs, decode(outputs, forced), { outOfRange: "clamp" }).length;
    }
    forces.releaseAll();
    forces.close();
  }
  heaps.push(heapInUse());
}

const megabytes = (heap: number) => (heap / 2 ** 20).toFixed(2);
const half = samples / 2;
const mean = (from: number, to: number) => heaps.slice(from, to).reduce((sum, heap) => sum + heap, 0) / (to - from);
// The first sample is the warm-up.
const growth = mean(half, samples) - mean(1, half);
const flat = growth < noise;
const rows = [0, 4, 9, 14, 19].map((k) => [((k + 1) * (frames / samples)).toLocaleString("en"), megabytes(heaps[k]!)]);
const tables = [
  markdownTable(["frames", "heap after collection, MiB"], rows, []),
  `Mean of the second half less mean of the first, warm-up aside: ${(growth / 1024).toFixed(0)} KiB (flat below ${noise / 1024} KiB): ${flat ? "flat" : "NOT FLAT"}. ${changes.toLocaleString("en")} changes told, ${bytes.toLocaleString("en")} bytes encoded.`,
  `Seed 1. ${machineLine()}.`,
].join("\n\n");
console.log(tables);
writeSection("docs/reliability.md", "soak", tables);
process.exitCode = flat ? 0 : 1;

function heapInUse(): number {
  globalThis.gc!();
  globalThis.gc!();
  return process.memoryUsage().heapUsed;
}
