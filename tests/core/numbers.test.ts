// How a number becomes bits and bits become bytes: published tables first, then other people's code on random data.

import { BitInputStream } from "@thi.ng/bitstream";
import { Parser } from "binary-parser";
import {
  assemble,
  type ByteOrder,
  codeOf,
  countsProblem,
  decode,
  decodeRaw,
  encode,
  encodeRaw,
  type NumberType,
  numberCodec,
  type WordOrder,
} from "byterail";
import { fromHex, toHex } from "byterail/frames";
import fc from "fast-check";
import ieee754 from "ieee754";
import struct from "python-struct";
import { describe, expect, test } from "vitest";
import { codesOf, problemsOf } from "../support/problems.js";

/** Encodes and decodes, then decodes once more at offset 3, behind foreign bytes. */
function expectBothWays(
  type: NumberType,
  order: ByteOrder,
  value: number | bigint,
  hex: string,
  more: { wordOrder?: WordOrder; code?: "offsetBinary" | "signMagnitude" | "bcd" } = {},
) {
  const codec = numberCodec(type, order, more) as ReturnType<typeof numberCodec<"int16">>;
  const bytes = new Uint8Array(codec.byteLength);
  codec.write(bytes, value as number);
  expect(toHex(bytes)).toBe(hex);
  expect(codec.read(bytes)).toBe(value);
  const behind = new Uint8Array([0xa5, 0xa5, 0xa5, ...bytes, 0x5a]);
  expect(codec.read(behind, 3)).toBe(value);
  codec.write(behind, value as number, 3);
  expect([...behind.subarray(0, 3), behind.at(-1)]).toEqual([0xa5, 0xa5, 0xa5, 0x5a]);
}

describe("IEEE 754 reals, most significant byte first (values from IEEE 754-2008, 3.4)", () => {
  test.each([
    ["1", 1, "3F 80 00 00", "3F F0 00 00 00 00 00 00"],
    ["−2", -2, "C0 00 00 00", "C0 00 00 00 00 00 00 00"],
    ["12.375", 12.375, "41 46 00 00", "40 28 C0 00 00 00 00 00"],
    ["−118.625", -118.625, "C2 ED 40 00", "C0 5D A8 00 00 00 00 00"],
    ["−0", -0, "80 00 00 00", "80 00 00 00 00 00 00 00"],
  ])("%s", (_, value, single, double) => {
    expectBothWays("float32", "big", value, single);
    expectBothWays("float64", "big", value, double);
  });

  test.each([
    ["0.1", 0.1, "3D CC CC CD", "3F B9 99 99 99 99 99 9A"],
    ["π", Math.PI, "40 49 0F DB", "40 09 21 FB 54 44 2D 18"],
  ])("%s is rounded to the nearest binary32", (_, value, single, double) => {
    expectBothWays("float32", "big", Math.fround(value), single);
    expectBothWays("float64", "big", value, double);
    const bytes = new Uint8Array(4);
    numberCodec("float32", "big").write(bytes, value);
    expect(toHex(bytes)).toBe(single);
  });

  test.each([
    ["largest", (2 - 2 ** -23) * 2 ** 127, "7F 7F FF FF"],
    ["smallest normal", 2 ** -126, "00 80 00 00"],
    ["smallest subnormal", 2 ** -149, "00 00 00 01"],
  ])("the %s binary32", (_, value, hex) => expectBothWays("float32", "big", value, hex));

  test("what is not finite, or rounds to an infinity in binary32, is not written", () => {
    const bytes = new Uint8Array(8).fill(0x55);
    for (const value of [Number.NaN, Infinity, -Infinity])
      for (const type of ["float32", "float64"] as const)
        expect(codesOf(() => numberCodec(type, "big").write(bytes, value))).toEqual(["value.range"]);
    expect(codesOf(() => numberCodec("float32", "big").write(bytes, 3.5e38))).toEqual(["value.range"]);
    expect(bytes).toEqual(new Uint8Array(8).fill(0x55));
  });

  test("NaN and the infinities decode as what they are", () => {
    const read = (hex: string) => numberCodec("float32", "big").read(fromHex(hex));
    expect([read("7F C0 00 00"), read("7F 80 00 00"), read("FF 80 00 00")]).toEqual([Number.NaN, Infinity, -Infinity]);
  });
});

