// What a user reads when bytes are not those of an image: their number, what they were copied from, how they are dumped.

import { assemble, decode, encode } from "byterail";
import { fromHex, fromRegisters, hexdump } from "byterail/frames";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

const head = { format: 1, name: "rig", byteOrder: "big" } as const;

/** Two modules of 3 bytes, one of 4. */
const { inputs } = assemble({
  ...head,
  modules: [
    { name: "left", inputs: [{ name: "a", type: "uint24" }] },
    { name: "middle", inputs: [{ name: "b", type: "uint32" }] },
    { name: "right", inputs: [{ name: "c", type: "uint24" }] },
  ],
});

describe("bytes of a wrong length", () => {
  test.each<readonly [length: number, message: string]>([
    [0, "has 10 bytes, not 0: 10 too few"],
    [6, "has 10 bytes, not 6: 4 too few, the size of module middle"],
    [7, "has 10 bytes, not 7: 3 too few, the size of module left or right"],
    [9, "has 10 bytes, not 9: 1 too few"],
    [11, "has 10 bytes, not 11: 1 too many"],
    [13, "has 10 bytes, not 13: 3 too many, the size of module left or right"],
  ])("%i bytes", (length, message) => {
    expect(problemsOf(() => decode(inputs, new Uint8Array(length)))).toEqual([
      { code: "image.length", path: "inputs", message },
    ]);
  });

  test.each([[[1, 2, 3]], ["01 02 03"], [new Uint16Array(5)], [new ArrayBuffer(10)], [null], [undefined]])(
    "%o is no bytes",
    (bytes) => {
      expect(problemsOf(() => decode(inputs, bytes as never))).toEqual([
        { code: "image.bytes", path: "inputs", message: "must be a Uint8Array (a Node Buffer is one)" },
      ]);
    },
  );
});

describe("hex text", () => {
  test.each<readonly [text: string, message: string]>([
    ["01 G2", '"G" is no hex digit'],
    ["0x01", '"x" is no hex digit'],
    ["01,02;03", '"," is no hex digit'],
    ["01 F", "3 digits make no whole bytes"],
    ["| 0 |", "1 digits make no whole bytes"],
  ])("%s", (text, message) => {
    expect(problemsOf(() => fromHex(text))).toEqual([{ code: "hex.syntax", path: "hex", message }]);
  });
});

describe("registers", () => {
  test.each<readonly [words: readonly number[], byteLength: number, message: string]>([
    [[1, 2], 5, "5 bytes are 3 registers, not 2"],
    [[1, 2, 3], 4, "4 bytes are 2 registers, not 3"],
    [[1], 0, "0 bytes are 0 registers, not 1"],
  ])("%j for %i bytes", (words, byteLength, message) => {
    expect(problemsOf(() => fromRegisters(words, "first", byteLength))).toEqual([
      { code: "register.count", path: "registers", message },
    ]);
  });

  test("each that is out of range", () => {
    expect(problemsOf(() => fromRegisters([-1, 0, 65536]))).toEqual(
      [
        [0, -1],
        [2, 65536],
      ].map(([k, word]) => ({
        code: "register.range",
        path: `registers[${k}]`,
        message: `must be a whole number from 0 to 65535, not ${word}`,
      })),
    );
  });
});

describe("a hex dump", () => {
  test("goes by byte and bit, spares and fields in their place; a spare shows every byte that it touches", () => {
    const { outputs } = assemble({
      ...head,
      modules: [
        {
          name: "valves",
          outputs: [
            { name: "rinse", type: "bit" },
            { spareBits: 2 },
            { name: "steam", type: "bit" },
            { name: "drain", type: "bit" },
            { spareBits: 6 },
            { name: "vent", type: "bit" },
          ],
        },
      ],
    });
    const bytes = encode(outputs, { rinse: true, steam: true, drain: false, vent: true });
    expect(hexdump(outputs, bytes).split("\n")).toEqual([
      "0.0  09     rinse  true",
      "0.1  09            spare",
      "0.3  09     steam  true",
      "0.4  09     drain  false",
      "0.5  09 08         spare",
      "1.3  08     vent   true",
    ]);
  });

  test("shows the bytes of spare bits that are filled from bit 7 down", () => {
    const { outputs } = assemble({
      ...head,
      modules: [
        {
          name: "valves",
          bitOrder: "msbFirst",
          outputs: [
            { spareBits: 2 },
            { name: "rinse", type: "bit" },
            { spareBits: 3 },
            { name: "steam", type: "bit" },
            { spareBits: 3 },
            { name: "vent", type: "bit" },
          ],
        },
      ],
    });
    // Byte 0, from bit 7 down: 2 spare, rinse, 3 spare, steam, 1 of 3 spare; byte 1: the other 2 of them, vent.
    expect(hexdump(outputs, fromHex("22 20")).match(/^.*spare$/gm)).toEqual([
      "0.0  22 20         spare",
      "0.4  22            spare",
      "0.7  22            spare",
    ]);
  });

  test("tells −0 from 0", () => {
    const { inputs: meter } = assemble({
      ...head,
      modules: [{ name: "m", inputs: [{ name: "flow", type: "float32" }] }],
    });
    expect(hexdump(meter, fromHex("80 00 00 00"))).toBe("0  80 00 00 00  flow  -0");
    expect(hexdump(meter, fromHex("00 00 00 00"))).toBe("0  00 00 00 00  flow  0");
  });
});
