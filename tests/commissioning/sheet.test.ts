// The loop-check sheet as data.

import { type SheetOptions, sheet } from "@byterail/commissioning";
import { assemble, decode, type Module, type NetworkId, type NumberPoint, type Scale, type Station } from "byterail";
import { inspect } from "byterail/map";
import { fromHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";
import { stations } from "../support/stations.js";
import { kegStation } from "./kegStation.js";

const keg = sheet(assemble(kegStation));
const loop = (name: string) => keg.loops.find((each) => each.name === name)!;
const contact = (name: string) => keg.contacts.find((each) => each.name === name)!;

function sheetOf(module: Omit<Module, "name">, options?: SheetOptions) {
  return sheet(
    assemble({ format: 1, name: "rig", byteOrder: "big", modules: [{ name: "m", ...module }] } as Station),
    options,
  );
}

describe("an analog point", () => {
  test("is driven five points up and five down", () => {
    expect(loop("supply").rows.map(({ run, percent }) => [run, percent])).toEqual([
      ...[0, 25, 50, 75, 100].map((percent) => ["up", percent]),
      ...[100, 75, 50, 25, 0].map((percent) => ["down", percent]),
    ]);
  });

  // IEC 60381-1 (from memory): 0, 25, 50, 75, 100 % of 4 to 20 mA.
  test("has the signal of a 4 to 20 mA loop and the bytes as they stand in the image", () => {
    const up = loop("supply").rows.slice(0, 5);
    expect(up.map(({ signal }) => signal)).toEqual([4, 8, 12, 16, 20]);
    expect(up.map(({ value }) => value)).toEqual([0, 2.5, 5, 7.5, 10]);
    // Little-endian: 8000 is 1F40h.
    expect(up[1]!.bytes).toEqual([{ byte: 3, hex: "40 1F" }]);
  });

  test("shows the nearest counts and what they are: 25 % of 0 to 4095 is no count", () => {
    const [, quarter, half, threeQuarters] = loop("causticLevel").rows;
    expect([quarter!.counts, half!.counts, threeQuarters!.counts]).toEqual([1024, 2048, 3071]);
    expect(quarter!.truePercent).toBeCloseTo(25.0061, 4);
    expect(quarter!.value).toBe((1024 * 100) / 4095);
    // A field of 12 bits from bit 4 up: 1024 << 4 = 4000h, low byte first; its bits are FFF0h.
    expect(quarter!.bytes).toEqual([{ byte: 11, hex: "00 40" }]);
    expect(loop("causticLevel").mask).toEqual([{ byte: 11, hex: "F0 FF" }]);
  });

  // Square root extraction: 8 mA in is 50 % of flow, 12 mA 70.7 %.
  test("behind a square root is driven by percent of its signal", () => {
    const [, quarter, half] = loop("rinseFlow").rows;
    expect([quarter!.signal, quarter!.value]).toEqual([8, 40]);
    expect(half!.value).toBeCloseTo(80 * Math.SQRT1_2, 12);
  });

  test("leaves out the points that its limits forbid, and says so", () => {
    const { rows, leftOut } = loop("pumpSpeed");
    expect(rows.map(({ percent }) => percent)).toEqual([0, 25, 50, 75, 75, 50, 25, 0]);
    expect(leftOut).toEqual([{ percent: 100, why: "100 % lies beyond the limits 0 to 80" }]);
  });

  test.each([
    {
      name: "counts that report a fault",
      point: { specialCounts: [{ counts: 100, health: "failedHigh" }] },
      steps: [0, 100],
      why: /failedHigh/,
    },
    { name: "counts beyond the type", point: {}, steps: [0, 300], why: /300 counts.* 8 bits/ },
  ] as const)("leaves out $name", ({ point, steps, why }) => {
    const scale = { counts: [0, 100], value: [0, 10] } as const;
    const [made] = sheetOf({ inputs: [{ name: "p", type: "uint8", scale, ...point }] }, { steps }).loops;
    expect(made!.rows.map(({ percent }) => percent)).toEqual([0, 0]);
    expect(made!.leftOut[0]!.why).toMatch(why);
  });

  test("an output is judged at the terminals too: the band as a signal", () => {
    const [low, high] = loop("pumpSpeed").rows[1]!.acceptSignal!;
    const width = Math.hypot(0.2, 0.05); // % of span; 0.1 V is 1 %
    expect([low, high]).toEqual([expect.closeTo(2.5 - width / 10, 9), expect.closeTo(2.5 + width / 10, 9)]);
  });

  test("tells which errors the description leaves out", () => {
    expect(loop("causticTemp").unknownErrors).toEqual([]);
    expect(loop("causticLevel").unknownErrors).toEqual(["instrument", "channel"]);
  });

  test("with a span from its limits alone is driven between them", () => {
    const [made] = sheetOf({ outputs: [{ name: "dose", type: "int16", unit: "mL", limits: [-100, 300] }] }).loops;
    expect(made!.rows.slice(0, 5).map(({ value }) => value)).toEqual([-100, 0, 100, 200, 300]);
  });

  test("that is a real is driven by its own number", () => {
    const scale = { counts: [0, 1], value: [0, 10], unit: "bar" } as const;
    const [made] = sheetOf({ inputs: [{ name: "p", type: "float32", scale }] }, { steps: [50] }).loops;
    expect(made!.rows[0]).toMatchObject({ counts: 0.5, value: 5, bytes: [{ byte: 0, hex: "3F 00 00 00" }] });
    // A tenth is no binary32: what is held is the nearest one.
    const [tenth] = sheetOf({ inputs: [{ name: "p", type: "float32", scale }] }, { steps: [10] }).loops;
    expect(tenth!.rows[0]).toMatchObject({ counts: Math.fround(0.1), bytes: [{ byte: 0, hex: "3D CC CC CD" }] });
  });

  test("that is an integer of 32 bits is driven to its last count", () => {
    const scale = { counts: [0, 4294967295], value: [0, 10] } as const;
    const [made] = sheetOf({ inputs: [{ name: "p", type: "uint32", scale }] }, { steps: [100] }).loops;
    expect(made!.rows[0]).toMatchObject({ counts: 4294967295, value: 10, bytes: [{ byte: 0, hex: "FF FF FF FF" }] });
  });
});

test.each([
  [[]],
  [[0, 0]],
  [[100, 0]],
  [[0, 50, 40]],
  [[Number.NaN]],
  [[0, Infinity]],
  [Array.from({ length: 102 }, (_, k) => k)],
])("steps %j are no rising list", (steps) => {
  expect(problemsOf(() => sheetOf({}, { steps }))).toEqual([
    {
      code: "sheet.steps",
      path: "steps",
      message: expect.stringMatching(/1 to 101 percentages that rise, such as 0, 25/),
    },
  ]);
});

test("steps may be 1 to 101, and lie beyond the span", () => {
  const inputs: Module["inputs"] = [{ name: "p", type: "int16", scale: { counts: [0, 100], value: [0, 1] } }];
  const percents = (steps: number[]) =>
    new Set(sheetOf({ inputs }, { steps }).loops[0]!.rows.map(({ percent }) => percent));
  const all = Array.from({ length: 101 }, (_, k) => k);
  expect(percents(all)).toEqual(new Set(all));
  expect(percents([-10])).toEqual(new Set([-10]));
});

describe("the span of a point", () => {
  const curve: Scale = {
    points: [
      [0, 0],
      [50, 10],
      [100, 40],
    ],
    unit: "m³",
  };
  const made = (point: Partial<NumberPoint>, direction: "inputs" | "outputs" = "inputs") =>
    sheetOf({ [direction]: [{ name: "p", type: "int16", ...point }] });

  test("of a curve is from its first to its last point, with percent of the counts", () => {
    const [loop] = made({ scale: curve }).loops;
    expect(loop).toMatchObject({ counts: [0, 100], value: [0, 40], signal: null, signalUnit: null, unit: "m³" });
    expect(loop!.rows.slice(0, 5).map(({ counts, value }) => [counts, value])).toEqual([
      [0, 0],
      [25, 5],
      [50, 10],
      [75, 25],
      [100, 40],
    ]);
    // Half a count, through the steeper of the pieces beside each point.
    expect(loop!.rows.slice(0, 5).map(({ band }) => band.halfWidth)).toEqual([0.1, 0.1, 0.3, 0.3, 0.3].map(near));
  });

  test("of a curve whose lower piece is the steeper has the error of that", () => {
    const points = [[0, 0] as const, [50, 30] as const, [100, 40] as const];
    const [loop] = made({ scale: { points } }).loops;
    expect(loop!.rows.slice(0, 5).map(({ band }) => band.halfWidth)).toEqual([0.3, 0.3, 0.3, 0.1, 0.1].map(near));
  });

  test("of a curve with a signal has counts and signal of their own", () => {
    const [loop] = made({ scale: { ...curve, counts: [-100, 100], signal: [0, 10], signalUnit: "V" } }).loops;
    expect(loop).toMatchObject({ counts: [-100, 100], value: [-20, 40], signal: [0, 10], signalUnit: "V" });
    expect(loop!.rows[1]).toMatchObject({ counts: -50, signal: 2.5, value: -10 });
  });

  test.each<[title: string, point: Partial<NumberPoint>, direction: "inputs" | "outputs"]>([
    ["neither scale nor limits", {}, "inputs"],
    ["limits that are one value", { limits: [5, 5] }, "outputs"],
    ["64 bits", { type: "uint64", limits: [0, 100] }, "outputs"],
  ])("is not to be had of %s", (_, point, direction) => {
    const { loops, numbers } = made(point, direction);
    expect([loops, numbers.map(({ name }) => name)]).toEqual([[], ["p"]]);
  });

  test("may be of limits, on an input too; of 53 bits and of a binary64", () => {
    expect(made({ limits: [0, 40] }).loops[0]).toMatchObject({ counts: [0, 40], value: [0, 40], signal: null });
    expect(made({ type: "float64", scale: { counts: [0, 1], value: [0, 10] } }).loops).toHaveLength(1);
    const field = (bits: number) => ({ word: 64, fields: [{ name: "p", bits, shift: 0, limits: [0, 9] as const }] });
    expect([53, 54].map((bits) => sheetOf({ inputs: [field(bits)] }).loops.length)).toEqual([1, 0]);
  });
});

describe("the bytes of a point", () => {
  test("that do not follow one another are told in runs, with the mask of each", () => {
    // Little, high word first: bytes 2 3 0 1 from the least significant up. Bits 8 to 23 lie in bytes 3 and 0.
    const word = { word: 32, byteOrder: "little", wordOrder: "highFirst" } as const;
    const field = { name: "p", bits: 12, shift: 8, scale: { counts: [0, 4000] as const, value: [0, 100] as const } };
    const [loop] = sheetOf({ inputs: [{ ...word, fields: [field] }] }, { steps: [100] }).loops;
    // 4000 = FA0h: A0h in byte 3, Fh in byte 0.
    expect(loop!.rows[0]!.bytes).toEqual([
      { byte: 0, hex: "0F" },
      { byte: 3, hex: "A0" },
    ]);
    expect(loop!.mask).toEqual([
      { byte: 0, hex: "0F" },
      { byte: 3, hex: "FF" },
    ]);
    expect(loop!.bits).toBe(12);
  });

  test("that the point fills need no mask", () => {
    const mask = (bits: number, shift: number) =>
      sheetOf({ inputs: [{ word: 16, fields: [{ name: "p", bits, shift }] }] }).numbers[0]!.mask;
    expect([mask(8, 8), mask(16, 0)]).toEqual([null, null]);
    expect(mask(8, 4)).toEqual([{ byte: 0, hex: "0F F0" }]);
    expect(mask(7, 8)).toEqual([{ byte: 0, hex: "7F" }]);
  });
});

describe("what is told of a point on loss of the network", () => {
  test.each<[state: boolean | number | string, unit: string | undefined, type: string, text: string]>([
    ["off", undefined, "bit", "goes off"],
    [false, undefined, "bit", "goes off"],
    [true, undefined, "bit", "goes on"],
    ["hold", undefined, "uint8", "holds its last state"],
    [7, undefined, "uint8", "goes to 7"],
    [0, "L", "uint8", "goes to 0 L"],
  ])("%s: %s", (onNetworkLoss, unit, type, text) => {
    const { contacts, numbers } = sheetOf({
      outputs: [{ name: "p", type, onNetworkLoss, ...(unit && { unit }) } as never],
    });
    expect([...contacts, ...numbers].map((each) => each.onNetworkLoss)).toEqual([text]);
  });
});

describe("points that are left out", () => {
  const scale = { counts: [0, 100], value: [0, 10], unit: "bar" } as const;
  const why = (point: object, steps: number[]) =>
    sheetOf({ outputs: [{ name: "p", type: "int8", scale, ...point } as never] }, { steps }).loops[0]!.leftOut.map(
      (each) => each.why,
    );
  test.each<[title: string, point: object, steps: number[], why: string[]]>([
    [
      "above the limits",
      { limits: [2, 8] },
      [0, 20, 80, 81],
      ["0 bar lies beyond the limits 2 to 8", "8.1 bar lies beyond the limits 2 to 8"],
    ],
    [
      "a value without unit",
      { scale: { counts: [0, 100], value: [0, 10] } },
      [110],
      ["11 lies beyond the limits 0 to 10"],
    ],
    [
      "beyond the type, at either end",
      { limits: [-99, 99] },
      [-129, -128, 127, 128],
      ["-129 counts are more than the 8 bits hold", "128 counts are more than the 8 bits hold"],
    ],
    [
      "a report and no measurement",
      {
        specialCounts: [
          { counts: 50, health: "failedLow" },
          { counts: 60, health: "ok" },
        ],
      },
      [50, 60, 70],
      ["50 counts report failedLow and are no measurement"],
    ],
  ])("%s", (_, point, steps, texts) => expect(why(point, steps)).toEqual(texts));
});

test("exclusive outputs are told with the others of every group; inputs have none", () => {
  const bits = (names: string[]) => names.map((name) => ({ name, type: "bit" as const }));
  const { contacts } = sheetOf({
    inputs: bits(["raise", "lower"]),
    outputs: bits(["raise", "lower", "hold", "lamp"]),
    exclusive: [
      ["raise", "lower"],
      ["lower", "hold"],
    ],
  });
  expect(contacts.map(({ direction, name, exclusiveWith }) => [direction, name, exclusiveWith.join()])).toEqual([
    ...[
      ["inputs", "raise", ""],
      ["inputs", "lower", ""],
    ],
    ...[
      ["outputs", "raise", "lower"],
      ["outputs", "lower", "raise,hold"],
      ["outputs", "hold", "lower"],
      ["outputs", "lamp", ""],
    ],
  ]);
  expect(contacts.map(({ actuate }) => actuate)).toEqual([
    ...["raise: at the device, then back", "lower: at the device, then back"],
    "write 1, then 0 (lower: 0 all the while)",
    "write 1, then 0 (raise, hold: 0 all the while)",
    "write 1, then 0 (lower: 0 all the while)",
    "write 1, then 0",
  ]);
});

// What stands around the image in the telegram; the sources are named beside each figure.
test.each<[network: NetworkId, inputs: number | null, outputs: number | null, sources: RegExp[]]>([
  ["ethernet-ip", 2, 6, [/^sequence count: CIP Vol\. 1/, /^run\/idle header: CIP Vol\. 1/]],
  ["profinet", null, null, [/^provider and consumer status.*: PROFINET IO .*1440/]],
  ["profibus-dp", 9, 9, [/^telegram with variable data length.*: PROFIBUS DP/]],
  [
    "modbus-tcp",
    9,
    13,
    [/^MBAP header: Modbus Messaging on TCP\/IP V1\.0b/, /^function code and counts.*: Modbus V1\.1b3/],
  ],
  ["ethercat", 12, 12, [/^datagram header and working counter: EtherCAT/]],
  ["canopen", 0, 0, [/nothing beside the image: CiA 301/]],
  ["io-link", 1, 2, [/^message octets.*: IEC 61131-9/]],
])("overhead of %s", (network, inputs, outputs, sources) => {
  const { connection } = sheet(assemble({ format: 1, name: "rig", network, modules: [] }));
  expect(connection.network).toBe(network);
  expect(connection.onTheWire).toEqual({ inputs, outputs });
  expect(connection.overhead.map(({ what, source }) => `${what}: ${source}`)).toEqual(
    sources.map((source) => expect.stringMatching(source)),
  );
});

test("the method of the band is told with its formula and its source", () => {
  expect(sheetOf({}).method).toEqual({
    combination: "rootSumOfSquares",
    formula: expect.stringMatching(
      /^± √\(a_instrument² \+ a_channel² \+ a_rounding²\) = ± √3 · u, with u = √\(Σ a²\/3\)/,
    ),
    source: expect.stringMatching(/^JCGM 100:2008 .*4\.3\.7\).*eq\. 10, independent; coverage factor √3$/),
  });
  expect(sheetOf({}, { combination: "worstCase" }).method).toEqual({
    combination: "worstCase",
    formula: expect.stringMatching(/^± \(a_instrument \+ a_channel \+ a_rounding\), the worst case/),
    source: expect.stringMatching(/^JCGM 100:2008 .*4\.3\.7\); the plain sum bounds the error/),
  });
});

