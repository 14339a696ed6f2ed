// The worked examples of the Modbus Application Protocol Specification V1.1b3, decoded as stations: what the data bytes
// of a request or an answer say.

import { assemble, decode, encode, encodeRaw, patch } from "byterail";
import { fromHex, fromRegisters, toHex, toRegisters } from "byterail/frames";
import { describe, expect, test } from "vitest";

/** A station of so many bits, the first item in the least significant bit of the first byte (6.1). */
function coils(first: number, count: number) {
  const bits = Array.from({ length: count }, (_, k) => ({ name: `n${first + k}`, type: "bit" as const }));
  return assemble({ format: 1, name: "coils", network: "modbus-tcp", modules: [{ name: "coils", inputs: bits }] })
    .inputs;
}

function registers<const N extends string>(...names: readonly N[]) {
  const words = names.map((name) => ({ name, type: "uint16" as const }));
  return assemble({
    ...{ format: 1, name: "registers", network: "modbus-tcp" },
    modules: [{ name: "registers", inputs: words, outputs: words }],
  });
}

describe("function codes 01 and 02: bits, least significant first", () => {
  test.each([
    ["01, outputs 20–38", 20, "CD 6B 05", "1011 0011 1101 0110 101"],
    ["02, inputs 197–218", 197, "AC DB 35", "0011 0101 1101 1011 1010 11"],
  ])("%s", (_, first, hex, states) => {
    const bits = [...states.replaceAll(" ", "")].map((digit) => digit === "1");
    const image = coils(first, bits.length);
    const values = decode(image, fromHex(hex));
    expect(bits.map((__, k) => values[`n${first + k}`])).toEqual(bits);
    expect(toHex(encode(image, values))).toBe(hex);
  });
});

describe("registers, high byte first", () => {
  test("03, registers 108–110: 555, 0, 100", () => {
    const { inputs } = registers("r108", "r109", "r110");
    expect(decode(inputs, fromHex("02 2B 00 00 00 64"))).toEqual({ r108: 555, r109: 0, r110: 100 });
  });

  test("04, register 9: 10", () => expect(decode(registers("r9").inputs, fromHex("00 0A"))).toEqual({ r9: 10 }));

  test("16, registers 2 and 3: 10 and 258", () => {
    const { outputs } = registers("r2", "r3");
    expect(toHex(encode(outputs, { r2: 10, r3: 0x0102 }))).toBe("00 0A 01 02");
  });

  test("23, read 4–9 and write 15–17", () => {
    const { inputs } = registers("r4", "r5", "r6", "r7", "r8", "r9");
    expect(decode(inputs, fromHex("00 FE 0A CD 00 01 00 03 00 0D 00 FF"))).toEqual({
      ...{ r4: 0x00fe, r5: 0x0acd, r6: 1, r7: 3, r8: 13, r9: 255 },
    });
    const { outputs } = registers("r15", "r16", "r17");
    expect(toHex(encode(outputs, { r15: 0xff, r16: 0xff, r17: 0xff }))).toBe("00 FF 00 FF 00 FF");
  });

  test("22, mask write: 0x12 and 0xF2, or 0x25, gives 0x17", () => {
    // (current AND 0xF2) OR (0x25 AND NOT 0xF2) sets bits 0 and 2, clears bit 3: patching those changes no other.
    const { outputs } = assemble({
      ...{ format: 1, name: "masked", network: "modbus-tcp" },
      modules: [
        {
          name: "register",
          outputs: [
            {
              word: 16,
              fields: [
                { name: "b0", bit: 0 },
                { name: "b2", bit: 2 },
                { name: "b3", bit: 3 },
                { name: "rest", bits: 12, shift: 4 },
                { name: "b1", bit: 1 },
              ],
            },
          ],
        },
      ],
    });
    const bytes = encode(outputs, { b0: false, b1: true, b2: false, b3: false, rest: 1 });
    expect(toHex(bytes)).toBe("00 12");
    expect(toHex(patch(outputs, bytes, { b0: true, b2: true, b3: false }))).toBe("00 17");
  });
});

describe("images in registers", () => {
  test("register k holds bytes 2k and 2k + 1, the first one high unless said otherwise", () => {
    expect(toHex(fromRegisters([555, 0, 100]))).toBe("02 2B 00 00 00 64");
    expect(toHex(fromRegisters([555, 0, 100], "second"))).toBe("2B 02 00 00 64 00");
    expect(toRegisters(fromHex("02 2B 00 64"))).toEqual([555, 100]);
    expect(toRegisters(fromHex("02 2B 00 64"), "second")).toEqual([0x2b02, 0x6400]);
  });

  test("an odd image is padded with 0", () => {
    expect(toRegisters(fromHex("02 2B 64"))).toEqual([555, 0x6400]);
    expect(toRegisters(fromHex("02 2B 64"), "second")).toEqual([0x2b02, 0x0064]);
    expect(toHex(fromRegisters([555, 0x6400], "first", 3))).toBe("02 2B 64");
  });

  test("a station read so decodes", () => {
    const { inputs } = registers("a", "b");
    expect(decode(inputs, fromRegisters([555, 100], "first", inputs.byteLength))).toEqual({ a: 555, b: 100 });
    expect(toRegisters(encodeRaw(inputs, { a: 555, b: 100 }))).toEqual([555, 100]);
  });
});
