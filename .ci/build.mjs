// Building packages, each after those it depends on, and only those whose input has changed.

import { existsSync } from "node:fs";
import { join } from "node:path";
import { installHash } from "./install.mjs";
import { entryFiles, packagesInOrder } from "./packages.mjs";
import { quietly, root, tool } from "./process.mjs";
import { dropStamp, hashOf, stampMatches, writeStamp } from "./stamp.mjs";

/** Build every package, or only those that the workspace of that name needs. */
export function build(forName) {
  const hashes = new Map();
  const installed = installHash();
  for (const { folder, manifest, uses } of packagesInOrder(forName)) {
    const read = ["src", "tsup.config.ts", "tsconfig.json"].map((name) => `${folder}/${name}`);
    const hash = hashOf(
      [...read, "tsconfig.base.json", ".ci/tsup.mjs"],
      installed,
      ...uses.map((name) => hashes.get(name)),
    );
    hashes.set(manifest.name, hash);
    const built = entryFiles(manifest).every((file) => existsSync(join(root, folder, file)));
    if (built && stampMatches(manifest.name, hash)) continue;
    console.error(`building ${manifest.name} …`);
    dropStamp(manifest.name);
    quietly(process.execPath, [tool("tsup")], { cwd: join(root, folder) });
    writeStamp(manifest.name, hash);
  }
}