describe("number codes of 4 bits (the usual converter tables, computed)", () => {
  test.each([
    // eighths of full scale, offset binary, two's complement, sign-magnitude
    [7, "1111", "0111", "0111"],
    [1, "1001", "0001", "0001"],
    [0, "1000", "0000", "0000"],
    [-1, "0111", "1111", "1001"],
    [-7, "0001", "1001", "1111"],
    [-8, "0000", "1000", null],
  ])("%i/8", (eighths, offsetBinary, twosComplement, signMagnitude) => {
    for (const [name, bits] of Object.entries({ offsetBinary, twosComplement, signMagnitude })) {
      const code = codeOf(name as "offsetBinary", 4);
      if (bits === null) expect(code.min).toBe(-7);
      else {
        expect(code.toPattern(eighths)).toBe(Number.parseInt(bits, 2));
        expect(code.toCounts(Number.parseInt(bits, 2))).toBe(eighths);
      }
    }
  });

  test("sign-magnitude 1000 is −0", () => {
    expect(codeOf("signMagnitude", 4).toCounts(0b1000)).toBe(-0);
    expect(codeOf("signMagnitude", 4).toPattern(-0)).toBe(0b1000);
  });
});

describe("what a code can say, by its width", () => {
  test.each<[code: Parameters<typeof codeOf>[0], bits: number, min: number | bigint, max: number | bigint]>([
    ["unsigned", 1, 0, 1],
    ["unsigned", 53, 0, 2 ** 53 - 1], // the widest number, as every number up to there is exact
    ["unsigned", 54, 0n, 2n ** 54n - 1n],
    ["twosComplement", 4, -8, 7],
    ["offsetBinary", 4, -8, 7],
    ["signMagnitude", 4, -7, 7],
    ["signMagnitude", 64, 1n - 2n ** 63n, 2n ** 63n - 1n],
    // The bits of a top digit that has fewer than four.
    ["bcd", 4, 0, 9],
    ["bcd", 5, 0, 19],
    ["bcd", 6, 0, 39],
    ["bcd", 7, 0, 79],
    ["bcd", 8, 0, 99],
    ["bcd", 64, 0n, 9_999_999_999_999_999n],
    // IEEE 754-2008, table 3.5: (2 − 2^(1−p))·2^emax with p = 24, emax = 127 and p = 53, emax = 1023.
    ["real", 32, -3.4028234663852886e38, 3.4028234663852886e38],
    ["real", 64, -1.7976931348623157e308, 1.7976931348623157e308],
  ])("%s of %i bits: %d to %d", (name, bits, min, max) => {
    const code = codeOf(name, bits);
    expect([code.min, code.max]).toEqual([min, max]);
    expect([countsProblem(min, code), countsProblem(max, code)]).toEqual([null, null]);
    if (name === "real") return;
    const one = (typeof min === "bigint" ? 1n : 1) as number;
    for (const beyond of [(min as number) - one, (max as number) + one])
      expect(countsProblem(beyond, code)).toMatch(`from ${min} to ${max}, not ${beyond}`);
  });

  test.each([
    ["twosComplement", 16, "5", "must be a whole number "],
    ["twosComplement", 16, 5n, "must be a whole number "],
    ["twosComplement", 64, 5, "must be a bigint "],
    ["twosComplement", 64, -0, "must be a bigint "],
    ["signMagnitude", 64, 0, "must be a bigint "], // only −0 has no bigint
    ["real", 64, "5", "must be a number "],
    ["real", 32, 3.5e38, "must be a number "],
  ] as const)("%s of %i bits is not %s: it %s", (name, bits, counts, message) =>
    expect(countsProblem(counts, codeOf(name, bits))).toMatch(message),
  );
});

