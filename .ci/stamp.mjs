// Stamps: the hash of everything a step read, kept when the step succeeded, so that it is not repeated for the same input.

import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { root } from "./process.mjs";

/** The hash of files and folders (relative to the root; missing ones count as missing) and of further texts. */
export function hashOf(paths, ...texts) {
  const hash = createHash("sha256");
  for (const path of paths.flatMap(filesUnder)) {
    hash.update(`\0${path}\0`).update(existsSync(join(root, path)) ? readFileSync(join(root, path)) : "missing");
  }
  for (const text of texts) hash.update(`\0${text}`);
  return hash.digest("hex");
}

export function stampMatches(name, hash) {
  return existsSync(stampFile(name)) && readFileSync(stampFile(name), "utf8") === hash;
}

export function writeStamp(name, hash) {
  mkdirSync(dirname(stampFile(name)), { recursive: true });
  writeFileSync(stampFile(name), hash);
}

export function dropStamp(name) {
  rmSync(stampFile(name), { force: true });
}

function stampFile(name) {
  return join(root, "node_modules/.cache/workspace", name.replaceAll("/", "+"));
}

function filesUnder(path) {
  const full = join(root, path);
  if (!existsSync(full) || !statSync(full).isDirectory()) return [path];
  return readdirSync(full)
    .sort()
    .flatMap((name) => filesUnder(`${path}/${name}`));
}
