/**
 * The search: every cause on its own first; where none accounts for all that is wrong, pairs. A pair starts from a cause
 * that makes at least one fact right, and looks for a second one on what is then left.
 */
import type { Station } from "byterail";
import { type Base, baseOf } from "./base.js";
import { causes } from "./causes/index.js";
import { edited } from "./frames.js";
import type { Cause, Hypothesis } from "./hypothesis.js";
import { ifPossible } from "./ifPossible.js";
import { type Judgement, judge } from "./judge.js";

/** One or two causes that make facts right and break none. */
export interface Found {
  readonly parts: readonly Hypothesis[];
  /** The description that would be right; the one given where the description is not at fault. */
  readonly station: () => Station;
  /** The station as it would be read. */
  readonly reading: () => Base | null;
  /** Facts made right, as indices. */
  readonly fixes: readonly number[];
}

/** Looks for what accounts for the facts that are wrong on a base. */
export function search(base: Base): readonly Found[] {
  const wrong = base.right.filter((right) => !right).length;
  const tried = tryAll(base);
  const singles = tried.flatMap(({ hypothesis, fixes, breaks }): Found[] =>
    breaks.length === 0
      ? [
          {
            parts: [hypothesis],
            fixes,
            station: () => changed(base, hypothesis),
            reading: () => after(base, hypothesis),
          },
        ]
      : [],
  );
  const most = Math.max(0, ...singles.map(({ fixes }) => fixes.length));
  return most === wrong || isChance(tried, wrong) ? singles : [...singles, ...pairs(base, tried, most)];
}

// Frames of another station: of hundreds of facts as many come right under any change as become wrong. Of two faults, one
// makes a good part right.
function isChance(tried: readonly Tried[], wrong: number): boolean {
  return wrong > 100 && tried.every(({ fixes, breaks }) => fixes.length - breaks.length < wrong / 10);
}

function changed(base: Base, { station }: Hypothesis): Station {
  return station ? station() : base.station;
}

/** The base after a hypothesis, or null where the station can then not be assembled. */
export function after(base: Base, { station, effect }: Hypothesis): Base | null {
  const { frame, excused, cut } = effect;
  const evidence = {
    facts: base.facts,
    frames: frame ? base.frames.map((frames) => edited(frames, frame)) : base.frames,
    excused: excused ? new Set([...base.excused, excused]) : base.excused,
    cut: { ...base.cut, ...cut },
  };
  return station ? ifPossible(() => baseOf(station(), evidence)) : baseOf(base.station, evidence, base.layout);
}

type Ways = Pick<Found, "station" | "reading">;

interface Tried extends Judgement {
  readonly hypothesis: Hypothesis;
  readonly cause: Cause;
}

// Of several that say the same, as two ways to write one scale, the first that can stand is taken.
function tryAll(base: Base, tryCauses: readonly Cause[] = causes): Tried[] {
  const tried: Tried[] = [];
  const seen = new Set<string>();
  for (const cause of tryCauses)
    for (const hypothesis of cause(base)) {
      const judged = ifPossible(() => judge(base, hypothesis.effect));
      if (!judged || hypothesis.stands?.() === false) continue;
      const id = idOf(hypothesis);
      if (seen.has(id)) continue;
      seen.add(id);
      tried.push({ hypothesis, cause, ...judged });
    }
  return tried;
}

function idOf({ cause, where, says, assumes }: Hypothesis): string {
  return JSON.stringify([cause, where, says, assumes]);
}

function pairs(base: Base, tried: readonly Tried[], mostOfOne: number): Found[] {
  const found = new Map<string, Found>();
  const alone = new Map(tried.map((each) => [idOf(each.hypothesis), each.fixes.length]));
  let most = mostOfOne + 1;
  const offer = (parts: readonly [Hypothesis, Hypothesis], fixes: readonly number[], ways: Ways) => {
    // Each of the two must account for something that the other does not.
    if (fixes.length < most || parts.some((part) => (alone.get(idOf(part)) ?? 0) >= fixes.length)) return;
    if (fixes.length > most) found.clear();
    most = fixes.length;
    const id = parts.map(idOf).sort().join();
    if (!found.has(id)) found.set(id, { parts, fixes, ...ways });
  };
  const ordered = [...tried].sort(
    (a, b) =>
      b.fixes.length - b.breaks.length - (a.fixes.length - a.breaks.length) ||
      a.hypothesis.assumes - b.hypothesis.assumes,
  );
  independent(
    base,
    ordered.filter(({ hypothesis, breaks }) => isLocal(hypothesis) && breaks.length === 0),
    offer,
  );
  const starts = [
    ...ordered.filter(({ hypothesis }) => !isLocal(hypothesis)),
    ...ordered.filter(({ hypothesis }) => isLocal(hypothesis)),
  ];
  for (const { hypothesis: first } of starts.slice(0, startsFor(base))) {
    const then = after(base, first);
    if (!then) continue;
    for (const { hypothesis: second, fixes, breaks } of tryAll(then)) {
      const right = [...then.right];
      for (const k of fixes) right[k] = true;
      for (const k of breaks) right[k] = false;
      if (base.right.some((was, k) => was && !right[k])) continue;
      const total = base.right.flatMap((was, k) => (!was && right[k] ? [k] : []));
      offer([first, second], total, { station: () => changed(then, second), reading: () => after(then, second) });
    }
  }
  return [...found.values()];
}

// How many first causes are followed up: fewer for large stations, where each takes longer.
function startsFor({ points }: Base): number {
  return Math.max(6, Math.min(48, Math.floor(3000 / (points.size + 1))));
}

// Causes at different points do not meddle with each other, so a pair of them makes right what either does.
function independent(
  base: Base,
  local: readonly Tried[],
  offer: (parts: readonly [Hypothesis, Hypothesis], fixes: readonly number[], ways: Ways) => void,
): void {
  const some = local.slice(0, mostLocal);
  some.forEach((a, k) => {
    for (const b of some.slice(k + 1)) {
      const touched = new Set(touchedBy(a.hypothesis));
      if (touchedBy(b.hypothesis).some((key) => touched.has(key))) continue;
      const reading = once(() => joined(base, a, b));
      const station = () => reading()?.station ?? base.station;
      offer(
        [a.hypothesis, b.hypothesis],
        [...a.fixes, ...b.fixes].sort((x, y) => x - y),
        { station, reading },
      );
    }
  });
}

const mostLocal = 200;

function isLocal({ effect: { points, moved, lengths, cut, frame } }: Hypothesis): boolean {
  return !moved && !lengths && !cut && !frame && (points?.size ?? 0) <= 2;
}

function touchedBy({ effect: { points, excused } }: Hypothesis): readonly string[] {
  return excused ? [excused] : [...points!.keys()];
}

// The second cause made its change to the base, so it is looked up again on what the first one left.
function joined(base: Base, { hypothesis }: Tried, second: Tried): Base | null {
  const then = after(base, hypothesis);
  if (!then) return null;
  const wanted = idOf(second.hypothesis);
  const again = tryAll(then, [second.cause]).find((each) => idOf(each.hypothesis) === wanted);
  return again ? after(then, again.hypothesis) : null;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}
