// Types stay cheap: a station of 1,024 named points, written as a literal, may not slow an editor down.

import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const budget = 50_000;

test(`a station of 1,024 points takes fewer than ${budget.toLocaleString("en")} type instantiations`, () => {
  const { status, output } = compile(stationSource());
  expect(status, output).toBe(0);
  const instantiations = Number(/^Instantiations:\s+(\d+)/m.exec(output)?.[1]);
  console.log(`type instantiations of 1,024 points: ${instantiations}`);
  expect(instantiations).toBeGreaterThan(0);
  expect(instantiations).toBeLessThan(budget);
});

test("the names and kinds of those points are inferred", () => {
  expect(compile(stationSource("values.noSuchPoint;")).output).toMatch(/noSuchPoint/);
  expect(compile(stationSource("const wrong: string = values.m2p5; void wrong;")).output).toMatch(/TS2322/);
});

// 64 modules of 16 points, in turn: bits, scaled 16-bit integers, 12-bit fields packed in words.
function stationSource(use = ""): string {
  const modules = Array.from({ length: 64 }, (_, m) => `    { name: "m${m}", inputs: [${pointsOf(m).join(", ")}] },`);
  return `import { assemble, decode } from "byterail";

const layout = assemble({
  format: 1,
  name: "big",
  byteOrder: "little",
  modules: [
${modules.join("\n")}
  ],
});
const values = decode(layout.inputs, new Uint8Array(layout.inputs.byteLength));
const bit: boolean = values.m0p0;
const scaled: number = values.m1p15;
const field: number = values.m62p3;
console.log(bit, scaled, field);
${use}
`;
}

function pointsOf(m: number): readonly string[] {
  const names = Array.from({ length: 16 }, (_, p) => `m${m}p${p}`);
  if (m % 3 === 0) return names.map((name) => `{ name: "${name}", type: "bit" }`);
  if (m % 3 === 1) {
    const scale = `{ counts: [0, 20000], value: [0, 150], unit: "°C" }`;
    return names.map((name) => `{ name: "${name}", type: "int16", scale: ${scale} }`);
  }
  return names.map((name) => `{ word: 16, fields: [{ name: "${name}", bits: 12, shift: 4 }] }`);
}

function compile(source: string): { readonly status: number | null; readonly output: string } {
  const here = dirname(fileURLToPath(import.meta.url));
  const folder = join(here, "../.cache/budget");
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "station.ts"), source);
  const settings = {
    extends: "../../../tsconfig.base.json",
    compilerOptions: {
      noEmit: true,
      declaration: false,
      isolatedDeclarations: false,
      lib: ["ES2022", "DOM"],
    },
    files: ["station.ts"],
  };
  writeFileSync(join(folder, "tsconfig.json"), JSON.stringify(settings));
  const tsc = createRequire(import.meta.url).resolve("typescript/lib/tsc.js");
  const { status, stdout } = spawnSync(process.execPath, [tsc, "-p", folder, "--extendedDiagnostics"], {
    encoding: "utf8",
  });
  return { status, output: stdout };
}
