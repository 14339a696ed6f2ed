/** Byte order and word order of one point, or of the packed word that holds it. */
import type { Entry, PlacedPoint } from "byterail";
import { withItem } from "../edit.js";
import { type Key, keyOf } from "../facts.js";
import type { Cause, Hypothesis } from "../hypothesis.js";
import { suspects } from "../point.js";
import { type Orders, orderKeys, ordersFor, ordersInEffect, placed } from "./orders.js";

export const pointOrder: Cause = function* (base) {
  const words = new Set<Entry>();
  for (const { point, spot, where } of suspects(base)) {
    const now = ordersInEffect(point);
    if (!now) continue;
    const item = base.station.modules[spot.module]![spot.direction]![spot.entry]!;
    // A packed word is one thing, however many of its fields are wrong.
    if (words.has(item)) continue;
    words.add(item);
    const together = "fields" in item ? item.fields.map(({ name }) => name) : [point.name];
    for (const orders of ordersFor(point)) {
      if (orders.byteOrder === now.byteOrder && orders.wordOrder === now.wordOrder) continue;
      const points = new Map<Key, PlacedPoint>();
      for (const name of together) {
        const key = keyOf(spot.direction, name);
        const each = base.points.get(key)!;
        points.set(key, { ...each, positions: placed(each, orders) });
      }
      const hypothesis: Hypothesis = {
        cause: orders.byteOrder === now.byteOrder ? "wordOrder" : "byteOrder",
        where,
        says: `${"fields" in item ? `The word of ${together.join(", ")}` : point.name} ${differs(now, orders)}.`,
        assumes: 2,
        effect: { points },
        station: () => withItem(base.station, spot, { ...item, ...orderKeys(orders) } as Entry),
      };
      yield hypothesis;
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
