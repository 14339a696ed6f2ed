/** Entries that stand among bits. */
import type { Entry } from "byterail";

/** Bits that an entry takes; 0 for what takes whole bytes. */
export function bitsOf(entry: Entry): number {
  if ("spareBits" in entry) return entry.spareBits;
  return "type" in entry && entry.type === "bit" ? 1 : 0;
}

/** Whether an entry is a bit, or spare bits. */
export function isBits(entry: Entry): boolean {
  return bitsOf(entry) > 0;
}
