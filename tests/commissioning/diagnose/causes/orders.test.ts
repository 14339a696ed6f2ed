import { assemble, type Entry, type PlacedPoint, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import {
  orderKeys,
  type Orders,
  ordersFor,
  ordersInEffect,
  placed,
} from "../../../../packages/commissioning/src/diagnose/causes/orders.js";

// The first point of a module that starts at byte 2.
function pointOf(entry: Entry, station: Partial<Station> = {}, module: object = {}): PlacedPoint {
  const { inputs } = assemble<Station>({
    format: 1,
    name: "rig",
    byteOrder: "big",
    ...station,
    modules: [
      { name: "before", inputs: [{ spare: 2 }] },
      { name: "m", ...module, inputs: [entry] },
    ],
  });
  return inputs.points[0]!;
}

const flag = { name: "ready", bit: 0 } as const;
const bigHigh: Orders = { byteOrder: "big", wordOrder: "highFirst" };
const bigLow: Orders = { byteOrder: "big", wordOrder: "lowFirst" };
const littleHigh: Orders = { byteOrder: "little", wordOrder: "highFirst" };
const littleLow: Orders = { byteOrder: "little", wordOrder: "lowFirst" };
const big: Orders = { byteOrder: "big", wordOrder: null };
const little: Orders = { byteOrder: "little", wordOrder: null };

test.each<[string, Entry, readonly Orders[]]>([
  ["a bit", { name: "ready", type: "bit" }, []],
  ["a byte", { name: "n", type: "uint8" }, []],
  ["a flag of a word of one byte", { word: 8, fields: [flag] }, []],
  ["16 bits", { name: "n", type: "int16" }, [big, little]],
  ["a flag of a word of 16 bits", { word: 16, fields: [flag] }, [big, little]],
  ["24 bits", { name: "n", type: "uint24" }, [big, little]],
  ["32 bits", { name: "n", type: "uint32" }, [bigHigh, bigLow, littleHigh, littleLow]],
  ["a real of 32 bits", { name: "n", type: "float32" }, [bigHigh, bigLow, littleHigh, littleLow]],
  ["a word of 40 bits, no whole number of 16-bit words", { word: 40, fields: [flag] }, [big, little]],
  ["a word of 48 bits", { word: 48, fields: [flag] }, [bigHigh, bigLow, littleHigh, littleLow]],
  ["64 bits", { name: "n", type: "int64" }, [bigHigh, bigLow, littleHigh, littleLow]],
])("the orders that %s could have", (_, entry, orders) => {
  expect(ordersFor(pointOf(entry))).toEqual(orders);
});

// The positions are those of the table at `significance` in core, counted from byte 2.
describe("byte positions of 32 bits at byte 2, least significant first", () => {
  test.each<[Orders, readonly number[]]>([
    [bigHigh, [5, 4, 3, 2]],
    [bigLow, [3, 2, 5, 4]],
    [littleLow, [2, 3, 4, 5]],
    [littleHigh, [4, 5, 2, 3]],
  ])("%o", (orders, positions) => {
    const point = pointOf({ name: "n", type: "uint32" });
    expect(placed(point, orders)).toEqual(positions);
    // What is in effect is told by the positions.
    expect(ordersInEffect({ ...point, positions })).toEqual(orders);
  });

  test("a word goes by its own width, not by that of its field", () => {
    expect(placed(pointOf({ word: 24, fields: [flag] }), little)).toEqual([2, 3, 4]);
    expect(placed(pointOf({ word: 24, fields: [flag] }), big)).toEqual([4, 3, 2]);
  });
});

describe("the order in effect", () => {
  test.each<[string, PlacedPoint, Orders | null]>([
    ["of a byte is none", pointOf({ name: "n", type: "int8" }), null],
    ["of a bit is none", pointOf({ name: "ready", type: "bit" }), null],
    ["is that of the station", pointOf({ name: "n", type: "uint16" }), big],
    [
      "is that of the network",
      pointOf({ name: "n", type: "uint16" }, { byteOrder: undefined, network: "ethercat" } as object),
      little,
    ],
    ["is that of the module", pointOf({ name: "n", type: "uint16" }, {}, { byteOrder: "little" }), little],
    ["is its own", pointOf({ name: "n", type: "uint16", byteOrder: "little" }), little],
    ["of three bytes is told by the outer two", pointOf({ name: "n", type: "uint24", byteOrder: "little" }), little],
    ["of words follows the byte order", pointOf({ name: "n", type: "uint32", byteOrder: "little" }), littleLow],
    ["of words is told by the station", pointOf({ name: "n", type: "uint32" }, { wordOrder: "lowFirst" }), bigLow],
    ["of a field is that of its word", pointOf({ word: 32, wordOrder: "lowFirst", fields: [flag] }), bigLow],
  ])("%s", (_, point, orders) => {
    expect(ordersInEffect(point)).toEqual(orders);
  });
});

test("a word order is written down only where it means something", () => {
  expect(orderKeys(little)).toEqual({ byteOrder: "little" });
  expect(Object.keys(orderKeys(little))).toEqual(["byteOrder"]);
  expect(orderKeys(bigLow)).toEqual({ byteOrder: "big", wordOrder: "lowFirst" });
});
