// The workspaces as they stand in the tree, and the order in which the packages among them are built.

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./process.mjs";

/** Every workspace but the root: `{ folder, manifest, uses }`, `uses` being the names of workspaces it depends on. */
export function workspaces() {
  const inPackages = readdirSync(join(root, "packages")).map((name) => `packages/${name}`);
  const found = [...inPackages, "tests", "docs", "examples"]
    .filter((folder) => existsSync(join(root, folder, "package.json")))
    .map((folder) => ({ folder, manifest: readManifest(folder) }));
  const names = new Set(found.map(({ manifest }) => manifest.name));
  return found.map((workspace) => ({
    ...workspace,
    uses: dependencies(workspace.manifest).filter((n) => names.has(n)),
  }));
}

/** The packages that have sources, each after those that it depends on. With `forName`, only what that workspace needs. */
export function packagesInOrder(forName) {
  const all = workspaces();
  const byName = new Map(all.map((workspace) => [workspace.manifest.name, workspace]));
  const ordered = new Set();
  const visit = (workspace, trail = []) => {
    if (trail.includes(workspace)) throw new Error(`workspaces depend on each other: ${workspace.manifest.name}`);
    for (const name of workspace.uses) visit(byName.get(name), [...trail, workspace]);
    if (isPackage(workspace)) ordered.add(workspace);
  };
  for (const workspace of forName ? [byName.get(forName)] : all.filter(isPackage)) visit(workspace);
  return [...ordered].filter(({ folder }) => existsSync(join(root, folder, "src")));
}

/** The files of a package that its users start from: what `exports` and `bin` name. */
export function entryFiles({ exports = {}, bin = {} }) {
  const targets = Object.values(exports).flatMap((target) =>
    typeof target === "string" ? [target] : Object.values(target),
  );
  return [...targets, ...Object.values(bin)];
}

export function readManifest(folder) {
  return JSON.parse(readFileSync(join(root, folder, "package.json"), "utf8"));
}

function isPackage({ folder }) {
  return folder.startsWith("packages/");
}

function dependencies({ dependencies = {}, devDependencies = {} }) {
  return Object.keys({ ...dependencies, ...devDependencies });
}
