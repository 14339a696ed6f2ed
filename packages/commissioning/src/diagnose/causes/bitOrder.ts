/** Bits of a byte reversed: the bit order of a module or of a direction, the flags of a packed word, or every byte of a frame. */
import type { BitOrder, Direction, Field, PackedWord, PlacedPoint, Station } from "byterail";
import { withItem, withModule, withPlacement } from "../edit.js";
import { type Key, keyOf } from "../facts.js";
import type { Cause, Hypothesis } from "../hypothesis.js";
import { suspects } from "../point.js";
import { rearranged } from "../rearrange.js";

export const bitOrder: Cause = function* (base) {
  const seen = new Set<unknown>();
  for (const { point, spot, where } of suspects(base)) {
    const { direction } = spot;
    const module = base.station.modules[spot.module]!;
    const rules = base.station.placement?.[direction] ?? {};
    const now = module.bitOrder ?? rules.bitOrder ?? "lsbFirst";
    if (point.type === "bit" && !seen.has(module)) {
      seen.add(module);
      const station = withModule(base.station, spot.module, { ...module, bitOrder: turned(now) });
      yield* ordered(
        station,
        "changed",
        { direction: null, module: module.name, point: null },
        `The bits of module ${module.name}`,
        2,
        now,
      );
    }
    if (point.type === "bit" && !seen.has(`bits ${direction}`) && !module.bitOrder) {
      seen.add(`bits ${direction}`);
      const station = withPlacement(base.station, direction, { bitOrder: turned(now) });
      yield* ordered(
        station,
        "all",
        { direction, module: null, point: null },
        `The bits of all modules, ${direction},`,
        2,
        now,
      );
    }
    const word = spot.field === null ? null : (module[direction]![spot.entry] as PackedWord);
    if (word && !seen.has(word) && word.fields.every((field) => "bit" in field)) {
      seen.add(word);
      const fields = word.fields.map(
        (field) => ({ ...field, bit: (field as { readonly bit: number }).bit ^ 7 }) as Field,
      );
      const points = new Map<Key, PlacedPoint>();
      word.fields.forEach(({ name }, k) => {
        const old = base.points.get(keyOf(direction, name))!;
        const description = fields[k] as { readonly bit: number } & Field;
        points.set(keyOf(direction, name), { ...old, low: description.bit, shift: description.bit, description });
      });
      const says = `The word of ${word.fields.map(({ name }) => name).join(", ")} has the bits of each byte in the opposite order.`;
      yield {
        cause: "bitOrder",
        where,
        says,
        assumes: 3,
        effect: { points },
        station: () => withItem(base.station, spot, { ...word, fields }),
      };
    }
    if (!seen.has(`frame ${direction}`)) {
      seen.add(`frame ${direction}`);
      yield everyByte(direction);
    }
  }

  function* ordered(
    station: Station,
    anew: "changed" | "all",
    where: Hypothesis["where"],
    what: string,
    assumes: number,
    now: BitOrder,
  ): Iterable<Hypothesis> {
    const effect = rearranged(base, station, anew);
    const says = `${what} start at the ${now === "lsbFirst" ? "most" : "least"} significant bit of each byte.`;
    if (effect) yield { cause: "bitOrder", where, says, assumes, effect, station: () => station };
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

function turned(order: BitOrder): BitOrder {
  return order === "lsbFirst" ? "msbFirst" : "lsbFirst";
}
