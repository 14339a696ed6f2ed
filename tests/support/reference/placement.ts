/** Placement, bit by bit, from the rules alone: nothing of the library but types. The one running cursor counts bits. */
import type { Direction, Entry, Module, Station } from "byterail";

/** An entry and the bit at which it begins; a bit point with its number in its byte. */
export interface ReferenceEntry {
  readonly module: Module;
  readonly entry: Entry;
  readonly start: number;
  readonly bitOrder: "lsbFirst" | "msbFirst";
}

/** Entries of one direction in the order of placement, and the length of the image in bytes. */
export function placed(station: Station, direction: Direction): { entries: ReferenceEntry[]; byteLength: number } {
  const {
    order = "slot",
    packing = "byte",
    alignment = 1,
    lengthMultiple = 1,
    length,
    bitOrder = "lsbFirst",
  } = station.placement?.[direction] ?? {};
  const modules = station.modules
    .map((module, index) => ({ module, slot: module.slot ?? index }))
    .sort((a, b) => a.slot - b.slot)
    .map(({ module }) => ({
      module,
      list: module[direction] ?? [],
      reserve: direction === "inputs" ? module.inputBytes : module.outputBytes,
      pin: direction === "inputs" ? module.inputOffset : module.outputOffset,
    }))
    .filter(({ list, reserve = 0 }) => list.length > 0 || reserve > 0);
  const isBits = ({ module, list, reserve }: (typeof modules)[number]) =>
    module.group === undefined ? reserve === undefined && list.every(isBit) : module.group === "bits";
  const ordered = order === "slot" ? modules : [...modules.filter((each) => !isBits(each)), ...modules.filter(isBits)];

  const entries: ReferenceEntry[] = [];
  let cursor = 0;
  let last = 0;
  let inRun = false;
  for (const each of ordered) {
    const { module, list, reserve, pin } = each;
    const joins = packing === "bit" && isBits(each) && reserve === undefined && pin === undefined;
    if (pin !== undefined) cursor = 8 * pin;
    else if (!(joins && inRun)) cursor = roundUp(cursor, 8 * alignment);
    const start = cursor;
    for (const entry of list) {
      if (!isBit(entry)) cursor = roundUp(cursor, 8);
      entries.push({ module, entry, start: cursor, bitOrder: module.bitOrder ?? bitOrder });
      cursor += bitsOf(entry);
    }
    if (reserve !== undefined) cursor = roundUp(start, 8) + 8 * reserve;
    last = Math.max(last, cursor);
    inRun = joins;
  }
  const used = roundUp(Math.ceil(last / 8), lengthMultiple);
  return { entries, byteLength: length ?? used };
}

/** Width of an entry in bits. */
export function bitsOf(entry: Entry): number {
  if ("spare" in entry) return 8 * entry.spare;
  if ("spareBits" in entry) return entry.spareBits;
  if ("word" in entry) return entry.word;
  return entry.type === "bit" ? 1 : Number(/\d+$/.exec(entry.type)![0]);
}

function isBit(entry: Entry): boolean {
  return "spareBits" in entry || ("type" in entry && entry.type === "bit");
}

function roundUp(value: number, step: number): number {
  return Math.ceil(value / step) * step;
}
