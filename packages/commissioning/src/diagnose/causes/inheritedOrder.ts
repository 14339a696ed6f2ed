/** Byte order and word order of a module or of the whole station: what its points inherit. */
import { assemble, type Module, type PlacedPoint, type Station } from "byterail";
import type { Base } from "../base.js";
import { withModule } from "../edit.js";
import { type Cause, everywhere, type Hypothesis, type Where } from "../hypothesis.js";
import { rearranged } from "../rearrange.js";
import { type Orders, orderKeys, ordersFor, ordersInEffect } from "./orders.js";
import { differs } from "./pointOrder.js";

export const moduleOrder: Cause = function* (base) {
  const wrong = wrongPoints(base);
  for (const name of suspectModules(base)) {
    const index = base.indices.get(name)!;
    const module = base.station.modules[index]!;
    const where: Where = { direction: null, module: name, point: null };
    const points = wrong.filter((point) => point.module === name);
    for (const other of othersThan(base.station, module, points)) {
      const station = withModule(base.station, index, { ...module, ...other.keys });
      yield* inherited(base, station, "changed", where, `Module ${name}`, other, 1.5);
    }
  }
};

export const stationOrder: Cause = function* (base) {
  for (const other of othersThan(base.station, {}, wrongPoints(base)))
    yield* inherited(base, { ...base.station, ...other.keys }, "all", everywhere, "The station", other, 1);
};

/** Modules that have a point with a wrong fact. */
export function suspectModules(base: Base): ReadonlySet<string> {
  return new Set(wrongPoints(base).map(({ module }) => module));
}

// A wrong fact may be of a point that an earlier change took out of the station.
function wrongPoints({ wrong, points }: Base): readonly PlacedPoint[] {
  return [...wrong].flatMap((key) => points.get(key) ?? []);
}

/** What is inherited now, what else could be, and the keys to write down for that. */
interface Other {
  readonly now: Orders;
  readonly orders: Orders;
  readonly keys: OwnOrders;
}

// The other orders that a module, or the station, could hand down to some of its points.
function othersThan(station: Station, home: OwnOrders, points: readonly PlacedPoint[]): readonly Other[] {
  const possible = points.flatMap(ordersFor);
  if (possible.length === 0) return [];
  const now = inheritedFrom(station, home);
  const byteOrder = now.byteOrder === "big" ? "little" : "big";
  if (possible.every(({ wordOrder }) => wordOrder === null))
    return [{ now, orders: { byteOrder, wordOrder: null }, keys: { byteOrder } }];
  const wordOrder = now.wordOrder === "highFirst" ? "lowFirst" : "highFirst";
  // Where no word order is told it follows the byte order.
  const told = home.wordOrder ?? station.wordOrder;
  return [
    { now, orders: { byteOrder, wordOrder }, keys: told ? { byteOrder, wordOrder } : { byteOrder } },
    { now, orders: { ...now, wordOrder }, keys: { wordOrder } },
    { now, orders: { ...now, byteOrder }, keys: told ? { byteOrder } : orderKeys({ ...now, byteOrder }) },
  ];
}

type OwnOrders = Pick<Module, "byteOrder" | "wordOrder">;

// Core is asked what a value of two words inherits.
function inheritedFrom(station: Station, { byteOrder, wordOrder }: OwnOrders): Orders {
  const probe = { name: "probe", byteOrder, wordOrder, inputs: [{ name: "probe", type: "uint32" }] } as Module;
  const { inputs } = assemble<Station>({ ...station, placement: {}, limits: {}, modules: [probe] });
  return ordersInEffect(inputs.points[0]!)!;
}

function* inherited(
  base: Base,
  station: Station,
  anew: "changed" | "all",
  where: Where,
  what: string,
  { now, orders }: Other,
  assumes: number,
): Iterable<Hypothesis> {
  const effect = rearranged(base, station, anew);
  const cause = orders.byteOrder === now.byteOrder ? "wordOrder" : "byteOrder";
  if (effect) yield { cause, where, says: `${what} ${differs(now, orders)}.`, assumes, effect, station: () => station };
}
