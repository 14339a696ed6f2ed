// The library against a slow decoder written from the rules alone, and the generated TypeScript against the library, on
// random stations: `differential [--stations 10000] [--seed 1]`. Ends with 1 where they differ.

import { parseArgs } from "node:util";
import { generate } from "@byterail/generate";
import { frame, station } from "@byterail/testkit";
import { assemble, decode, decodeByModule, type ImageLayout, type Layout, type Station } from "byterail";
import { transformSync } from "esbuild";
import fc from "fast-check";
import type { StationModule } from "../generate/support/typescript.js";
import { machineLine } from "../support/machine.js";
import { markdownTable } from "../support/markdownTable.js";
import { writeSection } from "../support/page.js";
import { differences } from "../support/reference/agreement.js";

const { values: options } = parseArgs({
  options: { stations: { type: "string", default: "10000" }, seed: { type: "string", default: "1" } },
});
const stations = Number(options.stations);
const framesEach = 2;
const tallies = { reference: tally(), typescript: tally() };
const wrong: string[] = [];

for (let k = 0; k < stations; k++) {
  const seed = Number(options.seed) + k;
  const [description] = fc.sample(station(), { seed, numRuns: 1 }) as [Station];
  const framesOf = (image: ImageLayout) => fc.sample(frame(image), { seed, numRuns: framesEach });
  const layout = assemble(description) as Layout;
  const points = framesEach * (layout.inputs.points.length + layout.outputs.points.length);
  add(tallies.reference, points, differences(description, framesOf), seed);
  add(tallies.typescript, points, await generatedDifferences(layout, framesOf), seed);
}

const rows = Object.entries({
  "slow decoder written from the rules": tallies.reference,
  "generated TypeScript, flat and by module": tallies.typescript,
}).map(([what, { stations, values, different }]) => [
  what,
  stations.toLocaleString("en"),
  values.toLocaleString("en"),
  String(different),
]);
const tables = [
  markdownTable(["the library against", "stations", "values compared", "stations that differ"], rows, [0]),
  `Seed ${options.seed}, ${framesEach} frames for each image. ${machineLine()}.`,
].join("\n\n");
console.log(tables);
if (wrong.length > 0) console.log(wrong.slice(0, 20).join("\n"));
writeSection("docs/reliability.md", "differential", tables);
process.exitCode = wrong.length > 0 ? 1 : 0;

function tally() {
  return { stations: 0, values: 0, different: 0 };
}

function add(to: ReturnType<typeof tally>, values: number, found: readonly string[], seed: number): void {
  to.stations++;
  to.values += values;
  if (found.length > 0) to.different++;
  wrong.push(...found.map((each) => `seed ${seed}: ${each}`));
}

// The module as it is, its types taken away, loaded from memory.
async function generatedDifferences(
  layout: Layout,
  framesOf: (image: ImageLayout) => readonly Uint8Array[],
): Promise<string[]> {
  const { code } = transformSync(generate(layout, ["typescript"]).files[0]!.text, { loader: "ts", format: "esm" });
  const module = (await import(`data:text/javascript;base64,${Buffer.from(code).toString("base64")}`)) as StationModule;
  const found: string[] = [];
  for (const [image, flat, grouped] of [
    [layout.inputs, module.decodeInputs, module.decodeInputsByModule],
    [layout.outputs, module.decodeOutputs, module.decodeOutputsByModule],
  ] as const)
    for (const bytes of framesOf(image as ImageLayout)) {
      if (shown(flat(bytes)) !== shown(decode(image, bytes))) found.push(`${image.direction}: decode differs`);
      if (shown(grouped(bytes)) !== shown(decodeByModule(image, bytes)))
        found.push(`${image.direction}: decode by module differs`);
    }
  return found;
}

// Every double to its last bit, −0 and NaN included, keys in any order.
function shown(value: unknown): string {
  return JSON.stringify(value, (_, each) => {
    if (typeof each === "bigint") return `${each}n`;
    if (typeof each === "number") return Object.is(each, -0) ? "-0" : String(each);
    return each !== null && typeof each === "object" ? Object.fromEntries(Object.entries(each).sort()) : each;
  });
}
