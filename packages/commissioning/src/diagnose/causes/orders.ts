/** The byte and word order that a placed point has in effect, and the four that it could have. */
import { type ByteOrder, type PlacedPoint, significance, type WordOrder } from "byterail";

/** Both orders; `wordOrder` is null where it means nothing. */
export interface Orders {
  readonly byteOrder: ByteOrder;
  readonly wordOrder: WordOrder | null;
}

/** Bits of the integer in whole bytes that an order applies to: a number, or the word that holds a field. */
export function orderedBits({ bits, word, kind, type }: PlacedPoint): number {
  return word ?? (kind === "boolean" || type === "bit" ? 8 : bits);
}

/** The orders that a placed point could have. */
export function ordersFor(point: PlacedPoint): readonly Orders[] {
  const bits = orderedBits(point);
  if (bits === 8) return [];
  const byteOrders = ["big", "little"] as const;
  if (bits < 32 || bits % 16 !== 0) return byteOrders.map((byteOrder) => ({ byteOrder, wordOrder: null }));
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
export function placed(point: PlacedPoint, { byteOrder, wordOrder }: Orders): readonly number[] {
  return significance(orderedBits(point), byteOrder, wordOrder).map((position) => point.byte + position);
}

/** The keys to write down for orders. */
export function orderKeys({ byteOrder, wordOrder }: Orders): {
  readonly byteOrder: ByteOrder;
  readonly wordOrder?: WordOrder;
} {
  return { byteOrder, ...(wordOrder && { wordOrder }) };
}
