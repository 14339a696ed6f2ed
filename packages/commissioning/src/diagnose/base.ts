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
  type ModuleExtent,
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
  /** Modules by name, as indices. */
  readonly indices: ReadonlyMap<string, number>;
  /** What each module takes of an image, by index; null where it has no data in the direction. */
  readonly extents: Readonly<Record<Direction, readonly (ModuleExtent | null)[]>>;
  /** Keys of the points of facts; null for lengths. */
  readonly keys: readonly (Key | null)[];
  /** What reads the point of each fact, and the index of its module; null for lengths. */
  readonly readerAt: readonly (Reader | null)[];
  readonly moduleAt: readonly (number | null)[];
  /** Facts that are wrong, and facts that are right, as indices. */
  readonly wrongFacts: readonly number[];
  readonly rightFacts: readonly number[];
  /** Lengths that the frames may have, beside that of the layout: an image that was cut where the description ends. */
  readonly cut: Readonly<Partial<Record<Direction, number>>>;
  /** Points whose signal accounts for their facts. */
  readonly excused: ReadonlySet<Key>;
  /** Whether facts would be right that many bytes further on: 1 yes, -1 no, 0 not looked up; filled as needed. */
  readonly shifted: Map<number, Int8Array>;
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
  for (const image of [layout.inputs, layout.outputs] as ImageLayout[]) {
    for (const point of image.points) points.set(keyOf(image.direction, point.name), point);
  }
  const keys = facts.map(({ direction, point }) => (point === null ? null : keyOf(direction, point)));
  const factsAt = new Map<Key, number[]>();
  keys.forEach((key, k) => {
    if (key !== null) factsAt.set(key, [...(factsAt.get(key) ?? []), k]);
  });
  const readers = new Map<Key, Reader>();
  for (const key of factsAt.keys()) if (points.has(key)) readers.set(key, readerOf(points.get(key)!));
  const right = facts.map((fact, k) => {
    const bytes = frames[fact.observation]![fact.direction]!;
    const { byteLength } = layout[fact.direction];
    const key = keys[k]!;
    if (key === null) return bytes.length === byteLength || bytes.length === cut[fact.direction];
    const reader = readers.get(key);
    const bits = reader?.bits(bytes, 0) ?? null;
    return excused.has(key) || (bits !== null && reader!.agrees(bits, fact));
  });
  const wrong = new Set<Key>();
  keys.forEach((key, k) => {
    if (key !== null && !right[k]) wrong.add(key);
  });
  const indices = new Map(station.modules.map(({ name }, index) => [name, index]));
  const readerAt = keys.map((key) => (key && readers.get(key)) ?? null);
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
    indices,
    extents: { inputs: extentsOf(station, layout.inputs), outputs: extentsOf(station, layout.outputs) },
    keys,
    readerAt,
    moduleAt: readerAt.map((reader) => (reader ? indices.get(reader.point.module)! : null)),
    wrongFacts: facts.flatMap((_, k) => (right[k] ? [] : [k])),
    rightFacts: facts.flatMap((_, k) => (right[k] ? [k] : [])),
    cut,
    excused,
    shifted: new Map(),
    bare: new Map(),
  };
}

function extentsOf({ modules }: Station, image: ImageLayout): (ModuleExtent | null)[] {
  const found = new Map(image.modules.map((extent) => [extent.name, extent]));
  return modules.map(({ name }) => found.get(name) ?? null);
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
