// The kit as its users get it: packed, installed by npm into an empty project, used by a test file of that project.

import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const project = mkdtempSync(join(tmpdir(), "byterail-fresh-"));

/** Time for npm to fetch what is not in its cache yet; a busy disk takes long to remove it, too. */
const patience = 300_000;

afterAll(() => rmSync(project, { recursive: true, force: true }), patience);

const station = `import { assemble } from "byterail";

export const { inputs, outputs } = assemble({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    { name: "meter", inputs: [{ name: "flow", type: "uint16", unit: "L/h" }, { name: "low", type: "bit" }] },
    { name: "valves", outputs: [{ name: "rinse", type: "bit" }, { name: "steam", type: "bit" }] },
  ],
});
`;

const vitestFile = `import { frame, frameOf } from "@byterail/testkit";
import "@byterail/testkit/vitest";
import fc from "fast-check";
import { expect, test } from "vitest";
import { inputs, outputs } from "./station.js";

test("a frame decodes", () => {
  expect(frameOf("02 2B | 01")).toDecodeTo(inputs, { flow: 555, low: true }, { counts: 0.5 });
  expect({ rinse: true, steam: false }).toEncodeAs(outputs, "01");
  expect(inputs).toHaveLayout({ flow: "%IW0", low: { byte: 2, bit: 0 } });
  fc.assert(fc.property(frame(inputs), (bytes) => bytes.length === 3));
});

test("a frame with its bytes exchanged", () => {
  expect(frameOf("2B 02 | 01")).toDecodeTo(inputs, { flow: 555 });
});
`;

// Jest runs JavaScript; the rest is the same.
const jestFile = vitestFile
  .replace('import "@byterail/testkit/vitest";', 'import { matchers } from "@byterail/testkit/jest";')
  .replace("vitest", "@jest/globals")
  .replace("\ntest(", "\nexpect.extend(matchers);\n\ntest(");

const wrong = (lines: string) => `import "@byterail/testkit/vitest";
import { expect } from "vitest";
import { inputs, outputs } from "./station.js";
${lines}
`;

beforeAll(() => {
  const tarballs = ["core", "testkit"].map((folder) => pack(join(root, "packages", folder)));
  const [byterail, testkit] = tarballs.map((file) => `file:${file}`);
  const installed = (name: string) => manifest(join(root, "tests/node_modules", name)).version;
  const versions = Object.fromEntries(
    ["vitest", "vite", "fast-check", "typescript"].map((name) => [name, installed(name)]),
  );
  write("package.json", {
    type: "module",
    private: true,
    dependencies: { byterail, "@byterail/testkit": testkit },
    devDependencies: { ...versions, jest: "30.5.2", "@types/jest": "30.0.0" },
    overrides: { vite: "$vite" },
  });
  write("station.ts", station);
  write("frames.test.ts", vitestFile);
  write("jest/station.js", station);
  write("jest/frames.test.js", jestFile);
  run("npm", ["install", "--prefer-offline", "--no-audit", "--no-fund"], { wanted: 0 });
}, patience);

