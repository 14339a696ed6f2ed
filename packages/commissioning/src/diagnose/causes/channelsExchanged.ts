/** Neighbouring channels of a module exchanged: what one is said to be comes on the other. */
import type { Entry, Field, Module, NumberField, NumberPoint, PackedWord, PlacedPoint } from "byterail";
import type { Base } from "../base.js";
import { withEntry } from "../edit.js";
import { type Key, keyOf } from "../facts.js";
import type { Cause, Hypothesis } from "../hypothesis.js";
import { suspects } from "../point.js";

export const channelsExchanged: Cause = function* (base) {
  const done = new Set<string>();
  for (const { key, spot } of suspects(base)) {
    const list = channelsOf(base.station.modules[spot.module]!, spot.direction).map((name) =>
      keyOf(spot.direction, name),
    );
    const place = list.indexOf(key);
    for (const [a, b] of [
      [list[place - 1], key],
      [key, list[place + 1]],
    ] as const) {
      if (!a || !b || done.has(`${a} ${b}`)) continue;
      done.add(`${a} ${b}`);
      const hypothesis = exchanged(base, a, b);
      if (hypothesis) yield hypothesis;
    }
  }
};

// Names in the order of the channels; fields of a word by their place in it.
function channelsOf(module: Module, direction: "inputs" | "outputs"): string[] {
  return module[direction]!.flatMap((entry) => {
    if ("fields" in entry) return [...entry.fields].sort((a, b) => low(a) - low(b)).map(({ name }) => name);
    return "name" in entry ? [entry.name] : [];
  });
}

function low(field: Field): number {
  return "bit" in field ? field.bit : field.shift;
}

function exchanged(base: Base, a: Key, b: Key): Hypothesis | null {
  const [p, q] = [base.points.get(a)!, base.points.get(b)!];
  if (p.bits !== q.bits || p.type !== q.type || p.code !== q.code) return null;
  const points = new Map<Key, PlacedPoint>([
    [a, moved(p, q)],
    [b, moved(q, p)],
  ]);
  const [from, to] = [base.spots.get(a)!, base.spots.get(b)!];
  const [entryP, entryQ] = [placedLike(p, q), placedLike(q, p)];
  return {
    cause: "channelsExchanged",
    where: { direction: from.direction, module: p.module, point: p.name },
    says: `${p.name} and ${q.name} are exchanged: each comes on the channel of the other.`,
    assumes: 2,
    effect: { points },
    station: () => withEntry(withEntry(base.station, from, entryQ), to, entryP),
  };
}

function moved(point: PlacedPoint, place: PlacedPoint): PlacedPoint {
  const { byte, bit, word, shift, positions, low: lowest } = place;
  return { ...point, byte, bit, word, shift, positions, low: lowest, description: placedLike(point, place) };
}

// What belongs to the place stays: its order, and its bits in a word.
function placedLike(point: PlacedPoint, place: PlacedPoint): PlacedPoint["description"] {
  const mine = point.description as NumberPoint & NumberField & PackedWord & { bit?: number };
  const theirs = place.description as typeof mine;
  const { byteOrder: _, wordOrder: __, shift: ___, bit: ____, ...rest } = mine;
  return {
    ...rest,
    ...(theirs.byteOrder && { byteOrder: theirs.byteOrder }),
    ...(theirs.wordOrder && { wordOrder: theirs.wordOrder }),
    ...(theirs.shift !== undefined && { shift: theirs.shift }),
    ...(theirs.bit !== undefined && { bit: theirs.bit }),
  } as Entry & Field;
}
