/** Judges a hypothesis: which facts it makes right, and which that were right it breaks. */
import type { Direction, PlacedPoint } from "byterail";
import type { Base } from "./base.js";
import type { Fact, Key } from "./facts.js";
import { edited } from "./frames.js";
import type { Effect } from "./hypothesis.js";
import { type Reader, readerOf } from "./reader.js";

/** Facts by index. */
export interface Judgement {
  /** Wrong before, right now. */
  readonly fixes: readonly number[];
  /** Right before, wrong now. */
  readonly breaks: readonly number[];
}

/** Judges an effect on a base; null where it makes nothing right. */
export function judge(base: Base, effect: Effect): Judgement | null {
  const now = effect.excused ? () => true : nowOf(base, effect);
  const { wrong, right } = concerned(base, effect);
  // Wrong facts come first: most hypotheses make none of them right.
  const fixes = wrong.filter(now);
  return fixes.length > 0 ? { fixes, breaks: right.filter((k) => !now(k)) } : null;
}

// The facts that an effect may change, those that are wrong and those that are right.
function concerned(
  base: Base,
  effect: Effect,
): { readonly wrong: readonly number[]; readonly right: readonly number[] } {
  const keys = effect.excused ? [effect.excused] : onlyPoints(effect) ? [...effect.points!.keys()] : null;
  if (!keys) return { wrong: base.wrongFacts, right: base.rightFacts };
  const facts = keys.flatMap((key) => base.factsAt.get(key) ?? []);
  return { wrong: facts.filter((k) => !base.right[k]), right: facts.filter((k) => base.right[k]) };
}

type Now = (fact: number) => boolean;

function onlyPoints({ points, moved, lengths, cut, frame }: Effect): boolean {
  return points !== undefined && !moved && !lengths && !cut && !frame;
}

function nowOf(base: Base, { points, moved, lengths, cut, frame }: Effect): Now {
  const readers = new Map<Key, Reader>();
  const reader = (key: Key, point: PlacedPoint) => {
    let found = readers.get(key);
    if (!found) readers.set(key, (found = readerOf(point)));
    return found;
  };
  const frames = frame ? base.frames.map((each) => edited(each, frame)) : base.frames;
  const length = (direction: Direction) => lengths?.[direction] ?? base.layout[direction].byteLength;
  const mayBe = (direction: Direction) => cut?.[direction] ?? base.cut[direction];
  return (k) => {
    const fact = base.facts[k]!;
    const { direction } = fact;
    const bytes = frames[fact.observation]![direction]!;
    const old = base.readerAt[k];
    const key = base.keys[k] ?? null;
    if (key === null) return bytes.length === length(direction) || bytes.length === mayBe(direction);
    // A fact that a signal accounts for stays accounted for.
    if (base.excused.has(key)) return true;
    const placed = points?.get(key);
    if (!old || placed === null) return false;
    if (placed) return agrees(reader(key, placed), fact, bytes, 0);
    const by = moved ? moved(direction, base.moduleAt[k]!) : 0;
    if (by === null) return false;
    if (frame) return agrees(old, fact, bytes, by);
    return by === 0 ? base.right[k]! : agreesAt(base, k, by);
  };
}

function agrees(reader: Reader, fact: Fact, bytes: Uint8Array, by: number): boolean {
  const bits = reader.bits(bytes, by);
  return bits !== null && reader.agrees(bits, fact);
}

/** Whether a fact would be right if its point stood so many bytes later; worked out once, as many changes move by as much. */
export function agreesAt({ facts, frames, readerAt, shifted }: Base, k: number, by: number): boolean {
  let known = shifted.get(by);
  if (!known) shifted.set(by, (known = new Int8Array(facts.length)));
  if (known[k] === 0) {
    const fact = facts[k]!;
    const bytes = frames[fact.observation]![fact.direction]!;
    known[k] = agrees(readerAt[k]!, fact, bytes, by) ? 1 : -1;
  }
  return known[k] === 1;
}
