/**
 * Diagnosis: the number on the screen is wrong, and something is known to be true. Which one fault, or which two, would
 * account for it? What is found is a candidate, never a verdict on the plant: see `verdict` and `nextObservation`.
 */
import { assemble, type Direction, type Station, unitOf } from "byterail";
import { type Base, baseOf } from "./base.js";
import { changeBetween, type StationChange } from "./change.js";
import { factsOf, keyOf } from "./facts.js";
import type { CauseName, FrameEdit, Where } from "./hypothesis.js";
import { checkObservations, type Observation } from "./observation.js";
import { plain } from "./plain.js";
import { ranked } from "./rank.js";
import { search } from "./search.js";
import { compared, type NextObservation, nextObservation } from "./separate.js";
import { saysVerdict, type Verdict, verdictOf } from "./verdict.js";

/** A fact, and what the description as given makes of it. */
export interface JudgedFact {
  /** Index of its observation. */
  readonly observation: number;
  readonly direction: Direction;
  /** The point, or null where the fact is the length of the frame in bytes. */
  readonly point: string | null;
  /** What is known; an integer beyond 53 bits as decimal text. */
  readonly known: boolean | number | string;
  /** How far the truth may be from it, in the unit of the value. */
  readonly within: number;
  /** Unit of what is known and what is read, as described; null where there is none. */
  readonly unit: string | null;
  /** What the description reads, or null where the frame ends before the point does. */
  readonly read: boolean | number | string | null;
  readonly right: boolean;
}

/** One of the causes of an explanation. */
export interface Part {
  readonly cause: CauseName;
  readonly where: Where;
  readonly says: string;
  /** What is to be done to the frame before it is read, where no description can say it; else null. */
  readonly frame: FrameEdit | null;
}

/** One fault, or two, that would account for facts that are wrong. */
export interface Explanation {
  /** 1 is the best. Explanations that account for as much with as many causes share a rank. */
  readonly rank: number;
  readonly parts: readonly Part[];
  /** The change of the description that would make it right; null where the description is not at fault. */
  readonly change: StationChange | null;
  /** Facts that are wrong as described and right under this explanation: indices in `facts`. */
  readonly explains: readonly number[];
  /** Facts that are wrong still. */
  readonly unexplained: readonly number[];
  readonly says: string;
}

/** What came of it. */
export interface Diagnosis {
  readonly facts: readonly JudgedFact[];
  /** Best first; of one rank, the one that assumes least first. */
  readonly explanations: readonly Explanation[];
  /** Explanations that were found and are not listed. */
  readonly more: number;
  /** How many explanations share the first rank, listed or not; 2 and more are a tie. */
  readonly leading: number;
  /** What one more observation would separate the leading explanations; null where nothing is to be separated. */
  readonly nextObservation: NextObservation | null;
  readonly verdict: Verdict;
  readonly says: string;
}

/** Settings of a diagnosis. */
export interface DiagnoseOptions {
  /** How many explanations are listed, ties included; by default 100. */
  readonly limit?: number;
}

/**
 * Ranks explanations of what is wrong in frames whose truth is known, by how many facts each explains and how little it
 * assumes. Facts that are right under the description as given stay right under every explanation. Where all facts are
 * right no fault is claimed; where nothing explains them the list is empty.
 *
 * @example
 * ```ts
 * import { diagnose } from "@byterail/commissioning";
 * const station = {
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "ai", inputs: [{ name: "supply", type: "uint16", scale: { counts: [0, 1000], value: [0, 10], unit: "bar" } }] }],
 * } as const;
 * // 6C 02 is 620 counts in little-endian order: 6.2 bar
 * const { verdict, explanations } = diagnose(station, [{ inputs: "6C 02", known: { supply: { value: 6.2, within: 0.1 } } }]);
 * verdict; // → "tied"
 * explanations[0]?.parts[0]?.cause; // → "byteOrder"
 * ```
 * @param station the description as given, with its fault
 * @param observations see {@link Observation}; data from a file is checked here
 * @throws `ByterailError` with every problem of the station or, where it has none, of the observations
 */
export function diagnose(
  station: Station,
  observations: readonly Observation[],
  { limit = 100 }: DiagnoseOptions = {},
): Diagnosis {
  const layout = assemble(station);
  const checked = checkObservations(layout, observations);
  const evidence = {
    facts: factsOf(checked),
    frames: checked.map(({ frames }) => frames),
    excused: new Set<never>(),
    cut: {},
  };
  const base = baseOf(station, evidence, layout);
  const found = ranked(search(base));
  const listed = found.slice(0, limit);
  const wrong = base.right.flatMap((right, k) => (right ? [] : [k]));
  const explanations = listed.map(({ rank, parts, fixes, station: right }): Explanation => {
    const changed = right();
    return {
      rank,
      parts: parts.map(({ cause, where, says, effect }) => ({ cause, where, says, frame: effect.frame ?? null })),
      change: changed === station ? null : changeBetween(station, changed),
      explains: fixes,
      unexplained: wrong.filter((fact) => !fixes.includes(fact)),
      says: parts.map(({ says }) => says).join(" And: "),
    };
  });
  const first = found.filter(({ rank }) => rank === 1);
  const outcome = { wrong: wrong.length, explained: first[0]?.fixes.length ?? 0, leading: first.length };
  const verdict = verdictOf(outcome);
  const leading = first.slice(0, compared).flatMap(({ parts, reading }, k) => {
    const after = reading();
    return after ? [{ answer: k + 1, base: after, parts }] : [];
  });
  return {
    facts: judgedFacts(base),
    explanations,
    more: found.length - listed.length,
    leading: first.length,
    nextObservation: leading.length > 1 ? nextObservation(base, leading) : null,
    verdict,
    says: saysVerdict(verdict, outcome, base.facts.length),
  };
}

function judgedFacts(base: Base): JudgedFact[] {
  return base.facts.map(({ observation, direction, point, known, within }, k) => {
    const bytes = base.frames[observation]![direction]!;
    const reader = point === null ? null : base.readers.get(keyOf(direction, point))!;
    const bits = reader ? reader.bits(bytes, 0) : null;
    const read = reader ? (bits === null ? null : plain(reader.value(bits))) : base.layout[direction].byteLength;
    const unit = reader ? unitOf(reader.point) : null;
    return { observation, direction, point, known: plain(known), within, unit, read, right: base.right[k]! };
  });
}
