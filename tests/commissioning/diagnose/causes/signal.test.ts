import type { Entry, NumberPoint, Scale, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { failureLevel, stuck } from "../../../../packages/commissioning/src/diagnose/causes/signal.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import type { Known } from "../../../../packages/commissioning/src/diagnose/observation.js";
import { baseFor, changeOf, expectQuickIsFull, said, told } from "../trial.js";

const stationOf = (...inputs: Entry[]): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [{ name: "ai", inputs }],
});

// Frames in which one point is known.
const baseOfFrames = (entry: Entry, ...frames: readonly (readonly [bytes: string, known: Known])[]) =>
  baseFor(
    stationOf(entry),
    frames.map(([inputs, n]) => ({ inputs, known: { n } })),
  );

const plain: NumberPoint = { name: "n", type: "uint16" };
const mA: Scale = { counts: [4000, 20_000], signal: [4, 20], signalUnit: "mA", value: [0, 16] };
const current: NumberPoint = { name: "n", type: "uint16", scale: mA };
const ten: Scale = { counts: [0, 1000], value: [0, 10] };
const flag: Entry = { word: 8, fields: [{ name: "n", bit: 7 }] };

const isStuck = (frames: number) =>
  `n is stuck: it reads the same in all ${frames} frames in which it is known, while the truth changed. Look at the sensor, its wiring and its channel.`;
const fails = (levels: string) =>
  `The signal of n is at a failure level (${levels}). Look at the wire, its supply and the instrument.`;

describe("stuck: equal counts in all frames in which a point is known, while the truth changed", () => {
  test("is a finding that accounts for every fact of the point, and no change of the description", () => {
    const base = baseFor(stationOf(plain, { name: "other", type: "uint16" }), [
      { inputs: "00 07 00 01", known: { n: 7, other: 2 } },
      { inputs: "00 07 00 02", known: { other: 2 } },
      { inputs: "00 07 00 02", known: { n: 8 } },
      { inputs: "00 07 00 02", known: { n: 9 } },
    ]);
    const [finding, ...more] = stuck(base);
    expect(more).toEqual([]);
    expect(told(finding!)).toEqual({ cause: "stuck", at: "inputs ai n", says: isStuck(3), assumes: 5 });
    expect(changeOf(base, finding!)).toBe(null);
    expect(finding!.effect).toEqual({ excused: "inputs n" });
    // A frame has its length as a fact and then what is known: n is fact 1, 6 and 8, and right in the first.
    expect(judge(base, finding!.effect)).toEqual({ fixes: [6, 8], breaks: [] });
    expectQuickIsFull(stuck, base);
  });

  test.each<[string, Entry, readonly (readonly [string, Known])[]]>([
    [
      "a number, though the first reading was right",
      plain,
      [
        ["00 07", 7],
        ["00 07", 8],
      ],
    ],
    [
      "a bit",
      flag,
      [
        ["80", true],
        ["80", false],
      ],
    ],
    [
      "a bit, though the first reading was wrong",
      flag,
      [
        ["80", false],
        ["80", true],
      ],
    ],
    [
      "what is known to differ by more than it is uncertain",
      plain,
      [
        ["00 07", { value: 50, within: 4.9 }],
        ["00 07", { value: 60, within: 5 }],
      ],
    ],
    [
      "what fell",
      plain,
      [
        ["00 07", { value: 60, within: 5 }],
        ["00 07", { value: 50, within: 4.9 }],
      ],
    ],
    [
      "a signal below what is measured",
      current,
      [
        ["0E 74", 3],
        ["0E 74", 4],
      ],
    ],
    [
      "a signal at the end of its counts",
      { ...plain, scale: ten },
      [
        ["FF FF", 1],
        ["FF FF", 2],
      ],
    ],
    [
      "64 bits",
      { name: "n", type: "uint64" },
      [
        ["00 00 00 00 00 00 00 07", "7"],
        ["00 00 00 00 00 00 00 07", "8"],
      ],
    ],
  ])("it is: %s", (_, entry, frames) => {
    expect(said(stuck, baseOfFrames(entry, ...frames))).toEqual([isStuck(frames.length)]);
  });

  // 3.6 mA and less, 21 mA and more report a failure: NAMUR NE 43.
  test.each<[string, Entry, readonly (readonly [string, Known])[]]>([
    ["one frame shows nothing", plain, [["00 07", 8]]],
    [
      "the counts changed, though not with the truth",
      plain,
      [
        ["00 07", 9],
        ["00 08", 10],
      ],
    ],
    [
      "the counts changed and came back",
      plain,
      [
        ["00 07", 9],
        ["00 08", 10],
        ["00 07", 11],
      ],
    ],
    [
      "the truth stood still",
      plain,
      [
        ["00 07", 8],
        ["00 07", 8],
      ],
    ],
    [
      "the truth of a bit stood still",
      flag,
      [
        ["80", false],
        ["80", false],
      ],
    ],
    [
      "one truth would do: 55",
      plain,
      [
        ["00 07", { value: 50, within: 5 }],
        ["00 07", { value: 60, within: 5 }],
      ],
    ],
    [
      "one truth would do: 59",
      plain,
      [
        ["00 07", { value: 60, within: 1 }],
        ["00 07", { value: 50, within: 9 }],
        ["00 07", { value: 59.5, within: 0.5 }],
      ],
    ],
    [
      "the frame ends before it",
      plain,
      [
        ["00", 8],
        ["00", 9],
      ],
    ],
    [
      "a frame ends before it",
      plain,
      [
        ["00 07", 8],
        ["00", 9],
      ],
    ],
    [
      "it reports a failure at 3.6 mA",
      current,
      [
        ["0E 10", 3],
        ["0E 10", 4],
      ],
    ],
    [
      "it reports a failure at 21 mA",
      current,
      [
        ["52 08", 3],
        ["52 08", 4],
      ],
    ],
    [
      "all is right",
      plain,
      [
        ["00 07", 7],
        ["00 07", 7],
      ],
    ],
  ])("it is not said where %s", (_, entry, frames) => {
    expect(said(stuck, baseOfFrames(entry, ...frames))).toEqual([]);
  });
});

