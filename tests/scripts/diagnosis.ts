/**
 * How often diagnosis finds the true cause: each fault, and pairs of faults, injected into random stations; and how long a
 * large station takes. Seeded, so that every run looks at the same cases. A whole run writes its tables into
 * docs/diagnosis.md, and `--times` those about time alone. `--quick` looks at fewer cases; other words pick rows whose name
 * contains one of them; `--misses` prints each case that is missed.
 */
import { cpus, loadavg } from "node:os";
import { diagnose } from "@byterail/commissioning";
import { assemble, type Station } from "byterail";
import { fromHex, toHex } from "byterail/frames";
import { type Drawn, draw } from "./diagnosis/draw.js";
import { faults } from "./diagnosis/faults.js";
import { observe } from "./diagnosis/observe.js";
import { writeSection } from "../support/page.js";
import { type Random, randomFrom } from "./diagnosis/random.js";
import { type Rules, randomStation } from "./diagnosis/stations.js";
import { findingsTable, hiddenLine, type Row, tallied, timesTable, type Timing } from "./diagnosis/tables.js";
import { isTrue } from "./diagnosis/truth.js";

const quick = process.argv.includes("--quick");
const misses = process.argv.includes("--misses");
const only = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const cases = quick ? { single: 30, pair: 60, healthy: 500 } : { single: 150, pair: 400, healthy: 10_000 };
const counts = [1, 2, 3] as const;

const names = Object.keys(faults);
if (!process.argv.includes("--times")) findings();
if (only.length === 0) times();

function findings(): void {
  const singles = names.flatMap((name, k) => rowsOf(name, cases.single, 1000 + k, () => [name]));
  const pairs = rowsOf("pairs of faults", cases.pair, 5000, (random) => random.shuffled(names).slice(0, 2));
  const tables = [findingsTable(singles, pairs), hiddenLine(pairs), ...(only.length === 0 ? [healthyLine()] : [])];
  console.log(tables.join("\n\n"));
  if (only.length === 0 && !quick) writeSection("docs/diagnosis.md", "benchmark", tables.join("\n\n"));
}

function times(): void {
  const machine = `Taken on ${cpus()[0]?.model.trim()}, Node ${process.versions.node}, load average ${loadavg()[0]!.toFixed(1)} on ${cpus().length} cores.`;
  const tables = [timesTable(timings()), machine].join("\n\n");
  console.log(`\n${tables}`);
  if (!quick) writeSection("docs/diagnosis.md", "times", tables);
}

function rowsOf(name: string, wanted: number, seed: number, choose: (random: Random) => readonly string[]): Row[] {
  if (only.length > 0 && !only.some((word) => name.includes(word))) return [];
  return counts.map((observations) => {
    const random = randomFrom(seed * 10 + observations);
    const row: Row = { name, observations, drawn: 0, first: 0, tied: 0, three: 0, ties: [], silent: 0, hidden: 0 };
    for (let tries = 0; row.drawn < wanted && tries < 20 * wanted; tries++) {
      const drawn = draw(random, choose(random), observations);
      if (drawn === "silent") row.silent++;
      else if (drawn === "hidden") row.hidden++;
      else if (drawn !== "impossible") look(row, drawn);
    }
    return row;
  });
}

function look(row: Row, { truth, described, observations, diagnosis }: Drawn): void {
  const { explanations, leading } = diagnosis;
  const place = explanations.findIndex((explanation) => isTrue(truth, described, explanation));
  const found = tallied(row, place, explanations[place]?.rank ?? null, leading);
  if (!misses || found) return;
  const best = explanations.slice(0, 3).map(({ says, unexplained }) => [says, unexplained.length]);
  console.log(JSON.stringify({ row: row.name, place, best, truth, described, observations }));
}

function healthyLine(): string {
  const random = randomFrom(77);
  let claims = 0;
  for (let k = 0; k < cases.healthy; k++) {
    const station = randomStation(random);
    const truth = { station, frames: [], signals: [] };
    const observations = observe(random, truth, random.whole(1, 3), new Set());
    if (diagnose(station, observations).verdict !== "noFault") claims++;
  }
  return `Of ${cases.healthy.toLocaleString("en")} healthy stations ${claims} ${claims === 1 ? "was" : "were"} said to have a fault (aim: none).`;
}

// Half of the points are known in each of three observations.
function timings(): Timing[] {
  const plain: Rules = { lengthMultiple: 2 };
  const large: readonly [string, readonly string[], Rules][] = [
    ["byte order of the station", ["byte order of the station"], plain],
    ["modules exchanged", ["modules exchanged"], plain],
    ["module missing, and signal range", ["module missing", "signal range"], plain],
    ["header not counted, and modules exchanged", ["header not counted", "modules exchanged"], plain],
    ["modules exchanged, words first", ["modules exchanged"], { order: "wordsFirst" }],
    ["modules exchanged, bits packed", ["modules exchanged"], { packing: "bit" }],
    ["module extra, and signal range, words first", ["module extra", "signal range"], { order: "wordsFirst" }],
    ["header not counted, and justification, bits packed", ["header not counted", "justification"], { packing: "bit" }],
    [
      "module extra, and signal range, words first and bits packed",
      ["module extra", "signal range"],
      { order: "wordsFirst", packing: "bit" },
    ],
  ];
  const drawn = large.map(([title, chosen, rules]) => ({ title, ...drawLarge(randomFrom(500), chosen, rules) }));
  const random = randomFrom(501);
  const bytes = (frame: string) => toHex(Uint8Array.from(fromHex(frame), () => random.whole(0, 255)));
  const foreign = drawn[0]!.observations.map(({ inputs, outputs, ...rest }) => ({
    ...rest,
    ...(inputs !== undefined && { inputs: bytes(inputs) }),
    ...(outputs !== undefined && { outputs: bytes(outputs) }),
  }));
  return [
    ...drawn,
    { ...drawn[0]!, title: "frames of random bytes, which nothing explains", observations: foreign },
  ].map(timed);
}

function drawLarge(random: Random, chosen: readonly string[], rules: Rules): Drawn {
  for (;;) {
    const drawn = draw(random, chosen, 3, { cards: 120, rules });
    if (typeof drawn !== "string" && pointsOf(drawn.described) >= 500) return drawn;
  }
}

function timed({ title, described, observations }: Drawn & { readonly title: string }): Timing {
  const before = process.cpuUsage();
  const { verdict } = diagnose(described, observations);
  const { user, system } = process.cpuUsage(before);
  return { title, points: pointsOf(described), milliseconds: (user + system) / 1000, verdict };
}

function pointsOf(station: Station): number {
  const { inputs, outputs } = assemble(station);
  return inputs.points.length + outputs.points.length;
}
