/** Two modules exchanged in the description. */
import type { Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Key } from "../facts.js";
import type { Cause } from "../hypothesis.js";
import { directions } from "../lengths.js";
import { rearranged } from "../rearrange.js";

export const modulesExchanged: Cause = function* (base) {
  const { modules } = base.station;
  const may = promising(base);
  for (let a = 0; a < modules.length; a++)
    for (let b = a + 1; b < modules.length; b++) {
      if (!may(a, b)) continue;
      const station = exchanged(base.station, a, b);
      const effect = rearranged(base, station);
      const [p, q] = [modules[a]!.name, modules[b]!.name];
      // Modules that stand side by side are exchanged more easily than others.
      if (effect)
        yield {
          cause: "modulesExchanged",
          where: { direction: null, module: p, point: null },
          says: `Modules ${p} and ${q} are exchanged: each stands where the other is described.`,
          assumes: b === a + 1 ? 2.5 : 3,
          effect,
          station: () => station,
        };
    }
};

// What belongs to the place stays there: the slot and the pins.
function exchanged(station: Station, a: number, b: number): Station {
  const slotted = withSlots(station);
  const [p, q] = [slotted.modules[a]!, slotted.modules[b]!];
  const modules = slotted.modules.map((module, k) => (k === a ? at(q, p) : k === b ? at(p, q) : module));
  return { ...slotted, modules };
}

function at(module: Module, place: Module): Module {
  const keys = ["slot", "inputOffset", "outputOffset"] as const;
  if (keys.every((key) => module[key] === place[key])) return module;
  const { slot: _, inputOffset: __, outputOffset: ___, ...rest } = module;
  return {
    ...rest,
    ...Object.fromEntries(keys.flatMap((key) => (place[key] === undefined ? [] : [[key, place[key]]]))),
  };
}

/**
 * Which exchanges are worth placing. A module that is exchanged starts about where the other one starts or ends, and what
 * stands between moves by the difference of their sizes; one of these must make a wrong fact right.
 */
function promising(base: Base): (a: number, b: number) => boolean {
  const { modules } = base.station;
  const sides = directions.map((direction) => {
    const { order, alignment = 1 } = base.station.placement?.[direction] ?? {};
    const extents = new Map(base.layout[direction].modules.map((extent, rank) => [extent.name, { ...extent, rank }]));
    const samples = new Map<string, Key[]>();
    for (const key of base.wrong) {
      const point = base.points.get(key);
      if (!point || !key.startsWith(direction)) continue;
      const list = samples.get(point.module);
      if (!list) samples.set(point.module, [key]);
      else list.push(key);
    }
    for (const [name, keys] of samples) samples.set(name, mostTelling(base, keys));
    return { loose: order === "wordsFirst", slack: alignment - 1, extents, samples, fits: new Map<string, boolean>() };
  });
  return (a, b) => {
    const [p, q] = [modules[a]!.name, modules[b]!.name];
    return sides.some((side) => {
      const { extents, samples, slack, loose, fits } = side;
      const [x, y] = [extents.get(p), extents.get(q)];
      if (!x && !y) return false;
      if (!x || !y || loose) return samples.size > 0;
      const [first, last] = x.rank < y.rank ? [x, y] : [y, x];
      const grows = last.bytes - first.bytes;
      const fitting = (name: string, by: number) => {
        for (let d = by - slack - 1; d <= by + slack + 1; d++) {
          const memo = `${name} ${d}`;
          let fit = fits.get(memo);
          if (fit === undefined)
            fits.set(memo, (fit = (samples.get(name) ?? []).some((key) => fixesSome(base, key, d))));
          if (fit) return true;
        }
        return false;
      };
      if (fitting(last.name, first.byte - last.byte) || fitting(first.name, last.byte - first.byte + grows))
        return true;
      if (grows === 0) return false;
      for (const { name, rank } of extents.values())
        if (rank > first.rank && rank < last.rank && samples.has(name) && fitting(name, grows)) return true;
      return false;
    });
  };
}

// Numbers tell more than bits, of which every second one fits anywhere.
function mostTelling(base: Base, keys: readonly Key[]): Key[] {
  const weight = (key: Key) => Math.min(16, base.points.get(key)!.bits) * base.factsAt.get(key)!.length;
  return [...keys].sort((a, b) => weight(b) - weight(a)).slice(0, 3);
}

function fixesSome(base: Base, key: Key, by: number): boolean {
  const reader = base.readers.get(key)!;
  return base.factsAt.get(key)!.some((k) => {
    if (base.right[k]) return false;
    const fact = base.facts[k]!;
    const bits = reader.bits(base.frames[fact.observation]![fact.direction]!, by);
    return bits !== null && reader.agrees(bits, fact);
  });
}
