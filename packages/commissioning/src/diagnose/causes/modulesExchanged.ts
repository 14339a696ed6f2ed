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
 * stands between moves by the difference of their sizes; one of these must make wrong facts right.
 */
function promising(base: Base): (a: number, b: number) => boolean {
  const sides = directions.map((direction) => sideOf(base, direction));
  return (a, b) => sides.some((side) => side.samples.size > 0 && (side.loose || couldFit(side, a, b)));
}

interface Side {
  /** Where modules start does not follow the list, so that nothing can be foretold. */
  readonly loose: boolean;
  readonly extents: readonly (ModuleExtent | null)[];
  /** Wrong points by module, the most telling ones. */
  readonly samples: ReadonlyMap<number, readonly Key[]>;
  /** Whether the points of a module would be right so many bytes further on. */
  readonly fits: (module: number, by: number) => boolean;
}

function sideOf(base: Base, direction: Direction): Side {
  const { order, packing, alignment = 1 } = base.station.placement?.[direction] ?? {};
  const moveFreely = base.station.modules.some((module) => module.slot !== undefined);
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
  return { loose: order === "wordsFirst" || moveFreely, extents: base.extents[direction], samples, fits };
}

function couldFit({ extents, fits, samples }: Side, a: number, b: number): boolean {
  const [first, last] = [extents[a], extents[b]];
  const between: number[] = [];
  for (let k = a + 1; k < b; k++) if (extents[k]) between.push(k);
  const start = first?.byte ?? extents[between[0] ?? b]?.byte ?? 0;
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
