/** Judges a hypothesis: which facts it makes right, and which that were right it breaks. */
import type { Direction, PlacedPoint } from "byterail";
import type { Base } from "./base.js";
import { type Key, keyOf } from "./facts.js";
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
  const fixes: number[] = [];
  const breaks: number[] = [];
  const look = (now: Now) => (k: number) => {
    const right = now(k);
    if (right && !base.right[k]) fixes.push(k);
    if (!right && base.right[k]) breaks.push(k);
  };
  if (effect.excused) {
    for (const k of base.factsAt.get(effect.excused) ?? []) look(() => true)(k);
  } else if (onlyPoints(effect)) {
    // Wrong facts come first: most hypotheses make none of them right.
    const now = nowOf(base, effect);
    const touched = [...effect.points!.keys()].flatMap((key) => base.factsAt.get(key) ?? []);
    touched.filter((k) => !base.right[k]).forEach(look(now));
    if (fixes.length > 0) touched.filter((k) => base.right[k]).forEach(look(now));
  } else {
    const now = nowOf(base, effect);
    const all = base.facts.map((_, k) => k);
    all.filter((k) => !base.right[k]).forEach(look(now));
    if (fixes.length > 0) all.filter((k) => base.right[k]).forEach(look(now));
  }
  return fixes.length > 0 ? { fixes, breaks } : null;
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
    if (fact.point === null) return bytes.length === length(direction) || bytes.length === mayBe(direction);
    const key = keyOf(direction, fact.point);
    const placed = points?.get(key);
    // A fact that a signal accounts for stays accounted for.
    if (base.excused.has(key)) return true;
    const old = base.readers.get(key);
    if (!old || placed === null) return false;
    if (placed === undefined && !moved && !frame) return base.right[k]!;
    const by = placed || !moved ? 0 : (moved.get(keyOf(direction, old.point.module)) ?? null);
    if (by === null) return false;
    const used = placed ? reader(key, placed) : old;
    const bits = used.bits(bytes, by);
    return bits !== null && used.agrees(bits, fact);
  };
}
