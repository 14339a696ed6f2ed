/** The byte and word order that a placed point has in effect, and the four that it could have. */
import { type ByteOrder, type PlacedPoint, significance, type WordOrder } from "byterail";

/** Both orders; `wordOrder` is null where it means nothing. */
export interface Orders {
  readonly byteOrder: ByteOrder;
  readonly wordOrder: WordOrder | null;
}

/** The orders that a placed point could have: of the number, or of the word that holds the field; none for a single byte. */
export function ordersFor({ positions: { length: bytes } }: PlacedPoint): readonly Orders[] {
  if (bytes === 1) return [];
  const byteOrders = ["big", "little"] as const;
  if (bytes < 4 || bytes % 2 !== 0) return byteOrders.map((byteOrder) => ({ byteOrder, wordOrder: null }));
  return byteOrders.flatMap((byteOrder) =>
    (["highFirst", "lowFirst"] as const).map((wordOrder) => ({ byteOrder, wordOrder })),
  );
}

/** The order in effect, or null for what is one byte. */
export function ordersInEffect(point: PlacedPoint): Orders | null {
  return (
    ordersFor(point).find((orders) => placed(point, orders).every((position, k) => position === point.positions[k])) ??
    null
  );
}

/** Byte positions of a point under other orders. */
export function placed({ byte, positions }: PlacedPoint, { byteOrder, wordOrder }: Orders): readonly number[] {
  return significance(8 * positions.length, byteOrder, wordOrder).map((position) => byte + position);
}

/** The keys to write down for orders. */
export function orderKeys({ byteOrder, wordOrder }: Orders): {
  readonly byteOrder: ByteOrder;
  readonly wordOrder?: WordOrder;
} {
  return { byteOrder, ...(wordOrder && { wordOrder }) };
}
