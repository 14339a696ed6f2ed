// Direct addresses of IEC 61131-3, table 15: %IX0.3 %IB2 %IW1 %QD4. What the number of %IW1 counts, bytes or words,
// the standard leaves open, so it is an option.

import { assemble } from "byterail";
import { type AddressOptions, byteMap, formatAddress, parseAddress, pointAddress } from "byterail/map";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

const { inputs, outputs } = assemble({
  ...{ format: 1, name: "rig", byteOrder: "big" },
  modules: [
    {
      name: "m",
      inputs: [
        { name: "b0", type: "bit" },
        { name: "b1", type: "bit" },
        { name: "byte", type: "int8" },
        { name: "word", type: "uint16" },
        { name: "real", type: "float32" },
        { name: "long", type: "int64" },
        { name: "three", type: "int24" },
        {
          word: 16,
          fields: [
            { name: "flag", bit: 9 },
            { name: "part", bits: 8, shift: 0 },
          ],
        },
        { spare: 1 },
      ],
      outputs: [
        { name: "odd", type: "uint8" },
        { name: "drive", type: "uint16" },
      ],
    },
  ],
});

const addresses = (options?: AddressOptions) =>
  Object.fromEntries(inputs.points.map((point) => [point.name, pointAddress(point, "inputs", options)]));

describe("the address of a point", () => {
  test("counts bytes unless asked otherwise; 24-bit values and fields of several bits have none", () => {
    expect(addresses()).toEqual({
      ...{ b0: "%IX0.0", b1: "%IX0.1", byte: "%IB1", word: "%IW2", real: "%ID4", long: "%IL8" },
      ...{ three: null, flag: "%IX19.1", part: null },
    });
  });

  test("counted in words a misaligned one has none", () => {
    expect(addresses({ counting: "words" })).toMatchObject({
      b1: "%IX0.1",
      byte: "%IB1",
      word: "%IW1",
      real: "%ID1",
      long: "%IL1",
    });
    expect(pointAddress(outputs.points[1]!, "outputs", { counting: "words" })).toBeNull();
    expect(pointAddress(outputs.points[1]!, "outputs")).toBe("%QW1");
  });

  test("a start moves all of them", () => {
    expect(addresses({ start: 64 })).toMatchObject({ b1: "%IX64.1", word: "%IW66", flag: "%IX83.1" });
    expect(addresses({ start: 64, counting: "words" })).toMatchObject({ word: "%IW33", real: "%ID17" });
  });

  test("stands in the byte map; spares have none", () => {
    const rows = byteMap(inputs, { start: 10 }).points;
    expect(rows.find(({ name }) => name === "word")).toEqual({
      ...{ name: "word", module: "m", slot: 0, type: "uint16", byte: 2, bit: null, bits: 16, word: null, shift: null },
      address: "%IW12",
    });
    expect(rows.find(({ name }) => name === "flag")).toMatchObject({
      type: "field",
      byte: 19,
      bit: null,
      word: 16,
      shift: 9,
    });
    expect(rows.at(-1)).toMatchObject({ type: "spare", address: null });
  });
});

describe("reading an address", () => {
  test.each([
    ["%IX0.3", { direction: "inputs", size: "X", byte: 0, bit: 3 }],
    ["%I0.3", { direction: "inputs", size: "X", byte: 0, bit: 3 }],
    ["%IB2", { direction: "inputs", size: "B", byte: 2, bit: null }],
    ["%IW1", { direction: "inputs", size: "W", byte: 1, bit: null }],
    ["%QD4", { direction: "outputs", size: "D", byte: 4, bit: null }],
    ["%ql8", { direction: "outputs", size: "L", byte: 8, bit: null }],
  ])("%s", (text, address) => expect(parseAddress(text)).toEqual(address));

  test("%IW1 counted in words is byte 2", () => expect(parseAddress("%IW1", { counting: "words" }).byte).toBe(2));

  test.each(["", "IX0.3", "%IX0.8", "%IX0", "%IB1.2", "%MW3", "%IW-1", "%IW1 ", " %IW1", "%IX0.3\n", "%IW99999999"])(
    "%j is none",
    (text) =>
      expect(problemsOf(() => parseAddress(text))).toEqual([
        {
          code: "address.syntax",
          path: "address",
          message: expect.stringContaining("no address such as %IX0.3, %IB2"),
        },
      ]),
  );

  test("an address before the start of the image is an error", () => {
    expect(parseAddress("%IW64", { start: 64 }).byte).toBe(0);
    expect(problemsOf(() => parseAddress("%IW63", { start: 64 }))).toEqual([
      { code: "address.start", path: "address", message: "%IW63 lies before byte 64, where the image starts" },
    ]);
  });

  test("and writing it again are each other's inverse", () => {
    const address = fc.record({
      direction: fc.constantFrom("inputs" as const, "outputs" as const),
      size: fc.constantFrom("B" as const, "W" as const, "D" as const, "L" as const),
      byte: fc.nat(1000).map((n) => 8 * n),
      bit: fc.constant(null),
    });
    const bit = fc.record({
      direction: fc.constantFrom("inputs" as const, "outputs" as const),
      size: fc.constant("X" as const),
      byte: fc.nat(1000),
      bit: fc.nat(7),
    });
    const options = fc.record({
      counting: fc.constantFrom("bytes" as const, "words" as const),
      start: fc.nat(10).map((n) => 8 * n),
    });
    fc.assert(
      fc.property(fc.oneof(address, bit), options, (place, how) => {
        expect(parseAddress(formatAddress(place, how)!, how)).toEqual(place);
      }),
    );
  });
});
