// Installing the dependencies that the lock file pins, with the pnpm that package.json names, reached through npx.

import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { entryFiles, readManifest, workspaces } from "./packages.mjs";
import { Failed, quietly, root, run, shell } from "./process.mjs";
import { dropStamp, hashOf, stampMatches, writeStamp } from "./stamp.mjs";

/** Install what the lock file says, unless that is already there. */
export function install() {
  const hash = installHash();
  if (stampMatches("install", hash) && existsSync(join(root, "node_modules/.modules.yaml"))) return;
  console.error("installing the pinned dependencies …");
  dropStamp("install");
  holdPlacesOfCommands();
  try {
    quietly("npx", [...pnpm(), "install", "--frozen-lockfile", "--reporter=append-only"], options());
  } catch (error) {
    if (/ERR_PNPM_OUTDATED_LOCKFILE/.test(error.message))
      error.message += "\nA package.json has changed: npm run relock";
    throw error;
  }
  writeStamp("install", hash);
}

/** Bring the lock file up to date after a package.json was changed, and install. */
export function relock() {
  dropStamp("install");
  holdPlacesOfCommands();
  if (run("npx", [...pnpm(), "install", "--no-frozen-lockfile"], options()) !== 0) throw new Failed("relock failed");
  writeStamp("install", installHash());
}

/** The arguments by which `npx` runs the pinned pnpm. */
export function pnpm() {
  return ["--yes", readManifest(".").packageManager];
}

export function installHash() {
  const manifests = workspaces().map(({ folder }) => `${folder}/package.json`);
  return hashOf(["package.json", "pnpm-lock.yaml", "pnpm-workspace.yaml", ...manifests], process.version);
}

// Without a terminal pnpm stops to ask before it replaces a node_modules that another version made; CI=true answers yes.
function options() {
  return { shell, env: { ...process.env, CI: "true" } };
}

// pnpm links a command only when its file exists, and on a fresh clone nothing has been built yet.
function holdPlacesOfCommands() {
  for (const { folder, manifest } of workspaces()) {
    for (const file of entryFiles({ bin: manifest.bin })) {
      const path = join(root, folder, file);
      if (existsSync(path)) continue;
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, `#!/usr/bin/env node\nthrow new Error("not built yet: npm run build");\n`, { mode: 0o755 });
    }
  }
}
