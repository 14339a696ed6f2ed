// A reader: what a placed point says of a frame, and whether a fact agrees with it.

import { assemble, type Entry, type PlacedPoint } from "byterail";
import { fromHex } from "byterail/frames";
import { describe, expect, test } from "vitest";
import type { Fact } from "../../../../packages/commissioning/src/diagnose/facts.js";
import { readerOf } from "../../../../packages/commissioning/src/diagnose/reader.js";

/** A point of its own module after two bytes of something else. */
function pointOf(entry: Entry): PlacedPoint {
  const layout = assemble({
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [
      { name: "before", inputs: [{ spare: 2 }] },
      { name: "m", inputs: [entry] },
    ],
  });
  return layout.inputs.points[0]! as PlacedPoint;
}

const number = (type: string, more: object = {}) => ({ name: "p", type, ...more }) as Entry;
const bent = {
  scale: {
    points: [
      [0, 0],
      [1000, 10],
      [2000, 40],
    ],
  },
};
const scaled = { scale: { counts: [0, 1000], value: [0, 10], unit: "bar" } };

function fact(known: Fact["known"], within = 0): Fact {
  return { observation: 0, direction: "inputs", point: "p", known, within };
}

/** Whether a point of two spare bytes and these agrees with a fact. */
function agrees(entry: Entry, hex: string, known: Fact["known"], within = 0): boolean {
  const reader = readerOf(pointOf(entry));
  return reader.agrees(reader.bits(fromHex(`0000${hex}`), 0)!, fact(known, within));
}

describe("what is read: bits as an unsigned number, the counts they stand for, the value of the counts", () => {
  test.each<[string, Entry, string, number | bigint, number | bigint, unknown]>([
    ["a bit that is on", number("bit"), "01", 1, 1, true],
    ["a bit that is off, among others", number("bit"), "FE", 0, 0, false],
    ["unsigned", number("uint16"), "FF FE", 65534, 65534, 65534],
    ["little-endian", number("uint16", { byteOrder: "little" }), "FE FF", 65534, 65534, 65534],
    ["two's complement", number("int16"), "FF FE", 65534, -2, -2],
    ["offset binary", number("int16", { code: "offsetBinary" }), "7F FE", 32766, -2, -2],
    ["with a scale", number("uint16", scaled), "02 6C", 620, 620, 6.2],
    ["with knots", number("uint16", bent), "05 DC", 1500, 1500, 25],
    [
      "64 bits, beyond what a number holds",
      number("uint64"),
      "80 00 00 00 00 00 00 01",
      2n ** 63n + 1n,
      2n ** 63n + 1n,
      2n ** 63n + 1n,
    ],
    // IEEE 754: 3FC00000h is 1.5, sign 0, exponent 127, fraction one half.
    ["a real", number("float32"), "3F C0 00 00", 0x3fc00000, 1.5, 1.5],
    [
      "a real with a scale",
      number("float32", { scale: { counts: [0, 1], value: [0, 100] } }),
      "3F C0 00 00",
      0x3fc00000,
      1.5,
      150,
    ],
  ])("%s", (_, entry, hex, bits, counts, value) => {
    const reader = readerOf(pointOf(entry));
    const read = reader.bits(fromHex(`0000${hex}`), 0)!;
    expect([read, reader.counts(read), reader.value(read)]).toEqual([bits, counts, value]);
  });

  test("the reader knows its point", () => {
    const point = pointOf(number("uint16"));
    expect(readerOf(point).point).toBe(point);
  });
});

