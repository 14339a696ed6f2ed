/** Measures one library in a process of its own, with the code by hand beside it; prints its results as JSON. */
import { createRequire } from "node:module";
import { dirname } from "node:path";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { byHandModule } from "../byHandModule.js";
import { kept, loop, measure, type Pace } from "../rounds.js";
import { workloads } from "../workloads.js";
import { peers } from "./all.js";
import { checkPeer } from "./equal.js";

/** Medians in nanoseconds. */
export interface PeerResult {
  readonly work: string;
  readonly operation: "decode" | "encode";
  readonly hand: number;
  readonly peer: number;
}

/** What the process prints. */
export interface PeerReport {
  readonly package: string;
  readonly version: string;
  readonly kind: string;
  readonly lacks: string;
  readonly results: readonly PeerResult[];
}

const [, , name, paceText] = process.argv;
const pace = JSON.parse(paceText!) as Pace;
const peer = await peers[name!]!();
const results: PeerResult[] = [];
for (const work of workloads) {
  const hand = await byHandModule(work, dirname(fileURLToPath(import.meta.url)));
  const codec = peer.codec(work);
  checkPeer(codec, peer, work, hand);
  const { frames } = work;
  // The first results teach V8 which properties hold fractions; objects made before that would stay slow to read.
  for (const frame of frames) hand.encode(hand.decode(frame));
  const values = frames.map((frame) => hand.decode(frame));
  const decoded = frames.map((frame) => codec.decode(frame));
  const scope = { kept, hand, codec, frames, values, decoded };
  const pairs = {
    decode: ["hand.decode(frames[i & 63])", "codec.decode(frames[i & 63])"],
    encode: codec.encode && ["hand.encode(values[i & 63])", "codec.encode(decoded[i & 63])"],
  };
  for (const [operation, pair] of Object.entries(pairs)) {
    if (!pair) continue;
    const contenders = pair.map((text) => ({ who: text, run: loop(`kept[i & 7] = ${text};`, scope) }));
    const [byHand, byPeer] = measure(contenders, pace);
    results.push({ work: work.id, operation: operation as "decode", hand: byHand!, peer: byPeer! });
  }
}
const report: PeerReport = {
  package: peer.package,
  version: versionOf(peer.package),
  kind: peer.kind,
  lacks: peer.lacks,
  results,
};
console.log(JSON.stringify(report));

function versionOf(packageName: string): string {
  const folders = createRequire(import.meta.url).resolve.paths(packageName) ?? [];
  for (const folder of folders)
    try {
      return JSON.parse(readFileSync(`${folder}/${packageName}/package.json`, "utf8")).version;
    } catch {}
  return "?";
}
