// Random stations of the kit: always valid, over everything a description can say, and plain again once they shrink.

import { assemble, type Layout, type PlacedPoint, type Station } from "byterail";
import { parseStation } from "byterail/schema";
import { type StationOptions, station } from "@byterail/testkit";
import fc from "fast-check";
import { describe, expect, test } from "vitest";

const pointsOf = (description: Station): readonly PlacedPoint[] => {
  const { inputs, outputs } = assemble(description) as Layout;
  return [...inputs.points, ...outputs.points];
};
const text = (description: Station) => JSON.stringify(description);
const sample = (options: StationOptions, numRuns: number) => fc.sample(station(options), { numRuns, seed: 20 });

const many = sample({}, 400);

describe("random stations", () => {
  test("assemble, and pass as a file does", () => {
    fc.assert(
      fc.property(station(), (description) => {
        expect(parseStation(JSON.parse(text(description)))).toEqual(description);
        expect(assemble(description).station).toBe(description);
      }),
      { numRuns: 200 },
    );
  });

  // One in a thousand of these has modules that share a byte only since another one is pinned.
  test.each([219, 801, 1341])("assemble where a pin makes modules share a byte, seed %i", (seed) => {
    const bits = station({
      networks: [],
      placement: ["packing", "bitOrder", "pin"],
      extras: [],
      types: ["bit"],
      entries: [1, 5],
    });
    const [description] = fc.sample(bits, { seed, numRuns: 1 });
    expect(assemble(description!).warnings).toEqual([]);
  });

  test("have exact scales", () => {
    const warnings = many.flatMap((description) => assemble(description).warnings.map(({ code }) => code));
    expect(new Set(warnings)).toEqual(new Set(["placement.oddByte", "placement.straddle"]));
  });

  test("cover everything that a description can say", () => {
    const points = many.flatMap(pointsOf);
    const layouts = many.flatMap((description) => {
      const { inputs, outputs } = assemble(description) as Layout;
      return [inputs, outputs];
    });
    const types = "bit int8 uint8 int16 uint16 int24 uint24 int32 uint32 int64 uint64 float32 float64 field".split(" ");
    expect([...new Set(points.map(({ type }) => type))].sort()).toEqual(types.sort());
    const codes = [null, "unsigned", "twosComplement", "offsetBinary", "signMagnitude", "bcd"];
    expect(new Set(points.map(({ code }) => code))).toEqual(new Set(codes));
    expect(new Set(layouts.flatMap(({ gaps }) => gaps.map(({ why }) => why)))).toEqual(
      new Set(["reserve", "pin", "alignment", "length"]),
    );
    const networks = "ethernet-ip profinet profibus-dp modbus-tcp ethercat canopen io-link".split(" ");
    expect(new Set(many.map(({ network }) => network))).toEqual(new Set([undefined, ...networks]));
    const keys = [
      ...[
        "slot",
        "inputBytes",
        "outputBytes",
        "inputOffset",
        "outputOffset",
        "group",
        "bitOrder",
        "byteOrder",
        "wordOrder",
      ],
      ...["accuracy", "exclusive", "title", "scale", "unit", "limits", "specialCounts", "onNetworkLoss", "deadband"],
      ...[
        "signed",
        "spare",
        "spareBits",
        "word",
        "shape",
        "points",
        "signal",
        "signalUnit",
        "length",
        "lengthMultiple",
      ],
      ...["order", "packing", "alignment"],
    ];
    const everything = many.map(text).join();
    expect(keys.filter((key) => !everything.includes(`"${key}":`))).toEqual([]);
    // Modules of bits that go on within a byte, and words of which both orders are said.
    expect(
      layouts.some(({ modules }) =>
        modules.some(({ byte }, k) => byte < (modules[k - 1]?.byte ?? 0) + (modules[k - 1]?.bytes ?? 0)),
      ),
    ).toBe(true);
  });
});

