/** Bits of a byte reversed: the bit order of a module or of a direction, the flags of a packed word, or every byte of a frame. */
import type { BitOrder, Direction, Field, FlagField, PackedWord, PlacedPoint, Station } from "byterail";
import type { Spot } from "../base.js";
import { itemId, withItem, withModule, withPlacement, wordAt } from "../edit.js";
import { type Key, keyOf } from "../facts.js";
import type { Cause, Hypothesis, Where } from "../hypothesis.js";
import { suspects } from "../point.js";
import { rearranged } from "../rearrange.js";

export const bitOrder: Cause = function* (base) {
  const done = new Set<string>();
  const isFirst = (what: string) => !done.has(what) && done.add(what);
  for (const { point, spot, where } of suspects(base)) {
    const { direction } = spot;
    const module = base.station.modules[spot.module]!;
    const now = module.bitOrder ?? base.station.placement?.[direction]?.bitOrder ?? "lsbFirst";
    if (point.type === "bit" && isFirst(`module ${module.name}`)) {
      const station = withModule(base.station, spot.module, { ...module, bitOrder: turned(now) });
      const of = { direction: null, module: module.name, point: null };
      yield* ordered(station, "changed", of, `The bits of module ${module.name}`, now);
    }
    if (point.type === "bit" && !module.bitOrder && isFirst(`all ${direction}`)) {
      const station = withPlacement(base.station, direction, { bitOrder: turned(now) });
      const of = { direction, module: null, point: null };
      yield* ordered(station, "all", of, `The bits of all modules, ${direction},`, now);
    }
    const word = wordAt(base.station, spot);
    if (word?.fields.every(isFlag) && isFirst(`word ${itemId(spot)}`)) yield turnedWord(word, spot, where);
    if (isFirst(`frame ${direction}`)) yield everyByte(direction);
  }

  function* ordered(
    station: Station,
    anew: "changed" | "all",
    where: Where,
    what: string,
    now: BitOrder,
  ): Iterable<Hypothesis> {
    const effect = rearranged(base, station, anew);
    const says = `${what} start at the ${now === "lsbFirst" ? "most" : "least"} significant bit of each byte.`;
    if (effect) yield { cause: "bitOrder", where, says, assumes: 2, effect, station: () => station };
  }

  function turnedWord(word: PackedWord, spot: Spot, where: Where): Hypothesis {
    const fields = (word.fields as readonly FlagField[]).map((field) => ({ ...field, bit: field.bit ^ 7 }));
    const points = new Map<Key, PlacedPoint>();
    for (const description of fields) {
      const key = keyOf(spot.direction, description.name);
      const { bit } = description;
      points.set(key, { ...base.points.get(key)!, low: bit, shift: bit, description });
    }
    return {
      cause: "bitOrder",
      where,
      says: `The word of ${fields.map(({ name }) => name).join(", ")} has the bits of each byte in the opposite order.`,
      assumes: 3,
      effect: { points },
      station: () => withItem(base.station, spot, { ...word, fields }),
    };
  }
};

function everyByte(direction: Direction): Hypothesis {
  return {
    cause: "bitOrder",
    where: { direction, module: null, point: null },
    says: `The frame of the ${direction} has the bits of every byte in the opposite order, numbers included; turn them round where it is read.`,
    assumes: 4,
    effect: { frame: { direction, does: "reverseBits", bytes: 0 } },
    station: null,
  };
}

function isFlag(field: Field): field is FlagField {
  return "bit" in field;
}

function turned(order: BitOrder): BitOrder {
  return order === "lsbFirst" ? "msbFirst" : "lsbFirst";
}