describe("number codes in a station", () => {
  test.each([
    // By definition: offset binary is u − 2^15, sign-magnitude keeps its magnitude in 15 bits.
    ["offsetBinary", "80 00", 0],
    ["offsetBinary", "00 00", -32768],
    ["offsetBinary", "FF FF", 32767],
    ["signMagnitude", "7F FF", 32767],
    ["signMagnitude", "FF FF", -32767],
    ["signMagnitude", "80 00", -0],
  ] as const)("int16 %s %s", (code, hex, counts) => {
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "ai", inputs: [{ name: "level", type: "int16", code }] }],
    });
    expect(decode(inputs, fromHex(hex)).level).toBe(counts);
    expect(toHex(encode(inputs, { level: counts }))).toBe(hex);
    expectBothWays("int16", "big", counts, hex, { code });
  });

  test("beyond what a code can say nothing is written", () => {
    const bytes = new Uint8Array(2);
    const refused = (code: "offsetBinary" | "signMagnitude", value: number) =>
      codesOf(() => numberCodec("int16", "big", { code }).write(bytes, value));
    expect(refused("signMagnitude", -32768)).toEqual(["value.range"]);
    expect(refused("offsetBinary", 32768)).toEqual(["value.range"]);
    expect(refused("offsetBinary", 1.5)).toEqual(["value.range"]);
    expect(refused("offsetBinary", Number.NaN)).toEqual(["value.range"]);
  });

  test("sign-magnitude of 64 bits has its −0 too, as a number", () => {
    const codec = numberCodec("int64", "big", { code: "signMagnitude" });
    expect(codec.read(fromHex("80 00 00 00 00 00 00 00"))).toBe(-0);
    const bytes = new Uint8Array(8);
    codec.write(bytes, -0 as unknown as bigint);
    expect(toHex(bytes)).toBe("80 00 00 00 00 00 00 00");
    expect(codec.read(fromHex("80 00 00 00 00 00 00 05"))).toBe(-5n);
  });
});

describe("BCD (IEC 61131-3, table 22)", () => {
  test("USINT_TO_BCD_BYTE(25) = 2#0010_0101", () => {
    expect(codeOf("bcd", 8).toPattern(25)).toBe(0b0010_0101);
    expectBothWays("uint8", "big", 25, "25", { code: "bcd" });
  });

  test("WORD_BCD_TO_UINT(2#0011_0110_1001) = 369", () => {
    expect(codeOf("bcd", 16).toCounts(0b0011_0110_1001)).toBe(369);
    expectBothWays("uint16", "big", 369, "03 69", { code: "bcd" });
  });

  test("a nibble above 9 is no number, and its raw pattern is kept", () => {
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "wheel", inputs: [{ name: "preset", type: "uint16", code: "bcd" }] }],
    });
    expect(decode(inputs, fromHex("00 1A")).preset).toBeNaN();
    expect(decodeRaw(inputs, fromHex("00 1A")).preset).toBe("16#1A");
    expect(toHex(encodeRaw(inputs, { preset: "16#1A" }))).toBe("00 1A");
    expect(codesOf(() => encode(inputs, { preset: 10000 }))).toEqual(["value.range"]);
    expect(toHex(encode(inputs, { preset: 9999 }))).toBe("99 99");
  });

  test("64 bits hold 16 digits, as a bigint", () => {
    expectBothWays("uint64", "big", 9_876_543_210_123_456n, "98 76 54 32 10 12 34 56", { code: "bcd" });
  });
});