describe("a failure level: counts that are a report and no measurement, where a fact is wrong", () => {
  test("is a finding that accounts for every fact of the point, and no change of the description", () => {
    // 3500 counts = 0DACh are 3.5 mA, 8000 = 1F40h are 8 mA = 4.
    const base = baseOfFrames(current, ["0D AC", 3], ["1F 40", 4], ["0D AC", 5]);
    const [finding, ...more] = failureLevel(base);
    expect(more).toEqual([]);
    expect(told(finding!)).toEqual({
      cause: "failureLevel",
      at: "inputs ai n",
      says: fails("failedLow"),
      assumes: 3.5,
    });
    expect(changeOf(base, finding!)).toBe(null);
    expect(finding!.effect).toEqual({ excused: "inputs n" });
    expect(judge(base, finding!.effect)).toEqual({ fixes: [1, 5], breaks: [] });
    expectQuickIsFull(failureLevel, base);
  });

  const special = (
    counts: number,
    health: "ok" | "invalid" | "belowMeasuring" | "aboveMeasuring" | "failedLow" | "failedHigh",
  ) => ({
    specialCounts: [{ counts, health }],
  });
  const field = (keys: object): Entry => ({ word: 16, fields: [{ name: "n", bits: 12, shift: 0, ...keys }] });
  const end = "end of its counts";

  // NAMUR NE 43 on 1000 counts a milliampere: 3600 = 0E10h, 3800 = 0ED8h, 20500 = 5014h, 21000 = 5208h.
  test.each<[string, string, Entry, string | null]>([
    ["3.6 mA", "0E 10", current, "failedLow"],
    ["3.601 mA", "0E 11", current, null],
    ["20.999 mA", "52 07", current, null],
    ["21 mA", "52 08", current, "failedHigh"],
    ["0 mA, below every report", "00 00", current, "failedLow"],
    [
      "special counts for a broken wire",
      "03 E8",
      { ...plain, scale: ten, ...special(1000, "failedHigh") },
      "failedHigh",
    ],
    ["special counts without a scale", "03 E8", { ...plain, ...special(1000, "failedLow") }, "failedLow"],
    ["special counts that are invalid", "03 E8", { ...plain, ...special(1000, "invalid") }, "invalid"],
    ["special counts that still measure", "03 E8", { ...plain, ...special(1000, "aboveMeasuring") }, null],
    ["special counts below what is measured", "03 E8", { ...plain, ...special(1000, "belowMeasuring") }, null],
    ["special counts that are fine", "03 E8", { ...plain, ...special(1000, "ok") }, null],
    ["other counts than the special ones", "03 E9", { ...plain, ...special(1000, "invalid") }, null],
    ["the most of 16 bits", "FF FF", { ...plain, scale: ten }, end],
    ["one count less", "FF FE", { ...plain, scale: ten }, null],
    ["the most, beside special counts", "FF FF", { ...plain, ...special(1000, "invalid") }, end],
    ["the most of signed 16 bits", "7F FF", { name: "n", type: "int16", scale: ten }, end],
    ["the least of signed 16 bits", "80 00", { name: "n", type: "int16", scale: ten }, end],
    ["one count above the least", "80 01", { name: "n", type: "int16", scale: ten }, null],
    ["the most of a field of 12 bits", "0F FF", field({ scale: ten }), end],
    ["the least of a signed field of 12 bits", "08 00", field({ scale: ten, signed: true }), end],
    ["the most of 4 digits of BCD", "99 99", { name: "n", type: "uint16", code: "bcd", scale: ten }, end],
    ["what is no digit of BCD", "9A 99", { name: "n", type: "uint16", code: "bcd", scale: ten }, "invalid"],
    ["zero, a plain reading", "00 00", { ...plain, scale: ten }, null],
    [
      "zero of 64 bits, a plain reading, too",
      "00 ".repeat(8),
      { name: "n", type: "uint64", ...special(5, "invalid") },
      null,
    ],
    ["the most of 64 bits", "FF ".repeat(8), { name: "n", type: "uint64", ...special(5, "invalid") }, end],
    ["a real that is no number", "7F C0 00 00", { name: "n", type: "float32", scale: ten }, "invalid"],
    ["the largest real there is", "7F 7F FF FF", { name: "n", type: "float32", scale: ten }, null],
    ["the most of a number that says nothing of its counts", "FF FF", plain, null],
    ["a bit", "80", flag, null],
    ["a frame that ends before it", "FF", current, null],
  ])("%s", (_, inputs, entry, level) => {
    // No level is at 7, and no bit but that of the flag, which is known to be off.
    const known = entry === flag ? false : 7;
    expect(said(failureLevel, baseOfFrames(entry, [inputs, known]))).toEqual(level === null ? [] : [fails(level)]);
  });

  test("each level is named once, in the order of the frames", () => {
    const low = ["0E 10", 7] as const;
    const high = ["52 08", 7] as const;
    expect(said(failureLevel, baseOfFrames(current, high, low, high))).toEqual([fails("failedHigh, failedLow")]);
  });

  test("a wrong reading that is none rules it out, a right one does not", () => {
    const low = ["0E 10", 7] as const;
    // 8000 counts are 8 mA, which is 4.
    expect(said(failureLevel, baseOfFrames(current, low, ["1F 40", 4]))).toEqual([fails("failedLow")]);
    expect(said(failureLevel, baseOfFrames(current, low, ["1F 40", 5]))).toEqual([]);
  });
});
