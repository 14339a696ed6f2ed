/** Byte order and word order of one point, or of the packed word that holds it. */
import type { Entry, PlacedPoint } from "byterail";
import { itemId, withItem } from "../edit.js";
import { type Key, keyOf } from "../facts.js";
import type { Cause } from "../hypothesis.js";
import { suspects } from "../point.js";
import { type Orders, orderKeys, ordersFor, ordersInEffect, placed } from "./orders.js";

export const pointOrder: Cause = function* (base) {
  const done = new Set<string>();
  for (const { point, spot, where } of suspects(base)) {
    // A packed word is one thing, however many of its fields are wrong.
    if (done.has(itemId(spot))) continue;
    done.add(itemId(spot));
    const item = base.station.modules[spot.module]![spot.direction]![spot.entry]!;
    const together = "fields" in item ? item.fields.map(({ name }) => name) : [point.name];
    // A single byte has none, and no other either.
    const now = ordersInEffect(point)!;
    for (const orders of ordersFor(point)) {
      if (orders.byteOrder === now.byteOrder && orders.wordOrder === now.wordOrder) continue;
      const points = new Map<Key, PlacedPoint>();
      for (const name of together) {
        const key = keyOf(spot.direction, name);
        const each = base.points.get(key)!;
        points.set(key, { ...each, positions: placed(each, orders) });
      }
      yield {
        cause: orders.byteOrder === now.byteOrder ? "wordOrder" : "byteOrder",
        where,
        says: `${"fields" in item ? `The word of ${together.join(", ")}` : point.name} ${differs(now, orders)}.`,
        assumes: 2,
        effect: { points },
        station: () => withItem(base.station, spot, { ...item, ...orderKeys(orders) } as Entry),
      };
    }
  }
};

/** How orders differ, in words. */
export function differs(now: Orders, then: Orders): string {
  const bytes = `has its bytes in ${then.byteOrder}-endian order, not ${now.byteOrder}-endian`;
  const word = then.wordOrder === "highFirst" ? "high" : "low";
  if (then.byteOrder === now.byteOrder) return `has its ${word} word first`;
  // All bytes turned round is the plain case; the words staying where they are is worth telling.
  return then.wordOrder && then.wordOrder === now.wordOrder
    ? `${bytes}, and its ${word} word first as described`
    : bytes;
}