describe("a point is read wherever it stands, so many bytes further on, as long as all of it is in the frame", () => {
  // The word is at bytes 2 and 3 as described.
  test.each<[string, "big" | "little", string, number, number | null]>([
    ["where it is described", "big", "AA BB 12 34", 0, 0x1234],
    ["its last byte is missing", "big", "AA BB 12", 0, null],
    ["its first byte of significance is missing, little-endian", "little", "AA BB 12", 0, null],
    ["an empty frame", "big", "", 0, null],
    ["a byte later", "big", "AA BB 12 34 56", 1, 0x3456],
    ["a byte later, where the frame ends", "big", "AA BB 12 34", 1, null],
    ["at the start of the frame", "big", "AA BB 12 34", -2, 0xaabb],
    ["at the start of the frame, little-endian", "little", "AA BB 12 34", -2, 0xbbaa],
    ["before the start of the frame", "big", "AA BB 12 34", -3, null],
    ["before the start of the frame, little-endian", "little", "AA BB 12 34", -3, null],
  ])("%s", (_, byteOrder, hex, at, bits) => {
    expect(readerOf(pointOf(number("uint16", { byteOrder }))).bits(fromHex(hex), at)).toBe(bits);
  });

  test("a field is read although the frame ends within its word, as long as its own byte is there", () => {
    const word = { word: 16, fields: [{ name: "p", bits: 4, shift: 12 }] } as Entry;
    const { bits } = readerOf(pointOf(word));
    expect([bits(fromHex("AA BB 7C"), 0), bits(fromHex("AA BB"), 0)]).toEqual([7, null]);
  });
});

describe("a number agrees within what is allowed, and half a count", () => {
  test.each<[string, Entry, string, Fact["known"], number, boolean]>([
    ["the same", number("uint16"), "01 2C", 300, 0, true],
    ["half a count above", number("uint16"), "01 2C", 300.5, 0, true],
    ["half a count below", number("uint16"), "01 2C", 299.5, 0, true],
    ["more than half a count above", number("uint16"), "01 2C", 300.51, 0, false],
    ["more than half a count below", number("uint16"), "01 2C", 299.49, 0, false],
    ["a count above", number("uint16"), "01 2C", 301, 0, false],
    ["what is allowed and half a count above", number("uint16"), "01 2C", 302.5, 2, true],
    ["more than that", number("uint16"), "01 2C", 302.51, 2, false],
    ["less than what is allowed", number("uint16"), "01 2C", 301.9, 2, true],
    ["half a count, negative", number("int16"), "FF FE", -2.5, 0, true],
    ["the other sign", number("int16"), "FF FE", 2, 0, false],
    // A count is 0.01 bar. 6.205 − 6.2 comes out as 0.00499999999999989 and 6.2 − 6.195 as 0.00500000000000078:
    // the two halves of a count are the same all the same.
    ["half a count of a scale above", number("uint16", scaled), "02 6C", 6.205, 0, true],
    ["half a count of a scale below", number("uint16", scaled), "02 6C", 6.195, 0, true],
    ["more than half a count of a scale", number("uint16", scaled), "02 6C", 6.2051, 0, false],
    ["what is allowed and half a count of a scale", number("uint16", scaled), "02 6C", 6.305, 0.1, true],
    ["more than that", number("uint16", scaled), "02 6C", 6.3051, 0.1, false],
    // Above the knot a count is 0.03, below it 0.01.
    ["half a count of a curve, at a knot, of the piece above", number("uint16", bent), "03 E8", 10.012, 0, true],
    ["more than that", number("uint16", bent), "03 E8", 10.016, 0, false],
    [
      "half a count of a curve at its end, of the piece that ends there",
      number("uint16", bent),
      "07 D0",
      40.012,
      0,
      true,
    ],
    [
      "half a count of a scale that falls",
      number("uint16", { scale: { counts: [0, 1000], value: [10, 0] } }),
      "02 6C",
      3.804,
      0,
      true,
    ],
    [
      "more than half a count of a scale that falls",
      number("uint16", { scale: { counts: [0, 1000], value: [10, 0] } }),
      "02 6C",
      3.806,
      0,
      false,
    ],
  ])("%s", (_, entry, hex, known, within, right) => {
    expect(agrees(entry, hex, known, within)).toBe(right);
  });
});