describe("byte and word order", () => {
  test.each([
    // CIP Vol. 1, C-5 (from memory): elementary types are little-endian.
    ["CIP UINT 0x1234", "uint16", "little", 0x1234, "34 12"],
    ["CIP DINT −2", "int32", "little", -2, "FE FF FF FF"],
    ["CIP REAL 1.0", "float32", "little", 1, "00 00 80 3F"],
    // Modbus Application Protocol V1.1b3, 4.2: big-endian.
    ["Modbus 0x1234", "uint16", "big", 0x1234, "12 34"],
  ] as const)("%s", (_, type, order, value, hex) => expectBothWays(type, order, value, hex));

  // By definition: the word order places whole 16-bit words, the byte order the two bytes in each.
  test.each([
    ["big", "highFirst", "11 22 33 44", "11 22 33 44 55 66 77 88"],
    ["big", "lowFirst", "33 44 11 22", "77 88 55 66 33 44 11 22"],
    ["little", "lowFirst", "44 33 22 11", "88 77 66 55 44 33 22 11"],
    ["little", "highFirst", "22 11 44 33", "22 11 44 33 66 55 88 77"],
  ] as const)("0x11223344 and its 64-bit like, %s, %s", (order, wordOrder, hex, wide) => {
    expectBothWays("uint32", order, 0x11223344, hex, { wordOrder });
    expectBothWays("uint64", order, 0x1122334455667788n, wide, { wordOrder });
  });

  test("with no word order big is high first and little low first", () => {
    expectBothWays("uint32", "big", 0x11223344, "11 22 33 44");
    expectBothWays("uint32", "little", 0x11223344, "44 33 22 11");
  });

  test("24 bits have a byte order only", () => {
    expectBothWays("uint24", "big", 0x112233, "11 22 33");
    expectBothWays("int24", "little", -2, "FE FF FF");
  });
});

test("bytes that end before the number are an error, not NaN", () => {
  const codec = numberCodec("int16", "big");
  expect(codesOf(() => codec.read(new Uint8Array(1)))).toEqual(["bytes.end"]);
  expect(codesOf(() => codec.read(new Uint8Array(4), 3))).toEqual(["bytes.end"]);
  expect(codesOf(() => codec.read(new Uint8Array(4), -1))).toEqual(["bytes.end"]);
  expect(codesOf(() => codec.read(new Uint8Array(4), 0.5))).toEqual(["bytes.end"]);
  expect(problemsOf(() => codec.write(new Uint8Array(4), 1, 3))).toEqual([
    { code: "bytes.end", path: "byte 3", message: "2 bytes do not fit in the 4 given" },
  ]);
});

