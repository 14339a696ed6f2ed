/** Two modules exchanged in the description. */
import type { Direction, Module, ModuleExtent, Station } from "byterail";
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Key } from "../facts.js";
import type { Cause } from "../hypothesis.js";
import { agreesAt } from "../judge.js";
import { directions } from "../lengths.js";
import { rearranged } from "../rearrange.js";
import { inSlotOrder } from "../slots.js";

export const modulesExchanged: Cause = function* (base) {
  const { modules } = base.station;
  for (const { first, last, apart } of pairsToTry(base)) {
    const station = exchanged(base.station, first, last);
    const effect = rearranged(base, station);
    if (!effect) continue;
    const [p, q] = [modules[Math.min(first, last)]!.name, modules[Math.max(first, last)]!.name];
    yield {
      cause: "modulesExchanged",
      where: { direction: null, module: p, point: null },
      says: `Modules ${p} and ${q} are exchanged: each stands where the other is described.`,
      // Modules that stand side by side are exchanged more easily than others.
      assumes: apart === 1 ? 2.5 : 3,
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
function pairsToTry(base: Base): readonly Pair[] {
  const { placement } = base.station;
  const order = inSlotOrder(base.station);
  const sides = directions.map((direction) => sideOf(base, direction, order)).filter(({ samples }) => samples.size > 0);
  if (sides.length === 0) return [];
  const wordsFirst = directions.some((direction) => placement?.[direction]?.order === "wordsFirst");
  const likely: Pair[] = [];
  const others: Pair[] = [];
  const most = wordsFirst ? mostPlaced / order.length : 0;
  for (let apart = 1; apart < order.length; apart++)
    for (let at = 0; at + apart < order.length; at++) {
      const pair: Pair = { first: order[at]!, last: order[at + apart]!, apart };
      if (sides.some((side) => couldFit(side, pair))) likely.push(pair);
      else if (others.length < most) others.push(pair);
    }
  return [...likely, ...others];
}

/** Two modules by their indices, in the order of slots, and how many slots apart. */
interface Pair {
  readonly first: number;
  readonly last: number;
  readonly apart: number;
}

/** Modules that are placed for pairs of which nothing can be foretold, all in all. */
const mostPlaced = 50_000;

interface Side {
  readonly extents: readonly (ModuleExtent | null)[];
  /** Modules that have data, in the order of the image. */
  readonly inImage: readonly number[];
  /** Ranks of modules in the image, and in the order of slots. */
  readonly imageRanks: ReadonlyMap<number, number>;
  readonly slotRanks: ReadonlyMap<number, number>;
  /** Wrong points by module, the most telling ones. */
  readonly samples: ReadonlyMap<number, readonly Key[]>;
  /** Whether the points of a module would be right so many bytes further on. */
  readonly fits: (module: number, by: number) => boolean;
}

function sideOf(base: Base, direction: Direction, order: readonly number[]): Side {
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
  const extents = base.extents[direction];
  const inImage = order.filter((k) => extents[k]).sort((x, y) => extents[x]!.byte - extents[y]!.byte);
  return { extents, inImage, imageRanks: ranksIn(inImage), slotRanks: ranksIn(order), samples, fits };
}

function ranksIn(modules: readonly number[]): ReadonlyMap<number, number> {
  return new Map(modules.map((k, rank) => [k, rank]));
}

function couldFit(side: Side, { first, last }: Pair): boolean {
  const { extents, fits, samples } = side;
  const [a, b] = [extents[first], extents[last]];
  if (!a && !b) return false;
  const between = modulesBetween(side, first, last);
  const start = (a ?? extents[between[0] ?? last]!).byte;
  const end = endOf(b ?? extents[between[between.length - 1] ?? first]!);
  const grows = (b?.bytes ?? 0) - (a?.bytes ?? 0);
  if (b && fits(last, start - b.byte)) return true;
  if (a && fits(first, end - endOf(a))) return true;
  if (grows === 0) return false;
  // All of them move by as much, so that one that fits by chance is no sign.
  const wrong = between.filter((k) => samples.has(k));
  const right = wrong.filter((k) => fits(k, grows)).length;
  return right > 0 && 2 * right >= wrong.length;
}

// In the order of the image; where one of the two takes nothing of it, those of the slots between.
function modulesBetween({ extents, inImage, imageRanks, slotRanks }: Side, first: number, last: number) {
  if (extents[first] && extents[last]) return inImage.slice(imageRanks.get(first)! + 1, imageRanks.get(last));
  const [from, to] = [slotRanks.get(first)!, slotRanks.get(last)!];
  return inImage.filter((k) => slotRanks.get(k)! > from && slotRanks.get(k)! < to);
}

function endOf({ byte, bytes }: ModuleExtent): number {
  return byte + bytes;
}

// Numbers tell more than bits, of which every second one fits anywhere.
function mostTelling(base: Base, keys: readonly Key[]): readonly Key[] {
  const weight = (key: Key) => Math.min(16, base.points.get(key)!.bits) * base.factsAt.get(key)!.length;
  return [...keys].sort((x, y) => weight(y) - weight(x)).slice(0, 5);
}

// One of them may have a fault of its own beside.
function fixesMost(base: Base, keys: readonly Key[], by: number): boolean {
  const right = keys.filter((key) => base.factsAt.get(key)!.every((k) => base.right[k] || agreesAt(base, k, by)));
  return 2 * right.length >= keys.length;
}
