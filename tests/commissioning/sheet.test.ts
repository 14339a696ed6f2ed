// The loop-check sheet as data.

import { type SheetOptions, sheet } from "@byterail/commissioning";
import { assemble, decode, type Module, type Station } from "byterail";
import { inspect } from "byterail/map";
import { fromHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { codesOf } from "../support/problems.js";
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
  });
});

test.each([[[]], [[0, 0]], [[100, 0]], [[Number.NaN]]])("steps %j are no rising list", (steps) => {
  expect(codesOf(() => sheetOf({}, { steps }))).toEqual(["sheet.steps"]);
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
