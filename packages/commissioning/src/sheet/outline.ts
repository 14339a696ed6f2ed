/** The order of a printed sheet: inputs before outputs, analog before digital. */
import type { Direction } from "byterail";
import type { Contact } from "./contact.js";
import type { Loop } from "./loop.js";
import type { PlainNumber, Sheet } from "./sheet.js";

/** One section of a printed sheet; only one of its lists has entries. */
export interface Section {
  readonly title: string;
  readonly direction: Direction;
  readonly loops: readonly Loop[];
  readonly contacts: readonly Contact[];
  readonly numbers: readonly PlainNumber[];
}

/** The sections of a sheet that have something in them. */
export function outline({ loops, contacts, numbers }: Sheet): readonly Section[] {
  const none = { loops: [], contacts: [], numbers: [] };
  return (["inputs", "outputs"] as const)
    .flatMap((direction): Section[] => {
      const here = <T extends { readonly direction: Direction }>(list: readonly T[]) =>
        list.filter((each) => each.direction === direction);
      return [
        { ...none, title: `Analog ${direction}`, direction, loops: here(loops) },
        { ...none, title: `Digital ${direction}`, direction, contacts: here(contacts) },
        { ...none, title: `Other numbers, ${direction}`, direction, numbers: here(numbers) },
      ];
    })
    .filter((section) => section.loops.length + section.contacts.length + section.numbers.length > 0);
}