describe("options narrow them:", () => {
  const cases: readonly (readonly [what: string, options: StationOptions, holds: (description: Station) => boolean])[] =
    [
      [
        "bits alone",
        { types: ["bit"] },
        (d) => pointsOf(d).every(({ type }) => type === "bit") && !/spare/.test(text(d)),
      ],
      [
        "some types",
        { types: ["int16", "float64"] },
        (d) => pointsOf(d).every(({ type }) => type === "int16" || type === "float64"),
      ],
      ["words alone", { types: ["word"] }, (d) => pointsOf(d).every(({ type }) => type === "field")],
      ["no code", { codes: [] }, (d) => !/"code"/.test(text(d))],
      ["one code", { codes: ["bcd"] }, (d) => !/offsetBinary|signMagnitude/.test(text(d))],
      ["no scale", { scales: [] }, (d) => !/"scale"/.test(text(d))],
      ["linear scales", { scales: ["linear"] }, (d) => !/"shape"|"points"/.test(text(d))],
      ["one direction", { directions: ["outputs"] }, (d) => assemble(d).inputs.points.length === 0],
      ["no rule of placement", { placement: [] }, (d) => !/placement|Offset|Bytes|slot|group|bitOrder/.test(text(d))],
      ["no pin", { placement: ["packing", "bitOrder"] }, (d) => !/Offset|Bytes|slot|group|alignment/.test(text(d))],
      ["no network", { networks: [] }, (d) => d.network === undefined && d.limits === undefined],
      ["one network", { networks: ["canopen"] }, (d) => d.network === undefined || d.network === "canopen"],
      [
        "nothing extra",
        { extras: [] },
        (d) => !/title|limits":\[|deadband|onNetworkLoss|accuracy|exclusive|wordOrder/.test(text(d)),
      ],
      ["size", { modules: [2, 3], entries: [1, 4] }, (d) => d.modules.length >= 2 && d.modules.length <= 3],
      ["always data", { modules: [1, 1], entries: [1, 2], types: ["bit", "word"] }, (d) => pointsOf(d).length >= 2],
    ];
  for (const [what, options, holds] of cases)
    test(what, () => {
      const odd = sample(options, 60).filter((description) => !holds(description));
      expect(odd).toEqual([]);
    });
});

describe("a failing station shrinks to a plain one:", () => {
  const bit = (module: object) => ({
    format: 1,
    name: "station",
    byteOrder: "big",
    modules: [{ name: "m0", ...module }],
  });
  const alone = (entry: object) => [
    bit({ inputs: [{ name: "i0", ...entry }] }),
    bit({ outputs: [{ name: "o0", ...entry }] }),
  ];
  const cases: readonly (readonly [
    fault: string,
    fails: (description: Station) => boolean,
    plainest: readonly object[],
  ])[] = [
    ["any point at all", (d) => pointsOf(d).length > 0, alone({ type: "bit" })],
    ["a float64", (d) => pointsOf(d).some(({ type }) => type === "float64"), alone({ type: "float64" })],
    [
      "BCD alone",
      (d) => pointsOf(d).some(({ code, type }) => code === "bcd" && type !== "field"),
      alone({ type: "uint8", code: "bcd" }),
    ],
    [
      "a scale",
      (d) => pointsOf(d).some(({ type, description }) => type !== "field" && "scale" in description),
      alone({ type: "uint8", scale: { counts: [0, 1], value: [0, 1] } }),
    ],
    [
      "a network",
      (d) => d.network !== undefined,
      [{ format: 1, name: "station", modules: [], network: "ethernet-ip" }],
    ],
  ];
  for (const [fault, fails, plainest] of cases)
    test(fault, () => {
      for (const seed of [1, 2, 3]) {
        const { counterexample } = fc.check(
          fc.property(station(), (d) => !fails(d)),
          { seed, numRuns: 1000 },
        );
        expect(plainest).toContainEqual(counterexample?.[0]);
      }
    });

  test("three points stay three, in as few modules as can be", () => {
    for (const seed of [1, 2, 3]) {
      const { counterexample } = fc.check(
        fc.property(station(), (d) => pointsOf(d).length < 3),
        { seed, numRuns: 1000 },
      );
      const [least] = counterexample!;
      expect(pointsOf(least)).toHaveLength(3);
      expect(text(least)).not.toMatch(/scale|limits|placement|slot|Offset|Bytes/);
    }
  });
});
