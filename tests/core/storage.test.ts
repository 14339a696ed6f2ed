// Which array a column is: 64-bit floats as far as they hold every value, or, asked for as `narrowest`, the smallest array
// that holds every value of the point exactly.

import { assemble, type Entry, type FlagField, type NumberField } from "byterail";
import { columns, fromHex } from "byterail/frames";
import { describe, expect, test } from "vitest";

const x = "x";
const scale = { counts: [0, 10], value: [0, 1] } as const;
const field = (word: number, what: Omit<FlagField, "name"> | Omit<NumberField, "name">): Entry => ({
  word,
  fields: [{ name: x, ...what }],
});
type Storage = "narrowest" | "float64";

function columnOf(entry: Entry, frame: string, storage: Storage) {
  const { inputs } = assemble({
    ...{ format: 1, name: "rig", byteOrder: "big" },
    modules: [{ name: "meter", inputs: [entry] }],
  });
  return columns(inputs, fromHex(frame), { storage }).points.x;
}

describe("integers: the smallest array only where asked for", () => {
  test.each<readonly [what: string, entry: Entry, frame: string, narrowest: object, value: number]>([
    ["uint8", { name: x, type: "uint8" }, "FF", Uint8Array, 255],
    ["int8", { name: x, type: "int8" }, "80", Int8Array, -128],
    ["uint16", { name: x, type: "uint16" }, "FF FF", Uint16Array, 65535],
    ["int16", { name: x, type: "int16" }, "80 00", Int16Array, -32768],
    ["uint24", { name: x, type: "uint24" }, "FF FF FF", Uint32Array, 2 ** 24 - 1],
    ["int24", { name: x, type: "int24" }, "80 00 00", Int32Array, -(2 ** 23)],
    ["uint32", { name: x, type: "uint32" }, "FF FF FF FF", Uint32Array, 2 ** 32 - 1],
    ["int32", { name: x, type: "int32" }, "80 00 00 00", Int32Array, -(2 ** 31)],
    ["offset binary, least counts", { name: x, type: "int16", code: "offsetBinary" }, "00 00", Int16Array, -32768],
    ["4 bits", field(16, { bits: 4, shift: 4 }), "00 F0", Uint8Array, 15],
    ["9 bits", field(16, { bits: 9, shift: 7 }), "FF 80", Uint16Array, 511],
    ["12 bits, signed", field(16, { bits: 12, shift: 4, signed: true }), "80 0F", Int16Array, -2048],
    ["20 bits of 32", field(32, { bits: 20, shift: 8 }), "FA BC DE FF", Uint32Array, 0xabcde],
    ["32 bits of 64", field(64, { bits: 32, shift: 8 }), "00 00 00 81 02 03 04 FF", Uint32Array, 0x81020304],
    ["33 bits", field(64, { bits: 33, shift: 0 }), "FF FF FF FF 00 00 00 01", Float64Array, 2 ** 32 + 1],
    ["53 bits", field(64, { bits: 53, shift: 0 }), "FF FF FF FF FF FF FF FF", Float64Array, 2 ** 53 - 1],
  ])("%s", (_, entry, frame, narrowest, value) => {
    const small = columnOf(entry, frame, "narrowest");
    expect(small).toBeInstanceOf(narrowest);
    expect([...(small as Float64Array)]).toEqual([value]);
    expect(columnOf(entry, frame, "float64")).toEqual(new Float64Array([value]));
  });
});

describe("the same array either way", () => {
  test.each<readonly [what: string, entry: Entry, frame: string, column: object]>([
    ["a bit", { name: x, type: "bit" }, "01", new Uint8Array([1])],
    ["a flag of a word", field(16, { bit: 9 }), "FD FF", new Uint8Array([0])],
    ["54 bits", field(64, { bits: 54, shift: 0 }), "FF FF FF FF FF FF FF FF", new BigUint64Array([2n ** 54n - 1n])],
    [
      ...(["54 bits, signed", field(64, { bits: 54, shift: 0, signed: true })] as const),
      ...(["00 20 00 00 00 00 00 00", new BigInt64Array([-(2n ** 53n)])] as const),
    ],
    ["int64", { name: x, type: "int64" }, "80 00 00 00 00 00 00 00", new BigInt64Array([-(2n ** 63n)])],
    ["float64", { name: x, type: "float64" }, "3F F0 00 00 00 00 00 01", new Float64Array([1 + 2 ** -52])],
    ["on a scale", { name: x, type: "int16", scale }, "00 0F", new Float64Array([1.5])],
    ["a real on a scale", { name: x, type: "float32", scale }, "3F 80 00 00", new Float64Array([0.1])],
    ["a zero with a sign", { name: x, type: "int16", code: "signMagnitude" }, "80 00", new Float64Array([-0])],
    ["a decimal digit above 9", { name: x, type: "uint8", code: "bcd" }, "1A", new Float64Array([Number.NaN])],
    ["BCD of 32 bits", { name: x, type: "uint32", code: "bcd" }, "12 34 56 78", new Float64Array([12345678])],
  ])("%s", (_, entry, frame, column) => {
    expect(columnOf(entry, frame, "narrowest")).toEqual(column);
    expect(columnOf(entry, frame, "float64")).toEqual(column);
  });
});

test("a binary32 keeps its 32 bits only where the smallest is asked for", () => {
  const entry: Entry = { name: x, type: "float32" };
  expect(columnOf(entry, "3D CC CC CD", "narrowest")).toEqual(new Float32Array([0.1]));
  expect(columnOf(entry, "3D CC CC CD", "float64")).toEqual(new Float64Array([Math.fround(0.1)]));
});

test("a scale that is there but undefined is none", () => {
  const entry = { name: x, type: "int16", scale: undefined } as never;
  expect(columnOf(entry, "FF FE", "narrowest")).toEqual(new Int16Array([-2]));
});
