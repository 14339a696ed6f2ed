/**
 * Modules reduced to what a search needs, so that a station of hundreds of points is placed in a fraction of a
 * millisecond: spares in place of what has no facts, and no scales.
 */
import type { Direction, Entry, ImageLayout, Module, NumberPoint, PackedWord } from "byterail";
import type { Base } from "./base.js";
import { isBits } from "./bits.js";
import { keyOf } from "./facts.js";

/** A module that is followed as a whole: one spare of its size in each direction. */
export function bareOf(base: Base, module: Module): Module {
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

/** A module of which only points that have facts are kept, each at its place. */
export function reduced(base: Base, module: Module): Module {
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
      out.push({ ...ordersOf(entry as NumberPoint), name: entry.name, type: entry.type } as Entry);
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