describe("a real agrees within a 2^23rd of its value, one of 64 bits within a 2^51st: a few units of its last place", () => {
  // 1.5 stands between 1 and 2, where neighbours are 2^−23 and 2^−52 apart. 1.5 · 2^−23 and 1.5 · 2^−51 are allowed.
  test.each<[string, string, string, number, boolean]>([
    ["32 bits, the same", "float32", "3F C0 00 00", 1.5, true],
    ["32 bits, a neighbour above", "float32", "3F C0 00 00", 1.5 + 2 ** -23, true],
    ["32 bits, one and a half above", "float32", "3F C0 00 00", 1.5 + 1.5 * 2 ** -23, true],
    ["32 bits, two above", "float32", "3F C0 00 00", 1.5 + 2 * 2 ** -23, false],
    ["32 bits, negative", "float32", "BF C0 00 00", -1.5 - 2 ** -23, true],
    ["32 bits, negative, two below", "float32", "BF C0 00 00", -1.5 - 2 * 2 ** -23, false],
    ["64 bits, the same", "float64", "3F F8 00 00 00 00 00 00", 1.5, true],
    ["64 bits, three neighbours above", "float64", "3F F8 00 00 00 00 00 00", 1.5 + 3 * 2 ** -52, true],
    ["64 bits, four above", "float64", "3F F8 00 00 00 00 00 00", 1.5 + 4 * 2 ** -52, false],
    ["zero, which leaves no room", "float32", "00 00 00 00", 0, true],
    ["zero, and hardly more", "float32", "00 00 00 00", 1e-40, false],
    ["not a number", "float32", "7F C0 00 00", 0, false],
    // What is infinite is as far from 1 as from 10^38, and agrees with neither.
    ["plus infinity, where a large number is known", "float32", "7F 80 00 00", 1e38, false],
    ["plus infinity, where a small one is", "float32", "7F 80 00 00", 1, false],
    ["minus infinity", "float64", "FF F0 00 00 00 00 00 00", -1e300, false],
  ])("%s", (_, type, hex, known, right) => {
    expect(agrees(number(type), hex, known)).toBe(right);
  });
});

describe("64 bits agree to the last of them", () => {
  // 2^53 + 1 has no number of its own: as one it would be 2^53.
  const hex = "00 20 00 00 00 00 00 01";
  test.each<[string, Entry, string, Fact["known"], number, boolean]>([
    ["the same", number("uint64"), hex, 2n ** 53n + 1n, 0, true],
    ["one less, which is the same as a number", number("uint64"), hex, 2n ** 53n, 0, false],
    ["one less, one being allowed", number("uint64"), hex, 2n ** 53n, 1, true],
    ["known with a fraction", number("int64"), "00 00 00 00 00 00 00 05", 5.25, 0, true],
    ["known with more than half a count", number("int64"), "00 00 00 00 00 00 00 05", 5.75, 0, false],
    ["a whole number, read as a real", number("float64"), "40 14 00 00 00 00 00 00", 5n, 0, true],
  ])("%s", (_, entry, bytes, known, within, right) => {
    expect(agrees(entry, bytes, known, within)).toBe(right);
  });
});

test.each([
  ["01", true, true],
  ["01", false, false],
  ["00", false, true],
  ["00", true, false],
])("a bit, %s, known as %s", (hex, known, right) => {
  expect(agrees(number("bit"), hex, known)).toBe(right);
});

describe("what bits stand for is the same wherever a point stands, and another where it is another code, width or kind", () => {
  const point = pointOf(number("uint16"));
  const here = readerOf(point);

  test("elsewhere it is the same, worked out once", () => {
    const there = readerOf({ ...point, byte: 4, positions: [5, 4] });
    expect(there.agrees).toBe(here.agrees);
    expect(there.bits(fromHex("00 00 00 00 12 34"), 0)).toBe(0x1234);
  });

  test.each<[string, Partial<PlacedPoint>, number | bigint, unknown]>([
    ["another code", { code: "twosComplement" }, 0xffff, -1],
    ["another width", { code: "twosComplement", bits: 8 }, 0xff, -1],
    ["another kind", { code: null, kind: "boolean" }, 1, true],
    ["a real of 32 bits", { code: null, kind: "real", bits: 32 }, 0x3fc00000, 1.5],
    ["as described, again", {}, 0xffff, 65535],
  ])("%s, with the same description", (_, other, bits, value) => {
    expect(readerOf({ ...point, ...other }).value(bits)).toBe(value);
  });
});
