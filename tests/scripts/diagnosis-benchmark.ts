// How often diagnosis finds the true cause: each fault, and pairs of faults, injected into random stations. Seeded, so that
// it gives the same figures again: `tsx scripts/diagnosis-benchmark.ts [--quick] [--row "part of a name"]`.

import { diagnose, type Observation } from "@byterail/commissioning";
import { assemble, type Station } from "byterail";
import { type Case, causeOf, faults, stands } from "./diagnosis/faults.js";
import { observe } from "./diagnosis/observe.js";
import { type Random, randomFrom } from "./diagnosis/random.js";
import { randomStation } from "./diagnosis/stations.js";
import { isTrue } from "./diagnosis/truth.js";

const quick = process.argv.includes("--quick");
const only = process.argv.includes("--row") ? process.argv[process.argv.indexOf("--row") + 1]! : "";
const debug = process.argv.includes("--debug");
const share = process.argv.includes("--known") ? Number(process.argv[process.argv.indexOf("--known") + 1]) : 0.5;
const [singles, pairs, healthy] = quick ? [30, 60, 500] : [150, 400, 10_000];

interface Tally {
  cases: number;
  first: number;
  tied: number;
  three: number;
  ties: number[];
}

const names = Object.keys(faults);
const rows = new Map<string, Record<number, Tally>>();

for (const [k, name] of names.entries()) if (name.includes(only)) run(name, singles, 1000 + k, () => [name]);
if ("pairs of faults".includes(only))
  run("pairs of faults", pairs, 5000, (random) => random.shuffled(names).slice(0, 2));
print();
if (!only) {
  healthyStations();
  largeStation();
}

function run(row: string, cases: number, seed: number, choose: (random: Random) => readonly string[]): void {
  const tallies: Record<number, Tally> = {};
  rows.set(row, tallies);
  for (const count of [1, 2, 3]) {
    const random = randomFrom(seed * 10 + count);
    const tally: Tally = { cases: 0, first: 0, tied: 0, three: 0, ties: [] };
    tallies[count] = tally;
    for (let tries = 0; tally.cases < cases && tries < 60 * cases; tries++) {
      const made = make(random, choose(random), count);
      if (made) look(tally, made.injected, made.observations, row);
    }
  }
}

// A case counts where what is known contradicts the description.
function make(
  random: Random,
  chosen: readonly string[],
  count: number,
): { injected: Case; observations: Observation[] } | null {
  const station = randomStation(random);
  let injected: Case = { truth: { station, frames: [], signals: [] }, described: station, watched: [] };
  const watched: string[] = [];
  for (const name of chosen) {
    const next = faults[name]!(random, injected);
    if (!next || !stands(next.described) || !stands(next.truth.station)) return null;
    injected = next;
    watched.push(...next.watched);
  }
  // Knowledge is of points that the description has.
  const described = new Set(pointsOf(injected.described));
  const all = observe(random, injected.truth, count, new Set(watched), share);
  const observations = all.map(({ known, ...frames }) => ({
    ...frames,
    known: Object.fromEntries(Object.entries(known).filter(([name]) => described.has(name))),
  }));
  const wrong = wrongUnder(injected.described, observations);
  if (wrong === 0) return null;
  if (chosen.length > 1 && oneHides(chosen, injected, observations)) return null;
  return { injected, observations };
}

// Of a pair only what shows can be found: where one fault of the kinds injected accounts for everything that is wrong, the
// facts show one fault, and the case is left out. Where a fault of another kind does, the case stays in, and is a miss.
function oneHides(chosen: readonly string[], { described }: Case, observations: readonly Observation[]): boolean {
  const kinds = chosen.map((name) => causeOf[name]!);
  return diagnose(described, observations).explanations.some(
    ({ rank, parts, unexplained }) =>
      rank === 1 && parts.length === 1 && unexplained.length === 0 && kinds.includes(parts[0]!.cause),
  );
}

function pointsOf(station: Station): string[] {
  const { inputs, outputs } = assemble(station);
  return [...inputs.points, ...outputs.points].map(({ name }) => name);
}

function wrongUnder(station: Station, observations: readonly Observation[]): number {
  return diagnose(station, observations, { limit: 0 }).facts.filter(({ right }) => !right).length;
}

