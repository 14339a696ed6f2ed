// How time grows with the size of a station, and what many stations cost. A report: nothing fails by it.

import { compare } from "@byterail/commissioning";
import { assemble, type Layout, type Station } from "byterail";
import { markdownTable } from "../support/markdownTable.js";
import { machineLine } from "../support/machine.js";
import { writeSection } from "../support/page.js";

const runs = 9;
const rows: string[][] = [];
const bytesOfBits = [360, 720, 1440];

series(
  bytesOfBits.map((bytes) => {
    const old = bits(bytes, 0);
    return { what: `assemble ${grouped(8 * bytes)} bits`, points: 8 * bytes, action: () => assemble(old) };
  }),
);
series(
  bytesOfBits.map((bytes) => {
    const [old, now] = [assemble(bits(bytes, 0)) as Layout, assemble(bits(bytes, 1)) as Layout];
    const what = `compare two of ${grouped(8 * bytes)} bits, all moved by one`;
    return { what, points: 8 * bytes, action: () => compare(old, now) };
  }),
);
series(
  [2_500, 5_000, 10_000].map((count) => {
    const stations = Array.from({ length: count }, (_, k) => small(k));
    const what = `assemble ${grouped(count)} stations of 20 points`;
    return { what, points: 20 * count, action: () => stations.map((each) => assemble(each)) };
  }),
);

const table = [
  markdownTable(["what", "points", "time", "per point", "growth"], rows, [0]),
  `Medians of ${runs} runs that take turns. Growth: time over that of the row above, of half as many points; 2.0 is linear. ${machineLine()}.`,
].join("\n\n");
console.log(table);
writeSection("docs/reliability.md", "scale", table);

interface Task {
  readonly what: string;
  readonly points: number;
  readonly action: () => unknown;
}

// The same at growing sizes. The tasks take turns, so that all have been optimised alike and a busy machine is busy for all.
function series(tasks: readonly Task[]): void {
  for (let warmUp = 0; warmUp < 3; warmUp++) for (const { action } of tasks) action();
  const times = tasks.map((): number[] => []);
  for (let run = 0; run < runs; run++)
    for (const [k, { action }] of tasks.entries()) {
      globalThis.gc!();
      const start = performance.now();
      action();
      times[k]!.push(performance.now() - start);
    }
  const medians = times.map(median);
  for (const [k, { what, points }] of tasks.entries()) {
    const time = medians[k]!;
    const growth = k === 0 ? "" : (time / medians[k - 1]!).toFixed(1);
    rows.push([what, grouped(points), `${time.toFixed(1)} ms`, `${((1000 * time) / points).toFixed(1)} µs`, growth]);
  }
}

function median(numbers: readonly number[]): number {
  return [...numbers].sort((a, b) => a - b)[numbers.length >> 1]!;
}

function grouped(number: number): string {
  return number.toLocaleString("en");
}

// Modules of 64 bits, behind `before` spare bits in front.
function bits(bytes: number, before: number): Station {
  const module = (m: number) => ({
    name: `bank${m}`,
    inputs: [
      ...(m === 0 && before > 0 ? [{ spareBits: before }] : []),
      ...Array.from({ length: 64 }, (_, k) => ({ name: `bank${m}_${k}`, type: "bit" as const })),
    ],
  });
  return { format: 1, name: "wide", byteOrder: "big", modules: Array.from({ length: bytes / 8 }, (_, m) => module(m)) };
}

function small(k: number): Station {
  const scale = { counts: [0, 32767], value: [0, 100 + k], unit: "%" } as const;
  return {
    format: 1,
    name: `station${k}`,
    byteOrder: k % 2 ? "big" : "little",
    modules: [
      {
        name: "switches",
        inputs: Array.from({ length: 16 }, (_, n) => ({ name: `switch${n}`, type: "bit" as const })),
      },
      {
        name: "levels",
        inputs: Array.from({ length: 4 }, (_, n) => ({ name: `level${n}`, type: "int16" as const, scale })),
      },
    ],
  };
}
