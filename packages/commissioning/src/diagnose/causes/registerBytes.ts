/**
 * The bytes of each 16-bit register exchanged: in one module, or in the whole image. Words then have the other byte order,
 * and of bits the first eight come in the second byte. Where the description can say it, that is the change; else the
 * registers are to be read with the other byte first.
 */
import type { Direction, Entry, ImageLayout, Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withModule } from "../edit.js";
import { keyOf } from "../facts.js";
import type { Cause, Effect, Hypothesis } from "../hypothesis.js";
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
      const changed = exchanged(base, module, direction);
      whole = changed && whole ? withModule(whole, index, changed) : null;
      // A module without bits differs in its byte order alone, which is a cause of its own.
      if (changed && suspected.has(module.name) && module[direction].some(isBits))
        yield* changedBy(
          withModule(base.station, index, changed),
          { direction, module: module.name, point: null },
          `The bytes of each 16-bit register of module ${module.name} are exchanged.`,
        );
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
    const described = whole ? [...changedBy(whole, where, says)] : [];
    // The order of modules may depend on what they hold, so that a changed description says something else.
    yield* described.some(({ effect }) => sameFacts(base, effect, read.effect)) ? described : [read];
  }

  function* changedBy(station: Station, where: Hypothesis["where"], says: string): Iterable<Hypothesis> {
    const effect = rearranged(base, station);
    if (effect) yield { cause: "registerBytes", where, says, assumes: 2.5, effect, station: () => station };
  }
};

function sameFacts(base: Base, a: Effect, b: Effect): boolean {
  return JSON.stringify(judge(base, a)) === JSON.stringify(judge(base, b));
}

/** Entries that fill whole bytes together. */
interface Cell {
  readonly bytes: number;
  readonly entries: readonly Entry[];
}

// The module with its bytes exchanged in pairs, or null where a pair is not its own or cannot be told apart.
function exchanged(base: Base, module: Module, direction: Direction): Module | null {
  const extent = (base.layout[direction] as ImageLayout).modules.find(({ name }) => name === module.name);
  const packed = base.station.placement?.[direction]?.packing === "bit" && module[direction]!.some(isBits);
  if (!extent || extent.byte % 2 || packed) return null;
  const cells = cellsOf(base, module[direction]!, direction);
  const out: Entry[] = [];
  for (let k = 0; k < cells.length; k++) {
    const cell = cells[k]!;
    if (cell.bytes % 2 === 0) {
      const turned = turnedRound(base, cell.entries[0]!, direction);
      if (!turned) return null;
      out.push(turned);
      continue;
    }
    const next = cells[k + 1] ?? { bytes: 1, entries: [{ spareBits: 8 }] };
    if (cell.bytes !== 1 || next.bytes !== 1) return null;
    out.push(...filled(next.entries), ...(k + 1 < cells.length ? filled(cell.entries) : cell.entries));
    k++;
  }
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
        add({ spareBits: part }, part);
        left -= part;
      }
    else if ("type" in entry && entry.type === "bit") add(entry, 1);
    else {
      close();
      if ("spare" in entry) for (let k = 0; k < entry.spare; k++) cells.push({ bytes: 1, entries: [{ spare: 1 }] });
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

// The other byte order inside the same order of words.
function turnedRound(base: Base, entry: Entry, direction: Direction): Entry | null {
  const name = "fields" in entry ? entry.fields[0]?.name : "name" in entry ? entry.name : undefined;
  const orders = name === undefined ? null : ordersInEffect(base.points.get(keyOf(direction, name))!);
  if (!orders) return "fields" in entry ? entry : null;
  return { ...entry, ...orderKeys({ ...orders, byteOrder: orders.byteOrder === "big" ? "little" : "big" }) } as Entry;
}

// Bits that are no longer the last of the module fill their byte.
function filled(entries: readonly Entry[]): readonly Entry[] {
  if (!isBits(entries[0]!)) return entries;
  const used = entries.reduce((sum, entry) => sum + ("spareBits" in entry ? entry.spareBits : 1), 0);
  return used < 8 ? [...entries, { spareBits: 8 - used }] : entries;
}

function isBits(entry: Entry): boolean {
  return "spareBits" in entry || ("type" in entry && entry.type === "bit");
}
