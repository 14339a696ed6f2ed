/** A module that the description misses: what follows it comes later than described. */
import type { Direction, Entry, Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Cause } from "../hypothesis.js";
import { directions, missingSizes } from "../lengths.js";
import { rearranged } from "../rearrange.js";
import { bytes, unusedName } from "./shift.js";

export const moduleMissing: Cause = function* (base) {
  const parts = partsOf(base);
  for (let at = 0; at <= base.station.modules.length; at++)
    for (const part of parts) {
      if (at === 0 && isHeader(base, part)) continue;
      const station = withModuleAt(base.station, at, part.entries);
      const effect = rearranged(base, station);
      if (!effect) continue;
      const [before, after] = [base.station.modules[at - 1]?.name, base.station.modules[at]?.name];
      const place = before && after ? `between ${before} and ${after}` : before ? `after ${before}` : `before ${after}`;
      const says = `A module that the description misses stands ${place}; it takes ${part.says}.`;
      const where = { direction: null, module: after ?? before ?? null, point: null };
      yield { cause: "moduleMissing", where, says, assumes: 3 + part.assumes, effect, station: () => station };
    }
};

// Before everything else it is a header, a cause of its own.
function isHeader({ station }: Base, { entries }: Part): boolean {
  const given = directions.filter((direction) => entries[direction]);
  const ordered = given.some((direction) => station.placement?.[direction]?.order === "wordsFirst");
  return given.length === 1 && !ordered && station.modules.every(({ slot }) => slot === undefined);
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

function withModuleAt(station: Station, at: number, entries: Part["entries"]): Station {
  const { modules, ...rest } = withSlots(station);
  const { slot } = modules[at] ?? modules[modules.length - 1] ?? {};
  const missing: Module = { name: unusedName(station, "missing"), ...(slot !== undefined && { slot }), ...entries };
  return { ...rest, modules: [...modules.slice(0, at), missing, ...modules.slice(at)] };
}