describe("second opinions on random data", () => {
  const frame = fc.uint8Array({ minLength: 16, maxLength: 16 });
  const order = fc.constantFrom("big" as const, "little" as const);
  const offset = fc.integer({ min: 0, max: 8 });
  const read = (type: NumberType, byteOrder: ByteOrder, bytes: Uint8Array, at: number) =>
    numberCodec(type, byteOrder).read(bytes, at);

  test("DataView reads the same, every type but those of 24 bits", () => {
    fc.assert(
      fc.property(frame, order, offset, (bytes, byteOrder, at) => {
        const little = byteOrder === "little";
        const data = new DataView(bytes.buffer, bytes.byteOffset);
        expect(read("int8", byteOrder, bytes, at)).toBe(data.getInt8(at));
        expect(read("uint8", byteOrder, bytes, at)).toBe(data.getUint8(at));
        expect(read("int16", byteOrder, bytes, at)).toBe(data.getInt16(at, little));
        expect(read("uint16", byteOrder, bytes, at)).toBe(data.getUint16(at, little));
        expect(read("int32", byteOrder, bytes, at)).toBe(data.getInt32(at, little));
        expect(read("uint32", byteOrder, bytes, at)).toBe(data.getUint32(at, little));
        expect(read("int64", byteOrder, bytes, at)).toBe(data.getBigInt64(at, little));
        expect(read("uint64", byteOrder, bytes, at)).toBe(data.getBigUint64(at, little));
        expect(read("float32", byteOrder, bytes, at)).toBe(data.getFloat32(at, little));
        expect(read("float64", byteOrder, bytes, at)).toBe(data.getFloat64(at, little));
      }),
    );
  });

  test("Node's Buffer reads the same 24 bits", () => {
    fc.assert(
      fc.property(frame, offset, (bytes, at) => {
        const buffer = Buffer.from(bytes);
        expect(read("uint24", "big", bytes, at)).toBe(buffer.readUIntBE(at, 3));
        expect(read("uint24", "little", bytes, at)).toBe(buffer.readUIntLE(at, 3));
        expect(read("int24", "big", bytes, at)).toBe(buffer.readIntBE(at, 3));
        expect(read("int24", "little", bytes, at)).toBe(buffer.readIntLE(at, 3));
      }),
    );
  });

  test("ieee754 reads the same reals", () => {
    fc.assert(
      fc.property(frame, order, offset, (bytes, byteOrder, at) => {
        const little = byteOrder === "little";
        expect(read("float32", byteOrder, bytes, at)).toBe(ieee754.read(bytes, at, little, 23, 4));
        expect(read("float64", byteOrder, bytes, at)).toBe(ieee754.read(bytes, at, little, 52, 8));
      }),
    );
  });

  test("python-struct unpacks the same record", () => {
    const { inputs } = assemble(record("little"));
    const other = assemble(record("big")).inputs;
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 26, maxLength: 26 }), (bytes) => {
        const text = (list: readonly unknown[]) => list.map(String);
        const values = Object.values(decode(inputs, bytes));
        expect(text(values)).toEqual(text(struct.unpack("<bBhHiIqf", Buffer.from(bytes))));
        expect(text(Object.values(decode(other, bytes)))).toEqual(text(struct.unpack(">bBhHiIqf", Buffer.from(bytes))));
      }),
    );
  });

  test("binary-parser parses the same record", () => {
    const { inputs } = assemble(record("little"));
    const parser = new Parser()
      .endianness("little")
      .int8("a")
      .uint8("b")
      .int16("c")
      .uint16("d")
      .int32("e")
      .uint32("f")
      .int64("g")
      .floatle("h");
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 26, maxLength: 26 }), (bytes) => {
        expect(decode(inputs, bytes)).toEqual(parser.parse(bytes));
      }),
    );
  });

  test("@thi.ng/bitstream reads the same fields, from the most significant bit of a big-endian word down", () => {
    const widths = [3, 1, 12, 5, 11, 2, 30];
    const shifts = widths.map((_, k) => 64 - widths.slice(0, k + 1).reduce((sum, bits) => sum + bits));
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        {
          name: "packed",
          inputs: [{ word: 64, fields: widths.map((bits, k) => ({ name: `f${k}`, bits, shift: shifts[k]! })) }],
        },
      ],
    });
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 8, maxLength: 8 }), (bytes) => {
        const values = decode(inputs, bytes);
        const fields = new BitInputStream(bytes).readFields(widths);
        expect(widths.map((_, k) => values[`f${k}`])).toEqual(fields.map((field) => field >>> 0));
      }),
    );
  });

  test("@thi.ng/bitstream reads the same bits, most significant first", () => {
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      placement: { inputs: { bitOrder: "msbFirst" } },
      modules: [
        { name: "di", inputs: Array.from({ length: 24 }, (_, k) => ({ name: `c${k}`, type: "bit" as const })) },
      ],
    });
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 3, maxLength: 3 }), (bytes) => {
        const values = decode(inputs, bytes);
        const bits = new BitInputStream(bytes).readWords(24, 1);
        expect(bits.map((_, k) => Number(values[`c${k}`]))).toEqual(bits);
      }),
    );
  });
});

function record(byteOrder: ByteOrder) {
  return {
    format: 1,
    name: "record",
    byteOrder,
    modules: [
      {
        name: "all",
        inputs: [
          { name: "a", type: "int8" },
          { name: "b", type: "uint8" },
          { name: "c", type: "int16" },
          { name: "d", type: "uint16" },
          { name: "e", type: "int32" },
          { name: "f", type: "uint32" },
          { name: "g", type: "int64" },
          { name: "h", type: "float32" },
        ],
      },
    ],
  } as const;
}
