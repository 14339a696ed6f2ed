/**
 * Placement: one running cursor, in bits, walks the modules and gives each entry its place. This file is the only one
 * that knows the rules; everything else asks for its result.
 */
import { widthOf } from "../number/types.js";
import { at, type Findings, note, type Problem } from "../problem.js";
import type { BitOrder, Direction, Entry, Module, Placement } from "../station/description.js";

/** An entry with its place. `start` and `bits` are in the bits of the cursor, before any bit order. */
export interface PlacedEntry {
  readonly entry: Entry;
  readonly start: number;
  readonly bits: number;
}

/** A module with its place in one direction. */
export interface PlacedModule {
  readonly module: Module;
  /** Its index in the station's list. */
  readonly index: number;
  readonly slot: number;
  readonly bitOrder: BitOrder;
  /** First bit and extent on the cursor, reserve included. */
  readonly start: number;
  readonly bits: number;
  /** Whether `inputOffset` or `outputOffset` holds it where it is. */
  readonly pinned: boolean;
  readonly entries: readonly PlacedEntry[];
}

/** Result of placement for one direction. */
export interface Placed {
  readonly byteLength: number;
  /** In the order in which the cursor met them; modules without data in this direction are left out. */
  readonly modules: readonly PlacedModule[];
}

/** Places the modules of one direction. Problems are what cannot stand, warnings what is likely a slip. */
export function place(
  modules: readonly Module[],
  direction: Direction,
  rules: Placement,
  { problems, warnings }: Findings,
): Placed {
  const alignment = 8 * (rules.alignment ?? 1);
  const placed: PlacedModule[] = [];
  let cursor = 0;
  let inRun = false;
  for (const { module, index, slot } of inOrder(modules, direction, rules)) {
    const path = at(at("", "modules"), index, module);
    const { entries, reserve, pin, side } = partOf(module, direction);
    const pinned = pin !== undefined;
    if (entries.length === 0 && !reserve) {
      if (pinned)
        note(warnings, "placement.idlePin", at(path, `${side}Offset`), `has no effect: the module has no ${direction}`);
      continue;
    }
    const packs = rules.packing === "bit" && isBitOnly(module, direction) && reserve === undefined && !pinned;
    const start = pinned ? 8 * pin : packs && inRun ? cursor : roundUp(cursor, alignment);
    const { walked, end } = walk(entries, start);
    cursor = end;
    if (reserve !== undefined) {
      const needed = Math.ceil((end - start) / 8);
      if (needed > reserve)
        note(
          problems,
          "placement.reserve",
          at(path, `${side}Bytes`),
          `is ${reserve} bytes, but the points take ${needed}`,
        );
      cursor = start + 8 * Math.max(needed, reserve);
    }
    const bitOrder = module.bitOrder ?? rules.bitOrder ?? "lsbFirst";
    const last = placed[placed.length - 1];
    if (start % 8 && last && last.bitOrder !== bitOrder) {
      const message = `shares byte ${start >> 3} with module ${last.module.name}, so both need one bitOrder, not ${bitOrder} here`;
      note(problems, "placement.bitOrder", path, message);
    }
    placed.push({ module, index, slot, bitOrder, start, bits: cursor - start, pinned, entries: walked });
    inRun = packs;
  }
  checkOverlaps(placed, problems);
  const end = Math.max(0, ...placed.map(({ start, bits }) => start + bits));
  return { byteLength: lengthOf(Math.ceil(end / 8), direction, rules, problems), modules: placed };
}

/** The byte and the bit, counted from the least significant, of a bit on the cursor. */
export function bitAt(cursor: number, order: BitOrder): { readonly byte: number; readonly bit: number } {
  return { byte: cursor >> 3, bit: order === "lsbFirst" ? cursor & 7 : 7 - (cursor & 7) };
}

/** Whether a module counts as bit-only in a direction: bits and spare bits, no reserved size, unless `group` says otherwise. */
export function isBitOnly(module: Module, direction: Direction): boolean {
  if (module.group) return module.group === "bits";
  const { entries, reserve } = partOf(module, direction);
  return reserve === undefined && entries.every(isBitEntry);
}

function partOf(module: Module, direction: Direction) {
  const side = direction === "inputs" ? "input" : "output";
  return { side, entries: module[direction] ?? [], reserve: module[`${side}Bytes`], pin: module[`${side}Offset`] };
}

function isBitEntry(entry: Entry): boolean {
  return "spareBits" in entry || ("type" in entry && entry.type === "bit");
}

// The sort is stable: modules of one slot keep the order of the list.
function inOrder(modules: readonly Module[], direction: Direction, { order }: Placement) {
  const late = (module: Module) => (order === "wordsFirst" && isBitOnly(module, direction) ? 1 : 0);
  return modules
    .map((module, index) => ({ module, index, slot: module.slot ?? index, late: late(module) }))
    .sort((a, b) => a.late - b.late || a.slot - b.slot);
}

// Bits follow one another; everything else starts on the next whole byte.
function walk(entries: readonly Entry[], start: number): { walked: PlacedEntry[]; end: number } {
  let end = start;
  const walked = entries.map((entry) => {
    const bits = bitsOf(entry);
    const from = isBitEntry(entry) ? end : roundUp(end, 8);
    end = from + bits;
    return { entry, start: from, bits };
  });
  return { walked, end };
}

function bitsOf(entry: Entry): number {
  if ("spare" in entry) return 8 * entry.spare;
  if ("spareBits" in entry) return entry.spareBits;
  if ("word" in entry) return entry.word;
  return entry.type === "bit" ? 1 : widthOf(entry.type);
}

function roundUp(value: number, multiple: number): number {
  return Math.ceil(value / multiple) * multiple;
}

function lengthOf(
  end: number,
  direction: Direction,
  { lengthMultiple = 1, length }: Placement,
  problems: Problem[],
): number {
  const needed = roundUp(end, lengthMultiple);
  if (length === undefined) return needed;
  if (length < needed || length % lengthMultiple) {
    note(
      problems,
      "placement.length",
      `placement.${direction}.length`,
      `is ${length} bytes, but must be a multiple of ${lengthMultiple}, at least ${needed}`,
    );
  }
  return Math.max(length, needed);
}

function checkOverlaps(placed: readonly PlacedModule[], problems: Problem[]): void {
  const [first, ...others] = [...placed].sort((a, b) => a.start - b.start);
  let furthest = first!;
  for (const next of others) {
    const end = furthest.start + furthest.bits;
    if (next.start < end) {
      const last = (Math.min(end, next.start + next.bits) - 1) >> 3;
      const message = `takes bytes ${next.start >> 3} to ${last}, which module ${furthest.module.name} has already; pin it elsewhere`;
      note(problems, "placement.overlap", at(at("", "modules"), next.index, next.module), message);
    }
    if (next.start + next.bits > end) furthest = next;
  }
}
