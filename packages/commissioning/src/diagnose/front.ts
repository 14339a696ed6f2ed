/** What is left of the entries of a module where the first bytes of it are not there. */
import type { Entry } from "byterail";
import { bitsOf } from "./bits.js";

/** So many entries at the front are looked at one by one. */
const mostEntries = 8;

/**
 * The entries that may be left: without the first, without the first two and so on, and where one is spare bytes, with
 * that shortened by some number of bytes.
 *
 * @param held names of points that cannot go: what comes before the first of them may
 */
export function withoutFront(
  entries: readonly Entry[],
  likely: readonly number[],
  held: readonly string[],
): readonly (readonly Entry[])[] {
  const lists: (readonly Entry[])[] = [];
  let bits = 0;
  for (const [k, entry] of entries.slice(0, mostEntries).entries()) {
    if (namesOf(entry).some((name) => held.includes(name))) break;
    const rest = entries.slice(k + 1);
    if ("spare" in entry)
      for (const n of likely) if (n < entry.spare) lists.push([{ ...entry, spare: entry.spare - n }, ...rest]);
    bits = bitsOf(entry) > 0 ? bits + bitsOf(entry) : 0;
    // Bits that are left of a byte begun would come to stand at other bits of it, which is no shift by bytes.
    const breaksByte = bits % 8 > 0 && rest.length > 0 && bitsOf(rest[0]!) > 0;
    if (!breaksByte) lists.push(rest);
  }
  return lists;
}

function namesOf(entry: Entry): readonly string[] {
  if ("fields" in entry) return entry.fields.map(({ name }) => name);
  return "name" in entry ? [entry.name] : [];
}