describe("in a fresh project", () => {
  test("vitest runs the matchers; the failing test shows the annotated dump and the likely reason", () => {
    const { output } = run(process.execPath, ["node_modules/vitest/vitest.mjs", "run", "frames.test.ts"], {
      wanted: 1,
    });
    expect(output).toContain("1 failed | 1 passed");
    expect(output).toContain("expected the inputs to decode to the given values, but 1 of 1 point differs");
    expect(output).toContain("✗ 0    2B 02  flow  11010 L/h  expected 555 L/h = 02 2B; 10455 counts too high");
    expect(output).toContain("  2.0  01     low   true");
    expect(output).toContain("likely reason: flow matches with bytes exchanged");
  });

  test("jest does, too", () => {
    const { output } = run(
      process.execPath,
      ["--experimental-vm-modules", "node_modules/jest/bin/jest.js", "--rootDir", "jest"],
      { wanted: 1 },
    );
    expect(output).toContain("1 failed, 1 passed");
    expect(output).toContain("✗ 0    2B 02  flow  11010 L/h  expected 555 L/h = 02 2B; 10455 counts too high");
    expect(output).toContain("likely reason: flow matches with bytes exchanged");
  });

  for (const [module, moduleResolution] of [
    ["node16", "node16"],
    ["esnext", "bundler"],
  ] as const) {
    const compile = (...files: readonly string[]) => tsc({ module, moduleResolution, types: [] }, files);

    test(`the types of the test file are right under moduleResolution ${moduleResolution}`, () => {
      expect(compile("frames.test.ts")).toEqual([]);
    });

    test(`a wrong name, value or place does not compile under ${moduleResolution}`, () => {
      write("wrong.ts", wrong(mistakes.map(([line]) => line).join("\n")));
      const errors = compile("wrong.ts");
      expect(errors).toHaveLength(mistakes.length);
      mistakes.forEach(([, message], k) => expect(errors[k]).toMatch(message));
    });

    test(`jest's expect has the matchers, from its package and as a global, under ${moduleResolution}`, () => {
      const use = `expect(frameOf("02 2B | 01")).toDecodeTo(inputs, { flow: 555 });
expect({ rinse: true, steam: false }).toEncodeAs(outputs, "01");
expect(inputs).toHaveLayout({ flow: "%IW0" });
// @ts-expect-error There is no such point.
expect(frameOf("02 2B | 01")).toDecodeTo(inputs, { flaw: 555 });
expect.extend(matchers);`;
      const imports = `import { frameOf } from "@byterail/testkit";\nimport { matchers } from "@byterail/testkit/jest";\nimport { inputs, outputs } from "./station.js";\n`;
      write("jest-global.ts", `${imports}${use}\n`);
      write("jest-import.ts", `import { expect } from "expect";\n${imports}${use}\n`);
      expect(tsc({ module, moduleResolution, types: ["jest"] }, ["jest-global.ts"])).toEqual([]);
      expect(compile("jest-import.ts")).toEqual([]);
    });
  }
});

const mistakes: readonly (readonly [line: string, message: RegExp])[] = [
  ["expect(new Uint8Array(3)).toDecodeTo(inputs, { flaw: 555 });", /'flaw' does not exist/],
  ["expect(new Uint8Array(3)).toDecodeTo(inputs, { flow: true });", /'boolean' is not assignable to type 'number'/],
  ["expect(new Uint8Array(3)).toDecodeTo({ inputs, outputs }, {});", /'inputs' does not exist in type 'ImageLayout/],
  ['expect({ rinse: true }).toEncodeAs(outputs, "01");', /"these are no values of the image"/],
  [
    'expect({ rinse: true, steam: true, x: 1 }).toEncodeAs(outputs, "01");',
    /"one of these names is no point of the image"/,
  ],
  ['expect(inputs).toHaveLayout({ flaw: "%IW0" });', /'flaw' does not exist/],
  ['expect(inputs).toHaveLayout({ flow: "IW0" });', /Type '"IW0"' is not assignable/],
];

/** Packs a package as pnpm does, which puts versions for `workspace:*`, and returns the file. */
function pack(folder: string): string {
  const pnpm = ["--yes", manifest(root).packageManager, "pack", "--json", "--pack-destination", project];
  const { stdout } = run("npx", pnpm, { wanted: 0, cwd: folder });
  return (JSON.parse(stdout) as { readonly filename: string }).filename;
}

/** Errors of the compiler, each with the lines that belong to it. */
function tsc(options: object, files: readonly string[]): readonly string[] {
  const compilerOptions = { target: "es2022", lib: ["es2022", "dom"], strict: true, noEmit: true, skipLibCheck: true };
  write("tsconfig.json", { compilerOptions: { ...compilerOptions, ...options }, files });
  const { stdout } = run(process.execPath, ["node_modules/typescript/bin/tsc", "-p", "."], {});
  return stdout.split(/\n(?=\S)/).filter((error) => error.trim());
}

function run(
  command: string,
  args: readonly string[],
  { wanted, cwd = project }: { readonly wanted?: number; readonly cwd?: string },
) {
  // A vitest within a vitest must not take itself for its worker.
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^VITEST|^NODE_ENV$|^FORCE_COLOR$/.test(name)),
  );
  const shell = process.platform === "win32";
  const { status, stdout, stderr } = spawnSync(command, args, {
    cwd,
    encoding: "utf8",
    shell,
    env: { ...env, NO_COLOR: "1" },
  });
  const output = `${stdout}${stderr}`;
  if (wanted !== undefined) expect(status, output).toBe(wanted);
  return { stdout, output };
}

function write(name: string, content: string | object): void {
  const path = join(project, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, typeof content === "string" ? content : JSON.stringify(content));
}

function manifest(folder: string): { readonly version: string; readonly packageManager: string } {
  return JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
}
