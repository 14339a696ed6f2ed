/**
 * The effect of a change that moves things: the changed station is placed by the same rules as ever, but reduced to what
 * matters. Modules that did not change are one spare each and are followed by where they start; of the others only points
 * that have facts are kept. So a station of hundreds of points is placed in a fraction of a millisecond.
 */
import {
  assemble,
  ByterailError,
  type Direction,
  type Entry,
  type ImageLayout,
  type Layout,
  type Module,
  type PackedWord,
  type PlacedPoint,
  type Station,
} from "byterail";
import type { Base } from "./base.js";
import { type Key, keyOf } from "./facts.js";
import type { Effect } from "./hypothesis.js";

/** Which points are placed anew: those of modules that changed, or all, for what the modules inherit. */
export type Anew = "changed" | "all";

/** The effect of a change on a base, or null where the station could not be assembled after it. */
export function rearranged(base: Base, changed: Station, anew: Anew = "changed"): Effect | null {
  const old = new Set(base.station.modules);
  const followed = (module: Module) => anew === "changed" && old.has(module);
  const modules = changed.modules.map((module) => (followed(module) ? bareOf(base, module) : reduced(base, module)));
  const layout = layoutOf({ ...changed, modules });
  if (!layout) return null;
  const points = new Map<Key, PlacedPoint | null>();
  const moved = new Map<Key, number | null>();
  const lengths: Partial<Record<Direction, number>> = {};
  for (const image of [layout.inputs, layout.outputs] as ImageLayout[]) {
    const { direction } = image;
    lengths[direction] = image.byteLength;
    for (const point of image.points)
      points.set(keyOf(direction, point.name), asDescribed(base, keyOf(direction, point.name), point));
    for (const { name, byte } of image.modules)
      moved.set(keyOf(direction, name), byte - (base.starts.get(keyOf(direction, name)) ?? 0));
  }
  // A point of a module that was placed anew is where it is now, or nowhere.
  for (const module of changed.modules)
    if (!followed(module))
      for (const direction of ["inputs", "outputs"] as const) moved.set(keyOf(direction, module.name), null);
  return { points, moved, lengths };
}

// A reduced point has no scale, so that nothing is checked over and over: it means what it meant.
function asDescribed(base: Base, key: Key, placed: PlacedPoint): PlacedPoint {
  const old = base.points.get(key)!;
  return {
    ...old,
    module: placed.module,
    byte: placed.byte,
    bit: placed.bit,
    positions: placed.positions,
    low: placed.low,
  };
}

function layoutOf(station: Station): Layout | null {
  try {
    return assemble(station);
  } catch (error) {
    if (error instanceof ByterailError) return null;
    throw error;
  }
}

function bareOf(base: Base, module: Module): Module {
  let bare = base.bare.get(module);
  if (!bare) base.bare.set(module, (bare = bareModule(base, module)));
  return bare;
}

function bareModule(base: Base, module: Module): Module {
  const { exclusive: _, ...rest } = module;
  const bare: Record<string, unknown> = { ...rest };
  for (const direction of ["inputs", "outputs"] as const) {
    const entries = module[direction];
    if (!entries?.length) continue;
    const image = base.layout[direction] as ImageLayout;
    const { bytes } = image.modules.find(({ name }) => name === module.name)!;
    const onlyBits = entries.every(isBits);
    // Bits that share bytes with other modules may come to stand at another bit; they are kept one by one.
    if (base.station.placement?.[direction]?.packing === "bit" && (onlyBits || module.group === "bits"))
      bare[direction] = reducedEntries(base, direction, entries);
    else bare[direction] = [onlyBits ? { spareBits: 8 * bytes } : { spare: bytes }];
  }
  return bare as unknown as Module;
}

function reduced(base: Base, module: Module): Module {
  const { exclusive: _, ...rest } = module;
  const small: Record<string, unknown> = { ...rest };
  for (const direction of ["inputs", "outputs"] as const) {
    const entries = module[direction];
    if (entries?.length) small[direction] = reducedEntries(base, direction, entries);
  }
  return small as unknown as Module;
}

function reducedEntries(base: Base, direction: Direction, entries: readonly Entry[]): Entry[] {
  const out: Entry[] = [];
  const bare = (unit: "spare" | "spareBits", size: number) => {
    const last = out[out.length - 1] as Record<string, number> | undefined;
    if (last?.[unit] !== undefined) out[out.length - 1] = { [unit]: last[unit] + size } as unknown as Entry;
    else out.push({ [unit]: size } as unknown as Entry);
  };
  const hasFacts = (name: string) => base.factsAt.has(keyOf(direction, name));
  for (const entry of entries) {
    if ("spare" in entry) bare("spare", entry.spare);
    else if ("spareBits" in entry) bare("spareBits", entry.spareBits);
    else if ("fields" in entry) {
      const fields = entry.fields
        .filter(({ name }) => hasFacts(name))
        .map((field) =>
          "bit" in field
            ? { name: field.name, bit: field.bit }
            : { name: field.name, bits: field.bits, shift: field.shift },
        );
      if (fields.length > 0) out.push({ ...ordersOf(entry), word: entry.word, fields });
      else bare("spare", entry.word / 8);
    } else if (hasFacts(entry.name))
      out.push(
        entry.type === "bit"
          ? { name: entry.name, type: "bit" }
          : { ...ordersOf(entry), name: entry.name, type: entry.type },
      );
    else if (entry.type === "bit") bare("spareBits", 1);
    else bare("spare", base.points.get(keyOf(direction, entry.name))!.bits / 8);
  }
  return out;
}

function ordersOf({
  byteOrder,
  wordOrder,
}: {
  readonly byteOrder?: PackedWord["byteOrder"];
  readonly wordOrder?: PackedWord["wordOrder"];
}): Pick<PackedWord, "byteOrder" | "wordOrder"> {
  return { ...(byteOrder && { byteOrder }), ...(wordOrder && { wordOrder }) };
}

function isBits(entry: Entry): boolean {
  return "spareBits" in entry || ("type" in entry && entry.type === "bit");
}
