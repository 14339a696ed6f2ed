/** Runs every library in a process of its own. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import type { Pace } from "../rounds.js";
import { peers } from "./all.js";
import type { PeerReport } from "./child.js";

/** The reports; a library that fails is told on standard error and left out. */
export function peerReports(folder: string, pace: Pace): PeerReport[] {
  return Object.keys(peers).flatMap((name) => {
    const noEval = ["binary-parser", "structly"].includes(name) ? [] : ["--disallow-code-generation-from-strings"];
    const args = ["--single-threaded", ...noEval, join(folder, "peers/child.mjs"), name, JSON.stringify(pace)];
    const { stdout, stderr, status } = spawnSync(process.execPath, args, { encoding: "utf8" });
    if (status === 0) return [JSON.parse(stdout) as PeerReport];
    console.error(`${name}: ${stderr}`);
    return [];
  });
}
