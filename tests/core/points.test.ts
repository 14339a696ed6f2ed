// What a placed point tells of itself: its kind and code, its unit, the bytes that it touches, what encode accepts.

import {
  acceptedValues,
  assemble,
  type ByteOrder,
  codeOfPoint,
  type Entry,
  isAtOddByte,
  numberOf,
  type NumberPoint,
  type PlacedPoint,
  type Scale,
  type Span,
  touchedBytes,
  unitOf,
} from "byterail";
import { describe, expect, test } from "vitest";

/** The points of entries that stand in the inputs, in image order. */
function placed(entries: readonly Entry[], byteOrder: ByteOrder = "big"): readonly PlacedPoint[] {
  return assemble({ format: 1, name: "rig", byteOrder, modules: [{ name: "m", inputs: entries }] }).inputs.points;
}

const field = (bits: number, shift: number, more: object = {}): Entry => ({
  word: 16,
  fields: [{ name: "n", bits, shift, ...more }],
});

describe("kind and code", () => {
  test.each<[title: string, entry: Entry, kind: string, code: string | null, min?: number, max?: number]>([
    ["a bit", { name: "n", type: "bit" }, "boolean", null],
    ["a flag of a word", { word: 8, fields: [{ name: "n", bit: 7 }] }, "boolean", null],
    ["an int8", { name: "n", type: "int8" }, "integer", "twosComplement", -128, 127],
    ["a uint8", { name: "n", type: "uint8" }, "integer", "unsigned", 0, 255],
    ["BCD", { name: "n", type: "uint8", code: "bcd" }, "integer", "bcd", 0, 99],
    ["a field", field(12, 4), "integer", "unsigned", 0, 4095],
    ["a signed field", field(12, 4, { signed: true }), "integer", "twosComplement", -2048, 2047],
    ["a field in offset binary", field(4, 0, { code: "offsetBinary" }), "integer", "offsetBinary", -8, 7],
    ["a real", { name: "n", type: "float32" }, "real", null],
  ])("of %s", (_, entry, kind, code, min, max) => {
    const [point] = placed([entry]);
    expect([point!.kind, point!.code]).toEqual([kind, code]);
    expect(numberOf(point!)).toBe(kind === "boolean" ? null : point!.description);
    const counting = codeOfPoint(point!);
    if (code) expect(counting).toMatchObject({ name: code, min, max });
    else expect(counting).toBeNull();
  });
});

describe("the bytes that hold a bit of a point, in image order", () => {
  test.each<[title: string, entry: Entry, bytes: number[]]>([
    ["four bytes", { name: "n", type: "int32" }, [1, 2, 3, 4]],
    ["12 bits across two", field(12, 4), [1, 2]],
    ["8 bits from bit 4 up", field(8, 4), [1, 2]],
    ["one bit", { name: "n", type: "bit" }, [1]],
  ])("%s", (_, entry, bytes) => {
    for (const byteOrder of ["big", "little"] as const)
      expect(touchedBytes(placed([{ spare: 1 }, entry], byteOrder)[0]!)).toEqual(bytes);
  });

  test.each<[title: string, shift: number, big: number, little: number]>([
    ["lower", 0, 1, 0],
    ["upper", 8, 0, 1],
  ])("the %s half of a word is one byte", (_, shift, big, little) => {
    expect(touchedBytes(placed([field(8, shift)], "big")[0]!)).toEqual([big]);
    expect(touchedBytes(placed([field(8, shift)], "little")[0]!)).toEqual([little]);
  });

  test("a word at an odd byte is a word: a single byte there is none", () => {
    const at1 = (entry: Entry) => isAtOddByte(placed([{ spare: 1 }, entry])[0]!);
    expect([at1({ name: "n", type: "uint16" }), at1(field(2, 0)), at1({ name: "n", type: "uint8" })]).toEqual([
      ...[true, true, false],
    ]);
    expect(isAtOddByte(placed([{ name: "n", type: "uint16" }])[0]!)).toBe(false);
  });
});

describe("the unit of a point", () => {
  const counts: Span = [0, 1000];
  const signal = { signal: [4, 20], signalUnit: "mA" } as const;
  const curve = {
    points: [
      [0, 0],
      [1000, 10],
    ],
  } as const;
  test.each<[title: string, more: Partial<NumberPoint>, unit: string | null]>([
    ["no scale", {}, null],
    ["no scale, but a unit", { unit: "L/h" }, "L/h"],
    ["a scale with a unit", { scale: { counts, value: [0, 10], unit: "bar" } }, "bar"],
    ["a scale without one", { scale: { counts, value: [0, 10] } }, null],
    ["a signal alone", { scale: { counts, ...signal } }, "mA"],
    ["a signal that stands for a value without unit", { scale: { counts, ...signal, value: [0, 10] } }, null],
    ["a signal beside a curve without unit", { scale: { counts, ...signal, ...curve } }, null],
    ["a curve with a unit", { scale: { ...curve, unit: "m³" } }, "m³"],
  ])("%s", (_, more, unit) => {
    expect(unitOf(placed([{ name: "n", type: "int16", ...more }])[0]!)).toBe(unit);
  });
});

// A scaled output without limits is limited to the ends of its value, an input is not.
describe("what encode accepts", () => {
  const counts: Span = [0, 1000];
  test.each<[title: string, more: { limits?: Span; scale?: Scale }, input: Span | null, output: Span | null]>([
    ["no limits", {}, null, null],
    ["limits", { limits: [10, 20] }, [10, 20], [10, 20]],
    ["limits within a scale", { limits: [0, 80], scale: { counts, value: [0, 100] } }, [0, 80], [0, 80]],
    ["a value", { scale: { counts, value: [0, 100] } }, null, [0, 100]],
    ["a value that falls", { scale: { counts, value: [100, -100] } }, null, [-100, 100]],
    ["a signal alone", { scale: { counts, signal: [4, 20], signalUnit: "mA" } }, null, [4, 20]],
    [
      "a curve",
      {
        scale: {
          points: [
            [0, 40],
            [500, 10],
            [1000, 0],
          ],
        },
      },
      null,
      [0, 40],
    ],
  ])("%s", (_, more, input, output) => {
    const [point] = placed([{ name: "n", type: "int16", ...more }]);
    expect([acceptedValues(point!, "inputs"), acceptedValues(point!, "outputs")]).toEqual([input, output]);
  });
});
