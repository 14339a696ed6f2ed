// Draws cases: a random station, faults in it, and observations of it; and tells which of them can be no case.

import { diagnose, type Diagnosis, type Observation } from "@byterail/commissioning";
import { assemble, type ImageLayout, type Station } from "byterail";
import { type Case, causeOf, faults, stands } from "./faults.js";
import { observe } from "./observe.js";
import type { Random } from "./random.js";
import { type Rules, randomStation } from "./stations.js";

/** A case to be looked at, with what diagnosis makes of it. */
export interface Drawn extends Omit<Case, "watched"> {
  readonly observations: readonly Observation[];
  readonly diagnosis: Diagnosis;
}

/** A large station: how many cards, and how they are placed. */
export interface Large {
  readonly cards: number;
  readonly rules: Rules;
}

/**
 * Why what was drawn is no case. `impossible`: the station drawn cannot have the fault. `silent`: every fact agrees with
 * the description, so there is no symptom. `hidden`: of a pair, one fault of the kinds injected accounts for all that is
 * wrong, so the facts show one fault. Where a fault of another kind does, the case stays in, and is a miss.
 */
export type NoCase = "impossible" | "silent" | "hidden";

/** Draws a case with faults of the names given, on a station of the usual size or on a large one. */
export function draw(random: Random, names: readonly string[], count: number, large?: Large): Drawn | NoCase {
  const station = randomStation(random, large?.cards, large?.rules);
  let injected: Case = { truth: { station, frames: [], signals: [] }, described: station, watched: [] };
  const watched: string[] = [];
  for (const name of names) {
    const next = faults[name]!(random, injected);
    if (!next || !stands(next.described) || !stands(next.truth.station)) return "impossible";
    injected = next;
    watched.push(...next.watched);
  }
  const { truth, described } = injected;
  const observations = knownOf(described, observe(random, truth, count, new Set(watched)));
  const diagnosis = diagnose(described, observations);
  if (diagnosis.verdict === "noFault") return "silent";
  if (names.length > 1 && oneFaultShows(names, diagnosis)) return "hidden";
  return { truth, described, observations, diagnosis };
}

// Knowledge is of points that the description has.
function knownOf(described: Station, observations: readonly Observation[]): Observation[] {
  const { inputs, outputs } = assemble(described);
  const names = new Set([inputs, outputs].flatMap((image) => (image as ImageLayout).points.map(({ name }) => name)));
  return observations.map(({ known, ...frames }) => ({
    ...frames,
    known: Object.fromEntries(Object.entries(known).filter(([name]) => names.has(name))),
  }));
}

function oneFaultShows(names: readonly string[], { explanations }: Diagnosis): boolean {
  const kinds = names.map((name) => causeOf[name]!);
  return explanations.some(
    ({ rank, parts, unexplained }) =>
      rank === 1 && parts.length === 1 && unexplained.length === 0 && kinds.includes(parts[0]!.cause),
  );
}
