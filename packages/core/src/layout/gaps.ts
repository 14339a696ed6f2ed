/** Gaps: whole bytes that no point and no declared spare uses, each with the reason for it. */
import type { Gap } from "./layout.js";
import type { Placed, PlacedModule } from "./placement.js";

/** The gaps of a placed image, in image order. */
export function gapsOf({ modules, byteLength }: Placed): Gap[] {
  const sorted = [...modules].sort((a, b) => a.start - b.start);
  const gaps: Gap[] = [];
  const add = (from: number, to: number, why: Gap["why"]) => {
    if (to > from) gaps.push({ byte: from, bytes: to - from, why });
  };
  let end = 0;
  for (const module of sorted) {
    add(end, module.start >> 3, module.pinned ? "pin" : "alignment");
    end = Math.max(end, Math.ceil((module.start + module.bits) / 8));
    add(usedTo(module), end, "reserve");
  }
  add(end, byteLength, "length");
  return gaps;
}

// Only a reserve makes a module longer than its entries.
function usedTo({ start, entries }: PlacedModule): number {
  const last = entries[entries.length - 1];
  return Math.ceil((last ? last.start + last.bits : start) / 8);
}
