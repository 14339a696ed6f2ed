/** Two modules exchanged in the description. */
import type { Direction, Module, ModuleExtent, Station } from "byterail";
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Key } from "../facts.js";
import type { Cause } from "../hypothesis.js";
import { agreesAt } from "../judge.js";
import { directions } from "../lengths.js";
import { rearranged } from "../rearrange.js";

export const modulesExchanged: Cause = function* (base) {
  const { modules } = base.station;
  for (const [a, b] of pairsToTry(base)) {
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
 * stands between moves by the difference of their sizes; one of these must make wrong facts right. Where words come first
 * that cannot always be foretold, and the nearest of the other pairs are placed too, as many as time allows.
 */
function pairsToTry(base: Base): readonly (readonly [number, number])[] {
  const { modules, placement } = base.station;
  const sides = directions.map((direction) => sideOf(base, direction)).filter(({ samples }) => samples.size > 0);
  const wordsFirst = directions.some((direction) => placement?.[direction]?.order === "wordsFirst");
  const likely: [number, number][] = [];
  const others: [number, number][] = [];
  const most = wordsFirst ? mostPlaced / modules.length : 0;
  for (let apart = 1; apart < modules.length; apart++)
    for (let a = 0; a + apart < modules.length; a++) {
      const b = a + apart;
      if (sides.some((side) => couldFit(side, a, b))) likely.push([a, b]);
      else if (others.length < most) others.push([a, b]);
    }
  return sides.length > 0 ? [...likely, ...others] : [];
}

/** Modules that are placed for pairs of which nothing can be foretold, all in all. */
const mostPlaced = 50_000;

interface Side {
  /** Places of modules in the order of slots. */
  readonly places: readonly number[];
  readonly extents: readonly (ModuleExtent | null)[];
  /** Modules in the order of the image, and the rank of each in it. */
  readonly inOrder: readonly number[];
  readonly ranks: readonly number[];
  /** Wrong points by module, the most telling ones. */
  readonly samples: ReadonlyMap<number, readonly Key[]>;
  /** Whether the points of a module would be right so many bytes further on. */
  readonly fits: (module: number, by: number) => boolean;
}

function sideOf(base: Base, direction: Direction): Side {
  const { packing, alignment = 1 } = base.station.placement?.[direction] ?? {};
  const wrong = new Map<number, Key[]>();
  for (const key of base.wrong) {
    const spot = base.spots.get(key);
    if (spot?.direction !== direction) continue;
    const list = wrong.get(spot.module);
    if (!list) wrong.set(spot.module, [key]);
    else list.push(key);
  }
  const samples = new Map([...wrong].map(([module, keys]) => [module, mostTelling(base, keys)]));
  const slack = alignment - 1 + (packing === "bit" ? 1 : 0);
  const known = new Map<number, boolean>();
  const fits = (module: number, about: number) => {
    const keys = samples.get(module);
    if (!keys) return false;
    for (let by = about - slack; by <= about + slack; by++) {
      const memo = module * 65_536 + by;
      let fit = known.get(memo);
      if (fit === undefined) known.set(memo, (fit = fixesMost(base, keys, by)));
      if (fit) return true;
    }
    return false;
  };
  const places = base.station.modules.map(({ slot }, k) => slot ?? k);
  const extents = base.extents[direction];
  const inOrder = extents
    .flatMap((extent, k) => (extent ? [k] : []))
    .sort((x, y) => extents[x]!.byte - extents[y]!.byte);
  const ranks = extents.map(() => -1);
  for (const [rank, k] of inOrder.entries()) ranks[k] = rank;
  return { places, extents, inOrder, ranks, samples, fits };
}

function couldFit(side: Side, one: number, other: number): boolean {
  const { extents, fits, places, samples } = side;
  const [a, b] = places[one]! <= places[other]! ? [one, other] : [other, one];
  const [first, last] = [extents[a], extents[b]];
  if (!first && !last) return false;
  const between = modulesBetween(side, a, b);
  const start = first?.byte ?? extents[between[0] ?? b]!.byte;
  const end = last ? last.byte + last.bytes : endOf(extents[between[between.length - 1] ?? a]);
  const grows = (last?.bytes ?? 0) - (first?.bytes ?? 0);
  if (last && fits(b, start - last.byte)) return true;
  if (first && fits(a, end - first.bytes - first.byte)) return true;
  if (grows === 0) return false;
  // All of them move by as much, so that one that fits by chance is no sign.
  const wrong = between.filter((k) => samples.has(k));
  const right = wrong.filter((k) => fits(k, grows)).length;
  return right > 0 && 2 * right >= wrong.length;
}

// In the order of the image; where one of the two takes nothing of it, those of the slots between.
function modulesBetween({ extents, inOrder, ranks, places }: Side, a: number, b: number): readonly number[] {
  if (extents[a] && extents[b]) return inOrder.slice(ranks[a]! + 1, ranks[b]);
  return inOrder.filter((k) => places[k]! > places[a]! && places[k]! < places[b]!);
}

function endOf(extent: ModuleExtent | null | undefined): number {
  return extent ? extent.byte + extent.bytes : 0;
}

// Numbers tell more than bits, of which every second one fits anywhere.
function mostTelling(base: Base, keys: readonly Key[]): readonly Key[] {
  const weight = (key: Key) => Math.min(16, base.points.get(key)!.bits) * base.factsAt.get(key)!.length;
  return [...keys].sort((x, y) => weight(y) - weight(x)).slice(0, 5);
}

// One of them may have a fault of its own beside.
function fixesMost(base: Base, keys: readonly Key[], by: number): boolean {
  const right = keys.filter((key) => base.factsAt.get(key)!.every((k) => base.right[k] || agreesAt(base, k, by)));
  return right.length > 0 && 2 * right.length >= keys.length;
}
