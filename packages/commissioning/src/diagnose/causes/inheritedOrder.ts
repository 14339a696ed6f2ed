/** Byte order and word order of a module or of the whole station: what its points inherit. */
import type { Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withModule } from "../edit.js";
import { type CauseName, type Cause, everywhere, type Hypothesis, type Where } from "../hypothesis.js";
import { rearranged } from "../rearrange.js";
import { type Orders, orderKeys, ordersInEffect } from "./orders.js";
import { differs } from "./pointOrder.js";

export const moduleOrder: Cause = function* (base) {
  for (const name of suspectModules(base)) {
    const index = base.station.modules.findIndex((module) => module.name === name);
    const module = base.station.modules[index]!;
    const others = othersThan(commonOrders(base, name), module);
    for (const { orders, now } of others) {
      const changed: Module = { ...module, ...orderKeys(orders) };
      const where: Where = { direction: null, module: name, point: null };
      yield* inherited(
        base,
        withModule(base.station, index, changed),
        "changed",
        where,
        `Module ${name}`,
        now,
        orders,
        1.5,
      );
    }
  }
};

export const stationOrder: Cause = function* (base) {
  if (base.wrong.size === 0) return;
  for (const { orders, now } of othersThan(commonOrders(base, null), base.station))
    yield* inherited(base, { ...base.station, ...orderKeys(orders) }, "all", everywhere, "The station", now, orders, 1);
};

/** Modules that have a point with a wrong fact. */
export function suspectModules(base: Base): ReadonlySet<string> {
  return new Set([...base.wrong].flatMap((key) => base.points.get(key)?.module ?? []));
}

// What most of the points have now: an order of their own, or what they inherit.
function commonOrders(base: Base, module: string | null): Orders | null {
  let narrow: Orders | null = null;
  for (const key of base.wrong) {
    const point = base.points.get(key);
    if (!point || (module !== null && point.module !== module)) continue;
    const orders = ordersInEffect(point);
    if (orders?.wordOrder) return orders;
    narrow ??= orders;
  }
  return narrow;
}

function othersThan(now: Orders | null, { wordOrder }: Module | Station): { orders: Orders; now: Orders }[] {
  if (!now) return [];
  const byteOrder: Orders["byteOrder"] = now.byteOrder === "big" ? "little" : "big";
  if (!now.wordOrder) return [{ now, orders: { byteOrder, wordOrder: null } }];
  const turned = now.wordOrder === "highFirst" ? "lowFirst" : "highFirst";
  return [
    // The whole value turned round: without a word order of its own it follows the byte order.
    { now, orders: { byteOrder, wordOrder: wordOrder ? turned : null } },
    { now, orders: { byteOrder: now.byteOrder, wordOrder: turned } },
    { now, orders: { byteOrder, wordOrder: now.wordOrder } },
    ...(wordOrder ? [{ now, orders: { byteOrder, wordOrder: null } }] : []),
  ];
}

function* inherited(
  base: Base,
  station: Station,
  anew: "changed" | "all",
  where: Where,
  what: string,
  now: Orders,
  orders: Orders,
  assumes: number,
): Iterable<Hypothesis> {
  const effect = rearranged(base, station, anew);
  const cause: CauseName = orders.byteOrder === now.byteOrder ? "wordOrder" : "byteOrder";
  if (effect) yield { cause, where, says: `${what} ${differs(now, orders)}.`, assumes, effect, station: () => station };
}
