// What the packages promise to those who install them: no code that runs by itself, and a manifest fit to be published.

import { existsSync, readdirSync, readFileSync, realpathSync } from "node:fs";
import { dirname, join } from "node:path";
import { Failed, quietly, root, shell } from "./process.mjs";

// What a package manager runs by itself when somebody installs the package.
const onInstall = ["preinstall", "install", "postinstall"];

/** What every published package promises, as `[title, check]`. */
export function publishedStepsOf({ name, source, unpacked, manifest }) {
  return [
    [`${name}: the packed manifest is fit to be published`, () => manifestIsFit(unpacked, manifest)],
    [`${name}: npm pack --dry-run packs the same files`, () => sameFiles(source, unpacked)],
    [`${name}: nothing it depends on runs code when installed`, () => dependenciesAreQuiet(join(root, source))],
  ];
}

function manifestIsFit(unpacked, manifest) {
  const { scripts = {}, engines = {}, publishConfig = {}, sideEffects, license } = manifest;
  const wrong = [
    Object.keys(scripts).length > 0 &&
      `scripts: ${Object.keys(scripts).join(" ")}; none is needed by those who install it`,
    !/^>=\d+\.\d+$/.test(engines.node ?? "") && `engines.node: ${engines.node}; expected ">=" and the oldest Node`,
    publishConfig.access !== "public" && `publishConfig.access: ${publishConfig.access}; expected "public"`,
    publishConfig.provenance !== true && `publishConfig.provenance: ${publishConfig.provenance}; expected true`,
    license !== "MIT" && `license: ${license}; expected "MIT"`,
    sideEffects !== false &&
      !listsFiles(unpacked, sideEffects) &&
      `sideEffects: ${sideEffects}; false, or files of the package`,
    read(unpacked, "LICENSE") !== read(root, "LICENSE") && "LICENSE is not that of the workspace",
    !read(unpacked, "README.md").startsWith(`# ${manifest.name}\n`) &&
      `README.md does not begin with # ${manifest.name}`,
  ].filter(Boolean);
  if (wrong.length > 0) throw new Failed(wrong.join("\n"));
}

function listsFiles(folder, files) {
  return Array.isArray(files) && files.length > 0 && files.every((file) => existsSync(join(folder, file)));
}

// pnpm packs; npm has to agree, so that nothing depends on who publishes.
function sameFiles(source, unpacked) {
  const told = quietly("npm", ["pack", "--dry-run", "--json", "--ignore-scripts"], { cwd: join(root, source), shell });
  const byNpm = JSON.parse(told)[0].files.map(({ path }) => path);
  const byPnpm = readdirSync(unpacked, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) =>
      join(parentPath, name)
        .slice(unpacked.length + 1)
        .replaceAll("\\", "/"),
    );
  if (String(byNpm.sort()) !== String(byPnpm.sort()))
    throw new Failed(`npm packs ${byNpm.join(" ")}\npnpm packs ${byPnpm.join(" ")}`);
}

// All that is installed with the package, however deep.
function dependenciesAreQuiet(folder, seen = new Set()) {
  if (seen.has(folder)) return;
  seen.add(folder);
  const { name, scripts = {}, dependencies = {} } = JSON.parse(read(folder, "package.json"));
  const loud = onInstall.filter((hook) => hook in scripts);
  if (existsSync(join(folder, "binding.gyp"))) loud.push("binding.gyp");
  if (loud.length > 0) throw new Failed(`${name}: ${loud.join(" ")}`);
  for (const dependency of Object.keys(dependencies)) dependenciesAreQuiet(installed(dependency, folder), seen);
}

function installed(name, from) {
  for (let folder = from; ; folder = dirname(folder)) {
    const place = join(folder, "node_modules", name);
    if (existsSync(join(place, "package.json"))) return realpathSync(place);
    if (folder === dirname(folder)) throw new Failed(`${name} is not installed for ${from}`);
  }
}

function read(folder, file) {
  return readFileSync(join(folder, file), "utf8");
}