describe("a digital point", () => {
  test("an input tells what to actuate and which bit to see", () => {
    expect(contact("clampIsUp")).toMatchObject({
      ...{ address: "%IX0.2", byte: 0, bit: 2, mask: [{ byte: 0, hex: "04" }] },
      ...{ actuate: "Clamp up, reed switch: at the device, then back", see: "bit 2 of byte 0: 1, then 0" },
    });
  });

  test.each([
    { name: "steam", onNetworkLoss: "goes off" },
    { name: "clampUp", onNetworkLoss: "holds its last state" },
    { name: "drain", onNetworkLoss: "goes on" },
    { name: "sterileAir", onNetworkLoss: null },
  ])("output $name, network lost: $onNetworkLoss", ({ name, onNetworkLoss }) => {
    expect(contact(name).onNetworkLoss).toBe(onNetworkLoss);
  });

  test("an output of an exclusive pair names the other", () => {
    expect(contact("clampUp")).toMatchObject({
      exclusiveWith: ["clampDown"],
      actuate: "write 1, then 0 (clampDown: 0 all the while)",
    });
  });

  test("a boolean field of a word stands at its own byte", () => {
    expect(contact("causticLevelFault")).toMatchObject({ byte: 11, bit: 0, address: "%IX11.0" });
  });
});

