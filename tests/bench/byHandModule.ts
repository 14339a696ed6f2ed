/** Loads the code by hand of a workload. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type ByHand, byHandSource } from "./byHand.js";
import type { Workload } from "./workloads.js";

/** Writes the module out, so that one can read it, and loads it. */
export async function byHandModule({ id, station }: Workload, folder: string): Promise<ByHand> {
  const path = join(folder, `byHand${id}.mjs`);
  writeFileSync(path, byHandSource(station));
  return (await import(pathToFileURL(path).href)) as ByHand;
}