function look(tally: Tally, { truth, described }: Case, observations: readonly Observation[], row: string): void {
  const { explanations } = diagnose(described, observations);
  const place = explanations.findIndex((explanation) => isTrue(truth, described, explanation));
  const leading = explanations.filter(({ rank }) => rank === 1).length;
  tally.cases++;
  tally.ties.push(leading);
  if (place >= 0 && explanations[place]!.rank === 1) leading === 1 ? tally.first++ : tally.tied++;
  else if (debug)
    console.log(
      JSON.stringify({
        row,
        place,
        truth,
        described,
        observations,
        best: explanations.slice(0, 3).map(({ says, unexplained }) => [says, unexplained.length]),
      }),
    );
  if (place >= 0 && place < 3) tally.three++;
}

function print(): void {
  console.log(
    "| fault | observations | cases | first | tied first | first or tied | in the first three | ties, median |",
  );
  console.log("|---|---|---|---|---|---|---|---|");
  const percent = (part: number, whole: number) => `${((100 * part) / whole).toFixed(1)} %`;
  const line = (name: string, count: number, { cases, first, tied, three, ties }: Tally) => {
    if (cases === 0) return console.log(`| ${name} | ${count} | 0 | | | | | |`);
    const median = [...ties].sort((a, b) => a - b)[ties.length >> 1];
    console.log(
      `| ${name} | ${count} | ${cases} | ${percent(first, cases)} | ${percent(tied, cases)} | ${percent(first + tied, cases)} | ${percent(three, cases)} | ${median} |`,
    );
  };
  for (const [name, tallies] of rows) for (const count of [1, 2, 3]) line(name, count, tallies[count]!);
  for (const count of [1, 2, 3]) {
    const all: Tally = { cases: 0, first: 0, tied: 0, three: 0, ties: [] };
    for (const [name, tallies] of rows) {
      if (name === "pairs of faults") continue;
      const { cases, first, tied, three, ties } = tallies[count]!;
      all.cases += cases;
      all.first += first;
      all.tied += tied;
      all.three += three;
      all.ties.push(...ties);
    }
    line("all single faults", count, all);
  }
}

function healthyStations(): void {
  const random = randomFrom(77);
  let claims = 0;
  for (let k = 0; k < healthy; k++) {
    const station = randomStation(random);
    const observations = observe(random, { station, frames: [], signals: [] }, random.whole(1, 3), new Set());
    if (diagnose(station, observations).verdict !== "noFault") claims++;
  }
  console.log(`\nHealthy stations: ${healthy}, faults claimed: ${claims}.`);
}

function largeStation(): void {
  for (const [name, chosen] of Object.entries({
    "byte order of the station": ["byte order of the station"],
    "modules exchanged": ["modules exchanged"],
    "module missing and a signal range": ["module missing", "signal range"],
    "header not counted and modules exchanged": ["header not counted", "modules exchanged"],
  })) {
    const random = randomFrom(500);
    let made = null;
    for (let tries = 0; !made && tries < 100; tries++) made = makeLarge(random, chosen);
    const start = performance.now();
    const { verdict } = diagnose(made!.described, made!.observations);
    console.log(
      `A station of ${pointsOf(made!.described).length} points, ${name}, 3 observations: ${Math.round(performance.now() - start)} ms (${verdict}).`,
    );
  }
}

function makeLarge(
  random: Random,
  chosen: readonly string[],
): { described: Station; observations: Observation[] } | null {
  const station = randomStation(random, 105);
  let injected: Case = { truth: { station, frames: [], signals: [] }, described: station, watched: [] };
  for (const name of chosen) {
    const next = faults[name]!(random, injected);
    if (!next || !stands(next.described)) return null;
    injected = next;
  }
  const described = new Set(pointsOf(injected.described));
  const observations = observe(random, injected.truth, 3, new Set(injected.watched)).map(({ known, ...frames }) => ({
    ...frames,
    known: Object.fromEntries(Object.entries(known).filter(([name]) => described.has(name))),
  }));
  return wrongUnder(injected.described, observations) > 0 ? { described: injected.described, observations } : null;
}