test("a number without a span is listed with boxes to fill in", () => {
  expect(keg.numbers.map(({ name, onNetworkLoss }) => [name, onNetworkLoss])).toEqual([
    ["kegsWashed", null],
    ["recipe", null],
  ]);
});

describe("the connection", () => {
  test("counts the images in bytes and in 16- and 32-bit elements", () => {
    expect(keg.connection.inputs).toMatchObject({ bytes: 14, elements16: 7, unused16: 0, elements32: 4, unused32: 2 });
    expect(keg.connection.outputs).toMatchObject({ bytes: 6, elements16: 3, elements32: 2, unused32: 2 });
  });

  // CIP Vol. 1 (from memory): 511 less a 16-bit sequence count = 509, less a 32-bit run/idle header = 505.
  test("the overhead of ethernet-ip is what its limits leave of 511 bytes", () => {
    const { inputs, outputs, overhead, onTheWire } = keg.connection;
    const sum = (direction: "inputs" | "outputs") => overhead.reduce((total, each) => total + each[direction]!, 0);
    expect([inputs.limit.bytes + sum("inputs"), outputs.limit.bytes + sum("outputs")]).toEqual([511, 511]);
    expect(onTheWire).toEqual({ inputs: 16, outputs: 12 });
  });

  // Modbus V1.1b3: FC03 of 3 registers is answered in 8 bytes behind the unit identifier's MBAP header of 7.
  test("the overhead of modbus-tcp is that of the worked examples", () => {
    const modules = [{ name: "m", inputs: [{ spare: 6 }], outputs: [{ spare: 4 }] }];
    const { connection } = sheet(assemble({ format: 1, name: "rig", network: "modbus-tcp", modules }));
    expect(connection.onTheWire).toEqual({
      inputs: 7 + fromHex("03 06 02 2B 00 00 00 64").length,
      outputs: 7 + fromHex("10 00 01 00 02 04 00 0A 01 02").length,
    });
  });

  test("what the description cannot tell is left open", () => {
    const { connection } = sheet(assemble({ format: 1, name: "rig", network: "profinet", modules: [] }));
    expect(connection.onTheWire).toEqual({ inputs: null, outputs: null });
  });
});

