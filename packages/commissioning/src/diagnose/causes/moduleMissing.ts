/** A module that the description misses: what follows it comes later than described. */
import type { Direction, Entry, Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Cause } from "../hypothesis.js";
import { directions, missingSizes } from "../lengths.js";
import { rearranged } from "../rearrange.js";
import { inSlotOrder } from "../slots.js";
import { bytes, unusedName } from "./shift.js";

export const moduleMissing: Cause = function* (base) {
  const order = inSlotOrder(base.station);
  const parts = partsOf(base);
  for (let at = 0; at <= order.length; at++)
    for (const part of parts) {
      if (at === 0 && isHeader(base, part)) continue;
      const neighbours = { before: order[at - 1], after: order[at] };
      const station = withModuleBetween(base.station, neighbours, part.entries);
      const effect = rearranged(base, station);
      if (!effect) continue;
      const says = `A module that the description misses stands ${placeOf(base, neighbours)}; it takes ${part.says}.`;
      const where = { direction: null, module: nameOf(base, neighbours.after ?? neighbours.before), point: null };
      yield { cause: "moduleMissing", where, says, assumes: 3 + part.assumes, effect, station: () => station };
    }
};

/** Indices of modules that follow one another in the order of slots; undefined at an end. */
interface Neighbours {
  readonly before: number | undefined;
  readonly after: number | undefined;
}

function placeOf(base: Base, neighbours: Neighbours): string {
  const [before, after] = [nameOf(base, neighbours.before), nameOf(base, neighbours.after)];
  if (before && after) return `between ${before} and ${after}`;
  if (before) return `after ${before}`;
  return after ? `before ${after}` : "alone";
}

function nameOf({ station: { modules } }: Base, index: number | undefined): string | null {
  return index === undefined ? null : modules[index]!.name;
}

// Before everything else it is a header, a cause of its own.
function isHeader({ station: { modules, placement } }: Base, { entries }: Part): boolean {
  const [direction, other] = directions.filter((each) => entries[each]);
  return !other && placement?.[direction!]?.order !== "wordsFirst" && modules.every(({ slot }) => slot === undefined);
}

interface Part {
  readonly entries: Readonly<Partial<Record<Direction, readonly Entry[]>>>;
  readonly says: string;
  readonly assumes: number;
}

// What it could contribute: words or bits of some size, in one direction or in both.
function partsOf(base: Base): Part[] {
  const [inputs, outputs] = directions.map((direction) => oneWay(base, direction)) as [Part[], Part[]];
  const both = inputs.flatMap((a) =>
    outputs.map((b) => ({
      entries: { ...a.entries, ...b.entries },
      says: `${a.says} and ${b.says}`,
      assumes: a.assumes + b.assumes,
    })),
  );
  return [...inputs, ...outputs, ...(both.length <= mostBoth ? both : [])];
}

const mostBoth = 64;

function oneWay(base: Base, direction: Direction): Part[] {
  const { order, packing } = base.station.placement?.[direction] ?? {};
  return missingSizes(base, direction).flatMap((n) => {
    const words: Part = {
      entries: { [direction]: [{ spare: n }] },
      says: `${bytes(n)} of the ${direction}`,
      assumes: n / 100,
    };
    // Bits have a place of their own only under these rules.
    if (order !== "wordsFirst" && packing !== "bit") return [words];
    const sizes = packing === "bit" ? [8 * n - 6, 8 * n - 4, 8 * n] : [8 * n];
    return [
      words,
      ...sizes.map(
        (m): Part => ({
          entries: { [direction]: [{ spareBits: m }] },
          says: `${m} bits of the ${direction}`,
          assumes: 0.5 + n / 100,
        }),
      ),
    ];
  });
}

// It has the slot of a neighbour: of modules of one slot the first in the list comes first.
function withModuleBetween(station: Station, { before, after }: Neighbours, entries: Part["entries"]): Station {
  const { modules, ...rest } = withSlots(station);
  const { slot } = modules[after ?? before ?? 0] ?? {};
  const missing: Module = { name: unusedName(station, "missing"), ...(slot !== undefined && { slot }), ...entries };
  const at = after ?? modules.length;
  return { ...rest, modules: [...modules.slice(0, at), missing, ...modules.slice(at)] };
}
