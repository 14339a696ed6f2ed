/** Edits of a description. Everything that is not edited is shared with the original, so that a change can be told by identity. */
import type { Direction, Entry, Field, Module, PackedWord, Station } from "byterail";
import type { Spot } from "./base.js";

/** The packed word that holds a spot, or null. */
export function wordAt({ modules }: Station, { direction, module, entry, field }: Spot): PackedWord | null {
  return field === null ? null : (modules[module]![direction]![entry] as PackedWord);
}

/** Tells the entry of a spot from all others; the fields of a packed word share one. */
export function itemId({ direction, module, entry }: Spot): string {
  return `${direction} ${module} ${entry}`;
}

/** A station with another entry or field at a spot. */
export function withEntry(station: Station, spot: Spot, changed: Entry | Field): Station {
  const word = wordAt(station, spot);
  const item = word ? { ...word, fields: replaced(word.fields, spot.field!, changed as Field) } : (changed as Entry);
  return withItem(station, spot, item);
}

/** A station with another entry, a packed word as a whole included, in place of that of a spot. */
export function withItem(station: Station, { direction, module, entry }: Spot, item: Entry): Station {
  const home = station.modules[module]!;
  return withModule(station, module, { ...home, [direction]: replaced(home[direction]!, entry, item) });
}

/** A station with another module at an index. */
export function withModule(station: Station, index: number, module: Module): Station {
  return { ...station, modules: replaced(station.modules, index, module) };
}

/** A station with other rules of placement in a direction. */
export function withPlacement(station: Station, direction: Direction, rules: object): Station {
  const placement = { ...station.placement, [direction]: { ...station.placement?.[direction], ...rules } };
  return { ...station, placement };
}

/** A station in which every module tells its slot, if any does, so that modules can be moved in the list. */
export function withSlots(station: Station): Station {
  if (station.modules.every(({ slot }) => slot === undefined)) return station;
  const modules = station.modules.map((module, k) => (module.slot === undefined ? { ...module, slot: k } : module));
  return { ...station, modules };
}

function replaced<T>(list: readonly T[], index: number, item: T): readonly T[] {
  return list.map((each, k) => (k === index ? item : each));
}
