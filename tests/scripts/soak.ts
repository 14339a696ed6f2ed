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
/** Growth per frame, in bytes, below which the heap is flat; one number kept of every frame would be 8. */
const flatBelow = 0.25;

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
// The first half is the warm-up: what is compiled and kept once is there by then.
const growth = slope(heaps.slice(samples / 2)) / (frames / samples);
const flat = growth < flatBelow;
const rows = heaps.map((heap, k) => [((k + 1) * (frames / samples)).toLocaleString("en"), megabytes(heap)]);
const tables = [
  markdownTable(["frames", "heap after collection, MiB"], rows, []),
  `Slope of the line through the last ${samples / 2} samples: ${growth.toFixed(3)} bytes a frame (flat below ${flatBelow}): ${flat ? "flat" : "NOT FLAT"}. ${changes.toLocaleString("en")} changes told, ${bytes.toLocaleString("en")} bytes encoded.`,
  `Seed 1. ${machineLine()}.`,
].join("\n\n");
console.log(tables);
writeSection("docs/reliability.md", "soak", tables);
process.exitCode = flat ? 0 : 1;

function heapInUse(): number {
  globalThis.gc!();
  globalThis.gc!();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

// Of the straight line by least squares, per step.
function slope(numbers: readonly number[]): number {
  const middle = (numbers.length - 1) / 2;
  const over = numbers.reduce((sum, _, k) => sum + (k - middle) ** 2, 0);
  return numbers.reduce((sum, number, k) => sum + number * (k - middle), 0) / over;
}
