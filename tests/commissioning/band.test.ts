// The acceptance band of a loop-check sheet.

import { sheet } from "@byterail/commissioning";
import { assemble, type NumberPoint, type Scale } from "byterail";
import { expect, test } from "vitest";

function bandAt(
  percent: number,
  scale: Scale,
  options: { channel?: number; worstCase?: true; type?: NumberPoint["type"] } = {},
) {
  const { channel, worstCase, type = "uint16" } = options;
  const layout = assemble({
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [
      {
        name: "ai",
        ...(channel !== undefined && { accuracy: { percentOfSpan: channel } }),
        inputs: [{ name: "pressure", type, scale }],
      },
    ],
  });
  const combination = worstCase ? "worstCase" : "rootSumOfSquares";
  return sheet(layout, { combination }).loops[0]!.rows.find((row) => row.percent === percent)!.band;
}

const span = { counts: [0, 2500], value: [0, 100], unit: "%" } as const;

// JCGM 100:2008, eq. 10: root sum of squares; the rounding of 0 to 2500 counts is ±0.02 % of span.
test.each([
  { name: "root sum of squares", options: {}, width: Math.sqrt(0.25 ** 2 + 0.1 ** 2 + 0.02 ** 2) },
  { name: "worst case", options: { worstCase: true as const }, width: 0.25 + 0.1 + 0.02 },
])("errors of instrument, channel and rounding combine: $name", ({ options, width }) => {
  const { halfWidth, parts } = bandAt(50, { ...span, accuracy: { percentOfSpan: 0.25 } }, { channel: 0.1, ...options });
  expect(parts.map(({ of, limit }) => [of, Number(limit.toPrecision(12))])).toEqual([
    ["instrument", 0.25],
    ["channel", 0.1],
    ["rounding", 0.02],
  ]);
  expect(halfWidth).toBeCloseTo(width, 12);
});

// 4.3.7: a rectangular error ±a has the standard uncertainty a/√3; the band is √3 of the combined one.
test("the standard uncertainty is that of rectangular errors, and the band its √3-fold", () => {
  const { halfWidth, standardUncertainty } = bandAt(
    0,
    { ...span, accuracy: { percentOfSpan: 0.25 } },
    { channel: 0.1 },
  );
  expect(standardUncertainty).toBeCloseTo(Math.sqrt((0.25 ** 2 + 0.1 ** 2 + 0.02 ** 2) / 3), 12);
  expect(halfWidth / standardUncertainty).toBeCloseTo(Math.sqrt(3), 12);
});

test("an absolute error is in engineering units", () => {
  const scale: Scale = { counts: [0, 1000], value: [0, 10], unit: "bar", accuracy: { absolute: 0.02 } };
  expect(bandAt(50, scale).halfWidth).toBeCloseTo(Math.hypot(0.02, 0.005), 12);
});

test("a reversed span has the same band as the straight one", () => {
  const straight = bandAt(
    25,
    { counts: [0, 1000], value: [0, 10], accuracy: { percentOfSpan: 0.5 } },
    { channel: 0.2 },
  );
  const reversed = bandAt(
    25,
    { counts: [0, 1000], value: [10, 0], accuracy: { percentOfSpan: 0.5 } },
    { channel: 0.2 },
  );
  expect(reversed.halfWidth).toBeCloseTo(straight.halfWidth, 12);
});

test("a real is not rounded to counts", () => {
  const { parts } = bandAt(50, { counts: [0, 1], value: [0, 10], accuracy: { absolute: 0.1 } }, { type: "float32" });
  expect(parts).toEqual([{ of: "instrument", limit: 0.1 }]);
});

// flow = √(differential pressure): the slope at 25 % of the signal is 1, at 0 there is none. An error of 0.1 % of the
// signal is 0.1 % of flow there, and at the zero √0.001 of the span.
test("behind a square root the error of the channel weighs by the slope, and most at the zero", () => {
  const scale: Scale = { counts: [0, 60000], value: [0, 100], shape: "squareRoot" };
  const channelAt = (percent: number) =>
    bandAt(percent, scale, { channel: 0.1 }).parts.find(({ of }) => of === "channel")!.limit;
  expect(channelAt(25)).toBeCloseTo(0.1, 3);
  expect(channelAt(100)).toBeCloseTo(0.05, 3);
  expect(channelAt(0)).toBeCloseTo(100 * Math.sqrt(0.001), 9);
});

// The four errors of the usual worked example: 0.10, 0.05, 0.25, 0.02 % → 0.274591 % and 0.42 %. Instrument and module
// give two of them here, so two of the sheet's bands combine to it.
test("bands combine to the published root sum of squares", () => {
  const first = bandAt(50, { ...span, accuracy: { percentOfSpan: 0.25 } }, { channel: 0.1 }).halfWidth;
  expect(Math.hypot(first, 0.05)).toBeCloseTo(0.274591, 6);
  expect(
    bandAt(50, { ...span, accuracy: { percentOfSpan: 0.25 } }, { channel: 0.1, worstCase: true }).halfWidth + 0.05,
  ).toBeCloseTo(0.42, 12);
});

test("an absolute error of a channel is in value units behind a root, too", () => {
  const root: Scale = { counts: [0, 60000], value: [0, 100], shape: "squareRoot" };
  const layout = (absolute: number) =>
    assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "ai", accuracy: { absolute }, inputs: [{ name: "flow", type: "uint16", scale: root }] }],
    });
  const limits = sheet(layout(0.3)).loops[0]!.rows.map(({ band }) => band.parts[0]);
  expect(limits).toEqual(limits.map(() => ({ of: "channel", limit: 0.3 })));
});

// Half a count of 100: at the lower end of a root √0.005 of the span.
test("rounding weighs through a root as the channel does", () => {
  const [part] = bandAt(0, { counts: [0, 100], value: [0, 10], shape: "squareRoot" }).parts;
  expect(part).toEqual({ of: "rounding", limit: expect.closeTo(10 * Math.sqrt(0.005), 9) });
});

test("percent are of the span, wherever it begins: 2 to 10 bar on 4000 to 20000 counts", () => {
  const scale: Scale = { counts: [4000, 20000], value: [2, 10], unit: "bar", accuracy: { percentOfSpan: 1 } };
  expect(bandAt(50, scale, { channel: 0.5 }).parts).toEqual([
    { of: "instrument", limit: expect.closeTo(0.08, 12) },
    { of: "channel", limit: expect.closeTo(0.04, 12) },
    { of: "rounding", limit: expect.closeTo(0.00025, 12) },
  ]);
  const root: Scale = { counts: [4000, 20000], value: [0, 100], shape: "squareRoot" };
  expect(bandAt(0, root, { channel: 0.1 }).parts[0]!.limit).toBeCloseTo(100 * Math.sqrt(0.001), 9);
});
