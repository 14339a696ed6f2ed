// The packages as their users get them: packed, unpacked, and used by a small project that knows only the packed files.

import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pnpm } from "./install.mjs";
import { entryFiles } from "./packages.mjs";
import { Failed, quietly, root, shell, tool } from "./process.mjs";

/** Pack one package and unpack it under `node_modules` of the folder `consumer` in `scratch`. */
export function pack({ folder, manifest }, scratch) {
  const out = JSON.parse(
    quietly("npx", [...pnpm(), "pack", "--json", "--pack-destination", scratch], { cwd: join(root, folder), shell }),
  );
  const unpacked = join(scratch, "consumer/node_modules", manifest.name);
  mkdirSync(unpacked, { recursive: true });
  quietly("tar", ["-xzf", out.filename, "-C", unpacked, "--strip-components=1"]);
  return {
    name: manifest.name,
    source: folder,
    file: out.filename,
    unpacked,
    manifest: readJson(join(unpacked, "package.json")),
  };
}

/** What every packed package must be, as `[title, check]`. */
export function packedStepsOf({ name, file, unpacked, manifest }) {
  return [
    [`${name}: only dist, README, LICENSE and package.json`, () => onlyTheUsual(unpacked)],
    [`${name}: every entry is packed, dependencies are versions`, () => entriesPacked(unpacked, manifest)],
    [`${name}: publint`, () => quietly(process.execPath, [tool("publint"), "run", file, "--strict"])],
  ];
}

// Entries that add to the types of a test runner need that runner around them: tests/testkit/freshProject.test.ts uses them.
const ofRunner = ["./vitest", "./jest"];

/** A project that imports every entry of every packed package, as `[title, check]`. */
export function consumerSteps(tarballs, scratch) {
  const consumer = join(scratch, "consumer");
  const modules = tarballs.flatMap(({ name, manifest }) =>
    Object.keys(manifest.exports ?? {})
      .filter((key) => !key.endsWith(".json") && !ofRunner.includes(key))
      .map((key) => join(name, key).replaceAll("\\", "/")),
  );
  const commands = tarballs.flatMap(({ unpacked, manifest }) =>
    Object.entries(manifest.bin ?? {}).map(([command, file]) => [command, join(unpacked, file)]),
  );
  return [
    ["a consumer of the packed packages is set up", () => writeConsumer(consumer, modules, tarballs)],
    ["types resolve under moduleResolution node16", () => compile(consumer, "node16", "node16")],
    ["types resolve under moduleResolution bundler", () => compile(consumer, "esnext", "bundler")],
    ["the packed entries load in Node", () => quietly(process.execPath, ["consumer.mjs"], { cwd: consumer })],
    ...commands.map(([command, file]) => [
      `the packed command ${command} starts`,
      () => {
        if (!readFileSync(file, "utf8").startsWith("#!/usr/bin/env node\n")) throw new Failed(`${file} has no shebang`);
        quietly(process.execPath, [file, "--help"], { cwd: consumer });
      },
    ]),
  ];
}

function onlyTheUsual(unpacked) {
  const expected = ["LICENSE", "README.md", "dist", "package.json"];
  const found = readdirSync(unpacked).sort();
  if (String(found) !== String(expected)) throw new Failed(`packed: ${found.join(" ")}`);
  const stray = readdirSync(join(unpacked, "dist"), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/\.(js|d\.ts|json)$/.test(entry.name))
    .map((entry) => entry.name);
  if (stray.length > 0) throw new Failed(`in dist: ${stray.join(" ")}`);
}

function entriesPacked(unpacked, manifest) {
  const missing = entryFiles(manifest).filter(
    (file) => !readdirSync(join(unpacked, dirname(file))).includes(file.split("/").at(-1)),
  );
  if (missing.length > 0) throw new Failed(`not packed: ${missing.join(" ")}`);
  const unresolved = Object.entries(manifest.dependencies ?? {}).filter(([, version]) => !/^\d/.test(version));
  if (unresolved.length > 0) throw new Failed(`not exact: ${unresolved.join(" ")}`);
}

function writeConsumer(consumer, modules, tarballs) {
  if (modules.length === 0) throw new Failed("nothing was packed");
  for (const tarball of tarballs) linkOtherDependencies(consumer, tarball, tarballs);
  const imports = modules.map((module, index) => `import * as m${index} from "${module}";`).join("\n");
  const used = modules.map(
    (module, index) => `if (Object.keys(m${index}).length === 0) throw new Error("${module} is empty");`,
  );
  const source = `${imports}\n${used.join("\n")}\n`;
  writeFileSync(join(consumer, "package.json"), `{ "type": "module" }\n`);
  writeFileSync(join(consumer, "consumer.ts"), source);
  writeFileSync(join(consumer, "consumer.mjs"), source);
}

// Dependencies from outside the workspace are those that are installed already.
function linkOtherDependencies(consumer, { source, manifest }, tarballs) {
  const packed = tarballs.map(({ name }) => name);
  const needed = Object.keys({ ...manifest.dependencies, ...manifest.peerDependencies });
  for (const name of needed.filter((dependency) => !packed.includes(dependency))) {
    const link = join(consumer, "node_modules", name);
    mkdirSync(dirname(link), { recursive: true });
    try {
      symlinkSync(join(root, source, "node_modules", name), link, "junction");
    } catch (error) {
      if (error.code !== "EEXIST") throw error;
    }
  }
}

function compile(consumer, module, moduleResolution) {
  const compilerOptions = {
    module,
    moduleResolution,
    target: "es2022",
    lib: ["es2022"],
    types: [],
    strict: true,
    noEmit: true,
  };
  writeFileSync(join(consumer, "tsconfig.json"), JSON.stringify({ compilerOptions, files: ["consumer.ts"] }));
  quietly(process.execPath, [tool("typescript", { command: "tsc" }), "-p", consumer]);
}

function readJson(file) {
  return JSON.parse(readFileSync(file, "utf8"));
}
