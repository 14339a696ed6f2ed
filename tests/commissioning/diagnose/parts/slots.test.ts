import { expect, test } from "vitest";
import { inSlotOrder } from "../../../../packages/commissioning/src/diagnose/slots.js";

// The rule of placement: modules take their places by slot; one that tells none has its place in the list, from 0.
test.each<[string, (number | null)[], number[]]>([
  ["none told: the order of the list", [null, null, null], [0, 1, 2]],
  ["told in another order", [4, 1, 2], [1, 2, 0]],
  ["as many as twelve, by number and not by digits", [11, 2, 10, 1], [3, 1, 2, 0]],
  ["one told: the others have their places in the list", [2, null, null], [1, 0, 2]],
  ["of one slot: the order of the list", [3, 1, 3, 1], [1, 3, 0, 2]],
  ["no modules", [], []],
])("%s", (_, slots, order) => {
  const modules = slots.map((slot, k) => ({ name: `m${k}`, ...(slot !== null && { slot }) }));
  expect(inSlotOrder({ format: 1, name: "rack", modules })).toEqual(order);
});
