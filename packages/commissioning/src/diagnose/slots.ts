/** The order of slots, in which modules take their places, unless words come first or a pin holds one elsewhere. */
import type { Station } from "byterail";

/** Indices of the modules in the order of their slots; a module that tells none has its place in the list for a slot. */
export function inSlotOrder({ modules }: Station): readonly number[] {
  const slots = modules.map(({ slot }, k) => slot ?? k);
  // The sort is stable: modules of one slot keep the order of the list.
  return modules.map((_, k) => k).sort((a, b) => slots[a]! - slots[b]!);
}
