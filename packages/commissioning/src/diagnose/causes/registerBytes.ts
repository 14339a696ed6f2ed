/**
 * The bytes of each 16-bit register exchanged: in one module, or in the whole image. Words then have the other byte order,
 * and of bits the first eight come in the second byte. Where the description can say it, that is the change; else the
 * registers are to be read with the other byte first.
 */
import type { Direction, Entry, Module, NumberPoint, Station } from "byterail";
import type { Base } from "../base.js";
import { bitsOf, isBits } from "../bits.js";
import { withModule } from "../edit.js";
import { keyOf } from "../facts.js";
import type { Cause, Effect, Hypothesis, Where } from "../hypothesis.js";
import { judge } from "../judge.js";
import { directions, isSuspect } from "../lengths.js";
import { rearranged } from "../rearrange.js";
import { suspectModules } from "./inheritedOrder.js";
import { orderKeys, ordersInEffect } from "./orders.js";

export const registerBytes: Cause = function* (base) {
  const suspected = suspectModules(base);
  for (const direction of directions) {
    if (!isSuspect(base, direction)) continue;
    let whole: Station | null = base.station;
    for (const [index, module] of base.station.modules.entries()) {
      if (!module[direction]?.length) continue;
      const changed = exchanged(base, index, direction);
      whole = changed && whole && withModule(whole, index, changed);
      // A module without bits differs in its byte order alone, which is a cause of its own.
      if (!changed || !suspected.has(module.name) || !module[direction].some(isBits)) continue;
      const hypothesis = described(
        base,
        withModule(base.station, index, changed),
        { direction, module: module.name, point: null },
        `The bytes of each 16-bit register of module ${module.name} are exchanged.`,
      );
      if (hypothesis) yield hypothesis;
    }
    const where = { direction, module: null, point: null };
    const says = `The bytes of each 16-bit register of the ${direction} are exchanged.`;
    const read: Hypothesis = {
      cause: "registerBytes",
      where,
      says: `${says} Read the registers with the other byte first.`,
      assumes: 2,
      effect: { frame: { direction, does: "exchangeRegisterBytes", bytes: 0 } },
      station: null,
    };
    const told = whole && described(base, whole, where, says);
    // A byte without another may be pushed out of the frame, so that a changed description says something else.
    yield told && sameFacts(base, told.effect, read.effect) ? told : read;
  }
};

function described(base: Base, station: Station, where: Where, says: string): Hypothesis | null {
  const effect = rearranged(base, station);
  return effect && { cause: "registerBytes", where, says, assumes: 2.5, effect, station: () => station };
}

function sameFacts(base: Base, a: Effect, b: Effect): boolean {
  return JSON.stringify(judge(base, a)) === JSON.stringify(judge(base, b));
}

/** Entries that fill whole bytes together. */
interface Cell {
  readonly bytes: number;
  readonly entries: readonly Entry[];
}

// The module with its bytes exchanged in pairs, or null where a pair is not its own or cannot be told apart.
function exchanged(base: Base, index: number, direction: Direction): Module | null {
  const module = base.station.modules[index]!;
  const entries = module[direction]!;
  const extents = base.extents[direction];
  const { byte } = extents[index]!;
  const packed = base.station.placement?.[direction]?.packing === "bit" && entries.some(isBits);
  if (byte % 2 || packed) return null;
  const cells = cellsOf(base, entries, direction);
  const end = cells.reduce((sum, { bytes }) => sum + bytes, byte);
  if (end % 2 && extents.some((other) => other?.byte === end)) return null;
  const turned: (readonly Entry[])[] = [];
  for (let k = 0; k < cells.length; k++) {
    const cell = cells[k]!;
    if (cell.bytes % 2 === 0) {
      turned.push([turnedRound(base, cell.entries[0]!, direction)]);
      continue;
    }
    const next = cells[k + 1] ?? { bytes: 1, entries: [{ spareBits: 8 }] };
    if (cell.bytes !== 1 || next.bytes !== 1) return null;
    turned.push(next.entries, cell.entries);
    k++;
  }
  // Bits that bits of another byte follow fill their own.
  const out = turned.flatMap((cell, k) => (turned[k + 1]?.some(isBits) ? filled(cell) : cell));
  return { ...module, [direction]: out };
}

function cellsOf(base: Base, entries: readonly Entry[], direction: Direction): Cell[] {
  const cells: Cell[] = [];
  let bits: Entry[] = [];
  let count = 0;
  const close = () => {
    if (count > 0) cells.push({ bytes: 1, entries: bits });
    [bits, count] = [[], 0];
  };
  const add = (entry: Entry, size: number) => {
    bits.push(entry);
    count += size;
    if (count === 8) close();
  };
  for (const entry of entries) {
    if ("spareBits" in entry)
      for (let left = entry.spareBits; left > 0; ) {
        const part = Math.min(left, 8 - count);
        add({ ...entry, spareBits: part }, part);
        left -= part;
      }
    else if ("type" in entry && entry.type === "bit") add(entry, 1);
    else {
      close();
      if ("spare" in entry)
        for (let k = 0; k < entry.spare; k++) cells.push({ bytes: 1, entries: [{ ...entry, spare: 1 }] });
      else
        cells.push({
          bytes: ("word" in entry ? entry.word : base.points.get(keyOf(direction, entry.name))!.bits) / 8,
          entries: [entry],
        });
    }
  }
  close();
  return cells;
}

// The other byte order inside the same order of words; a word without fields reads the same either way.
function turnedRound(base: Base, entry: Entry, direction: Direction): Entry {
  const name = "fields" in entry ? entry.fields[0]?.name : (entry as NumberPoint).name;
  if (name === undefined) return entry;
  const { byteOrder, wordOrder } = ordersInEffect(base.points.get(keyOf(direction, name))!)!;
  return { ...entry, ...orderKeys({ byteOrder: byteOrder === "big" ? "little" : "big", wordOrder }) } as Entry;
}

function filled(entries: readonly Entry[]): readonly Entry[] {
  if (!isBits(entries[0]!)) return entries;
  const used = entries.reduce((sum, entry) => sum + bitsOf(entry), 0);
  return used < 8 ? [...entries, { spareBits: 8 - used }] : entries;
}
