/**
 * The effect of a change that moves things. The changed station is placed by the same rules as ever, but reduced to what
 * matters: modules that did not change are followed by where they start, of the others points that have facts are kept.
 */
import { assemble, type Direction, type ImageLayout, type PlacedPoint, type Station } from "byterail";
import type { Base } from "./base.js";
import { type Key, keyOf } from "./facts.js";
import type { Effect } from "./hypothesis.js";
import { ifPossible } from "./ifPossible.js";
import { reduced } from "./reduce.js";
import { bareRun, type Run, runsOf } from "./runs.js";

/** Which points are placed anew: those of modules that changed, or all, for what the modules inherit. */
export type Anew = "changed" | "all";

/** The effect of a change that moves things: always told in full. */
export type Arranged = Required<Pick<Effect, "points" | "moved" | "lengths">>;

/** The effect of a change on a base, or null where the station could not be assembled after it. */
export function rearranged(base: Base, changed: Station, anew: Anew = "changed"): Arranged | null {
  const parts = runsOf(base, changed, anew);
  const modules = parts.map((part) => ("first" in part ? bareRun(base, part) : reduced(base, part)));
  const layout = ifPossible(() => assemble({ ...changed, modules }));
  if (!layout) return null;
  const points = new Map<Key, PlacedPoint | null>();
  const lengths: Partial<Record<Direction, number>> = {};
  const shifts: Partial<Record<Direction, readonly (number | undefined)[]>> = {};
  for (const image of [layout.inputs, layout.outputs] as ImageLayout[]) {
    const { direction } = image;
    lengths[direction] = image.byteLength;
    for (const point of image.points) {
      const key = keyOf(direction, point.name);
      points.set(key, asDescribed(base.points.get(key)!, point));
    }
    const starts = new Map(image.modules.map(({ name, byte }) => [name, byte]));
    const shift: number[] = [];
    parts.forEach((part, k) => {
      if ("first" in part) shiftRun(base, part, direction, starts.get(modules[k]!.name), shift);
    });
    shifts[direction] = shift;
  }
  const moved = (direction: Direction, module: number) => shifts[direction]![module] ?? null;
  return { points, moved, lengths };
}

function shiftRun(
  base: Base,
  { first, last }: Run,
  direction: Direction,
  start: number | undefined,
  shift: number[],
): void {
  const extents = base.extents[direction];
  let before: number | null = null;
  for (let index = first; index <= last; index++) {
    const extent = extents[index];
    if (!extent) continue;
    before ??= extent.byte;
    // A run with data has a start.
    shift[index] = start! - before;
  }
}

// A reduced point has no scale, so that nothing is checked over and over: it means what it meant.
function asDescribed(old: PlacedPoint, { module, byte, bit, positions, low }: PlacedPoint): PlacedPoint {
  return { ...old, module, byte, bit, positions, low };
}
