// How time grows with the size of a station, and what many stations cost. A report: nothing fails by it.

import { compare } from "@byterail/commissioning";
import { assemble, type Layout, type Station } from "byterail";
import { markdownTable } from "../support/markdownTable.js";
import { machineLine } from "../support/machine.js";
import { writeSection } from "../support/page.js";

const rows: string[][] = [];
const bytesOfBits = [360, 720, 1440];

for (const bytes of bytesOfBits) {
  const old = bits(bytes, 0);
  row(`assemble ${(8 * bytes).toLocaleString("en")} bits`, 8 * bytes, () => assemble(old));
}
for (const bytes of bytesOfBits) {
  const [old, now] = [assemble(bits(bytes, 0)) as Layout, assemble(bits(bytes, 1)) as Layout];
  row(`compare two of ${(8 * bytes).toLocaleString("en")} bits, all moved by one`, 8 * bytes, () => compare(old, now));
}
for (const count of [2_500, 5_000, 10_000]) {
  const stations = Array.from({ length: count }, (_, k) => small(k));
  row(`assemble ${count.toLocaleString("en")} stations of 20 points`, 20 * count, () =>
    stations.map((each) => assemble(each)),
  );
}

const table = [
  markdownTable(["what", "points", "time", "per point"], rows, [0]),
  `Medians of five. Per point, time stays even where it grows no faster than the station. ${machineLine()}.`,
].join("\n\n");
console.log(table);
writeSection("docs/reliability.md", "scale", table);

function row(what: string, points: number, action: () => unknown): void {
  action();
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    action();
    return performance.now() - start;
  });
  const median = times.sort((a, b) => a - b)[2]!;
  rows.push([
    what,
    points.toLocaleString("en"),
    `${median.toFixed(0)} ms`,
    `${((1000 * median) / points).toFixed(1)} µs`,
  ]);
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