test("picture and digest come from the caller", () => {
  const made = sheet(assemble(kegStation), {
    digest: "0123",
    picture: { inputs: "<svg/>", outputs: ["<svg/>", "<svg/>"] },
  });
  expect([made.digest, made.picture]).toEqual(["0123", { inputs: ["<svg/>"], outputs: ["<svg/>", "<svg/>"] }]);
});

describe("of any station", () => {
  test("every point stands in the sheet once", () => {
    fc.assert(
      fc.property(stations(), (station) => {
        const layout = assemble(station);
        const { loops, contacts, numbers } = sheet(layout);
        const names = [...loops, ...contacts, ...numbers].map(({ direction, name }) => `${direction} ${name}`);
        const points = (["inputs", "outputs"] as const).flatMap((direction) =>
          layout[direction].points.map(({ name }) => `${direction} ${name}`),
        );
        expect(names.sort()).toEqual(points.sort());
      }),
      { numRuns: 60 },
    );
  });

  test("the bytes of a row decode to its value and its signal, and lie in the accepted band", () => {
    fc.assert(
      fc.property(stations(), (station) => {
        const layout = assemble(station);
        for (const { direction, name, rows } of sheet(layout, { steps: [0, 12.5, 50, 100] }).loops) {
          const image = layout[direction];
          for (const row of rows) {
            const bytes = new Uint8Array(image.byteLength);
            for (const { byte, hex } of row.bytes) bytes.set(fromHex(hex), byte);
            expect((decode(image, bytes) as Record<string, unknown>)[name]).toBe(row.value);
            expect(inspect(image, bytes).find((point) => point.name === name)!.signal).toBe(row.signal);
            expect(row.accept[0] <= row.value && row.value <= row.accept[1]).toBe(true);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test("no asked point is nearer to its percentage than the counts given", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 65535 }), fc.double({ min: 0, max: 100, noNaN: true }), (top, percent) => {
        const [made] = sheetOf(
          { inputs: [{ name: "p", type: "uint16", scale: { counts: [0, top], value: [0, 10] } }] },
          { steps: [percent] },
        ).loops;
        const { counts } = made!.rows[0]!;
        expect(Math.abs(counts - (percent / 100) * top)).toBeLessThanOrEqual(0.5 + 1e-9);
      }),
    );
  });
});

function near(width: number) {
  return expect.closeTo(width, 9);
}
