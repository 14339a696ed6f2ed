/**
 * A base: a station as it is read, with every fact judged. The description as given is one; so is each candidate on
 * which a second cause is looked for.
 */
import {
  assemble,
  type Direction,
  type ImageLayout,
  type Layout,
  type Module,
  type PlacedPoint,
  type Station,
} from "byterail";
import type { CheckedObservation } from "./observation.js";
import { type Fact, type Key, keyOf } from "./facts.js";
import { type Reader, readerOf } from "./reader.js";

/** Where an entry stands in the description. */
export interface Spot {
  readonly direction: Direction;
  readonly module: number;
  readonly entry: number;
  /** Index in `fields`, or null outside a packed word. */
  readonly field: number | null;
}

/** Frames of one observation. */
export type Frames = CheckedObservation["frames"];

/** A station as it is read. */
export interface Base {
  readonly station: Station;
  readonly layout: Layout;
  readonly facts: readonly Fact[];
  readonly frames: readonly Frames[];
  /** Facts by point, as indices. */
  readonly factsAt: ReadonlyMap<Key, readonly number[]>;
  /** Points that have facts. */
  readonly readers: ReadonlyMap<Key, Reader>;
  /** All points. */
  readonly points: ReadonlyMap<Key, PlacedPoint>;
  readonly spots: ReadonlyMap<Key, Spot>;
  /** Whether each fact is right. */
  readonly right: readonly boolean[];
  /** Points that have a fact that is wrong. */
  readonly wrong: ReadonlySet<Key>;
  /** First byte of each module, by direction and name. */
  readonly starts: ReadonlyMap<Key, number>;
  /** Lengths that the frames may have, beside that of the layout: an image that was cut where the description ends. */
  readonly cut: Readonly<Partial<Record<Direction, number>>>;
  /** Points whose signal accounts for their facts. */
  readonly excused: ReadonlySet<Key>;
  /** Modules as the search for structural causes sees them; filled as needed. */
  readonly bare: Map<Module, Module>;
}

/** What carries over from the base that a base was made on. */
export interface Evidence {
  readonly facts: readonly Fact[];
  readonly frames: readonly Frames[];
  /** Points whose signal accounts for their facts. */
  readonly excused: ReadonlySet<Key>;
  readonly cut: Base["cut"];
}

/** Reads a station. */
export function baseOf(
  station: Station,
  { facts, frames, excused, cut }: Evidence,
  layout: Layout = assemble(station),
): Base {
  const points = new Map<Key, PlacedPoint>();
  const starts = new Map<Key, number>();
  for (const image of [layout.inputs, layout.outputs] as ImageLayout[]) {
    for (const point of image.points) points.set(keyOf(image.direction, point.name), point);
    for (const { name, byte } of image.modules) starts.set(keyOf(image.direction, name), byte);
  }
  const factsAt = new Map<Key, number[]>();
  facts.forEach(({ direction, point }, k) => {
    if (point === null) return;
    const key = keyOf(direction, point);
    factsAt.set(key, [...(factsAt.get(key) ?? []), k]);
  });
  const readers = new Map<Key, Reader>();
  for (const key of factsAt.keys()) if (points.has(key)) readers.set(key, readerOf(points.get(key)!));
  const right = facts.map((fact) => {
    const bytes = frames[fact.observation]![fact.direction]!;
    const { byteLength } = layout[fact.direction];
    if (fact.point === null) return bytes.length === byteLength || bytes.length === cut[fact.direction];
    const key = keyOf(fact.direction, fact.point);
    const reader = readers.get(key);
    const bits = reader?.bits(bytes, 0) ?? null;
    return excused.has(key) || (bits !== null && reader!.agrees(bits, fact));
  });
  const wrong = new Set<Key>();
  facts.forEach(({ direction, point }, k) => {
    if (point !== null && !right[k]) wrong.add(keyOf(direction, point));
  });
  return {
    station,
    layout,
    facts,
    frames,
    factsAt,
    readers,
    points,
    spots: spotsOf(station),
    right,
    wrong,
    starts,
    cut,
    excused,
    bare: new Map(),
  };
}

function spotsOf({ modules }: Station): Map<Key, Spot> {
  const spots = new Map<Key, Spot>();
  modules.forEach((each, module) => {
    for (const direction of ["inputs", "outputs"] as const)
      each[direction]?.forEach((item, entry) => {
        if ("fields" in item)
          item.fields.forEach(
            ({ name }, field) => void spots.set(keyOf(direction, name), { direction, module, entry, field }),
          );
        else if ("name" in item) spots.set(keyOf(direction, item.name), { direction, module, entry, field: null });
      });
  });
  return spots;
}
