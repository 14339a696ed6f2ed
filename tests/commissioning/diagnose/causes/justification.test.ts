import type { Entry, NumberField, NumberPoint, Scale, Span, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { justification } from "../../../../packages/commissioning/src/diagnose/causes/justification.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, said, told } from "../trial.js";

const stationOf = (entry: Entry, module: object = {}): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [{ name: "ai", ...module, inputs: [entry] }],
});

const wordOf = (word: number, ...fields: NumberField[]): Entry => ({ word, fields });

// All bits are 0, and 7 is wrong.
function zeros(entry: Entry, module?: object) {
  const bytes = "word" in entry ? entry.word / 8 : Number(/\d+/.exec((entry as NumberPoint).type)) / 8;
  return baseFor(stationOf(entry, module), [{ inputs: "00 ".repeat(bytes), known: { n: 7 } }]);
}

const percent = (counts: Span): Scale => ({ counts, value: [0, 100], unit: "%" });

const toTheLeft = (n: string) => `The counts of n are justified to the left by ${n}, not to the right.`;
const furtherRight = (n: string) => `The counts of n stand further right by ${n} than described.`;

describe("a scaled number: its counts stand further left or right, and its scale with them", () => {
  // 4095 · 2^n, and 4095 / 2^n without the bits that fall off at the right. Of 16 bits at least 8 remain.
  const rows: readonly (readonly [bits: string, left: number, right: number, leftFits: boolean])[] = [
    ["1 bit", 8190, 2047, true],
    ["2 bits", 16_380, 1023, true],
    ["3 bits", 32_760, 511, true],
    ["4 bits", 65_520, 255, true],
    ["5 bits", 131_040, 127, false],
    ["6 bits", 262_080, 63, false],
    ["7 bits", 524_160, 31, false],
    ["8 bits", 1_048_320, 15, false],
  ];
  const expected = rows.flatMap(([bits, left, right, leftFits]) => [
    { says: toTheLeft(bits), upper: left, stands: leftFits },
    { says: furtherRight(bits), upper: right, stands: true },
  ]);

  test.each<[string, Entry, string]>([
    ["12 bits of a converter in a 16-bit word", { name: "n", type: "uint16", scale: percent([0, 4095]) }, ""],
    ["in a field of 16 bits", wordOf(16, { name: "n", bits: 16, shift: 0, scale: percent([0, 4095]) }), "/fields/0"],
  ])("%s", (_, entry, place) => {
    const base = zeros(entry);
    const found = [...justification(base)];
    expect(found.map((each) => ({ ...told(each), stands: each.stands!(), change: changeOf(base, each) }))).toEqual(
      expected.map(({ says, upper, stands }) => ({
        cause: "justification",
        at: "inputs ai n",
        says,
        assumes: 3,
        stands,
        change: [{ op: "replace", path: `/modules/0/inputs/0${place}/scale/counts`, value: [0, upper] }],
      })),
    );
    expectQuickIsFull(justification, base);
  });

  test.each<[string, Span, string, Span]>([
    ["65535 taken back by 4 bits is 4095", [0, 65_535], furtherRight("4 bits"), [0, 4095]],
    ["a live zero is shifted, too", [800, 4000], toTheLeft("2 bits"), [3200, 16_000]],
    ["and taken back", [3200, 16_000], furtherRight("2 bits"), [800, 4000]],
    ["below zero, as shifting the bits does, downward", [-27, 27], furtherRight("1 bit"), [-14, 13]],
  ])("%s", (_, counts, says, then) => {
    const base = zeros({ name: "n", type: "int32", scale: percent(counts) });
    const change = [{ op: "replace", path: "/modules/0/inputs/0/scale/counts", value: then }];
    expect([...justification(base)].filter((each) => each.says === says).map((each) => changeOf(base, each))).toEqual([
      change,
    ]);
  });

  test("the points of a curve are shifted, and the counts of its signal with them", () => {
    const low: Scale = {
      points: [
        [0, 0],
        [2048, 30],
        [4095, 100],
      ],
      counts: [0, 4095],
      signal: [4, 20],
      signalUnit: "mA",
    };
    const high: Scale = {
      ...low,
      points: [
        [0, 0],
        [32_768, 30],
        [65_520, 100],
      ],
      counts: [0, 65_520],
    };
    const scaled = (scale: Scale, says: string) => {
      const found = [...justification(zeros({ name: "n", type: "uint16", scale }))].find((each) => each.says === says)!;
      expect(found.stands!()).toBe(true);
      return (found.station!().modules[0]!.inputs![0] as NumberPoint).scale;
    };
    expect(scaled(low, toTheLeft("4 bits"))).toEqual(high);
    expect(scaled(high, furtherRight("4 bits"))).toEqual(low);
  });

  test("a curve without a signal has none afterwards", () => {
    const points: Scale["points"] = [
      [0, 0],
      [100, 10],
    ];
    const base = zeros({ name: "n", type: "uint16", scale: { points, unit: "bar" } });
    const [left, right] = justification(base);
    expect(left!.station!().modules[0]!.inputs).toEqual([
      {
        name: "n",
        type: "uint16",
        scale: {
          points: [
            [0, 0],
            [200, 10],
          ],
          unit: "bar",
        },
      },
    ]);
    expect(right!.station!().modules[0]!.inputs).toEqual([
      {
        name: "n",
        type: "uint16",
        scale: {
          points: [
            [0, 0],
            [50, 10],
          ],
          unit: "bar",
        },
      },
    ]);
  });

  // 50.0 % of 4095 counts are 2047.5: 2048 = 0800h, to the left 8000h. In percent a count is 0.024.
  test.each<[string, string, string, Span]>([
    ["left-justified, described as right-justified", "80 00", toTheLeft("4 bits"), [0, 4095]],
    ["right-justified, described as left-justified", "08 00", furtherRight("4 bits"), [0, 65_520]],
  ])("%s: one shift alone makes the truth right", (_, inputs, says, counts) => {
    const base = baseFor(stationOf({ name: "n", type: "uint16", scale: percent(counts) }), [
      { inputs, known: { n: { value: 50, within: 0.02 } } },
    ]);
    const right = [...justification(base)].filter(({ effect }) => judge(base, effect));
    expect(right.map((each) => each.says)).toEqual([says]);
    // Fact 0 is the length of the frame.
    expect(judge(base, right[0]!.effect)).toEqual({ fixes: [1], breaks: [] });
    expectQuickIsFull(justification, base);
  });
});

describe("how far: at least 8 bits of counts remain, of up to 32", () => {
  const scale = percent([0, 64]);
  test.each<[string, Entry, number]>([
    ["8 bits: not at all", { name: "n", type: "uint8", scale }, 0],
    ["a field of 9 bits: by 1", wordOf(16, { name: "n", bits: 9, shift: 0, scale }), 1],
    ["24 bits: by 1 to 16", { name: "n", type: "int24", scale }, 16],
    ["32 bits: by 1 to 24", { name: "n", type: "int32", scale }, 24],
    ["a code of another kind is shifted as well", { name: "n", type: "int16", code: "offsetBinary", scale }, 8],
    ["a real has no bits of counts", { name: "n", type: "float32", scale }, 0],
    ["an unscaled real has none either", { name: "n", type: "float32" }, 0],
    ["64 bits: not at all", { name: "n", type: "uint64" }, 0],
    ["a field of 33 bits: not at all", wordOf(64, { name: "n", bits: 33, shift: 1 }), 0],
  ])("%s", (_, entry, most) => {
    const shifts = Array.from({ length: most }, (_, k) => (k === 0 ? "1 bit" : `${k + 1} bits`));
    expect(said(justification, zeros(entry))).toEqual(shifts.flatMap((n) => [toTheLeft(n), furtherRight(n)]));
  });

  test("nothing is said of numbers that are right, nor of bits", () => {
    const station: Station = {
      ...stationOf({ name: "n", type: "uint16" }),
      modules: [
        { name: "mix", inputs: [{ name: "n", type: "uint16" }, { name: "door", type: "bit" }, { spareBits: 7 }] },
      ],
    };
    expect(said(justification, baseFor(station, [{ inputs: "00 07 00", known: { n: 7, door: true } }]))).toEqual([]);
  });
});

describe("a number without a scale: its counts are a field at the top of a word", () => {
  test("of 16 bits, 15 to 8 of them, as a change of the description", () => {
    const base = zeros({ name: "n", title: "kept", type: "uint16" });
    const found = [...justification(base)];
    expect(found.map(told)).toEqual(
      ["1 bit", "2 bits", "3 bits", "4 bits", "5 bits", "6 bits", "7 bits", "8 bits"].map((n) => ({
        cause: "justification",
        at: "inputs ai n",
        says: toTheLeft(n),
        assumes: 3,
      })),
    );
    expect(found.map((each) => each.station!().modules[0]!.inputs)).toEqual(
      [1, 2, 3, 4, 5, 6, 7, 8].map((n) => [
        { word: 16, byteOrder: "big", fields: [{ name: "n", title: "kept", bits: 16 - n, shift: n }] },
      ]),
    );
    expect(found.map(({ stands }) => stands!())).toEqual(Array(8).fill(true));
    expect(changeOf(base, found[3]!)).toEqual([
      { op: "remove", path: "/modules/0/inputs/0/name" },
      { op: "remove", path: "/modules/0/inputs/0/title" },
      { op: "remove", path: "/modules/0/inputs/0/type" },
      { op: "add", path: "/modules/0/inputs/0/word", value: 16 },
      { op: "add", path: "/modules/0/inputs/0/byteOrder", value: "big" },
      { op: "add", path: "/modules/0/inputs/0/fields", value: [{ name: "n", title: "kept", bits: 12, shift: 4 }] },
    ]);
  });

  test("is read as the changed description would be placed", () => {
    const base = zeros({ name: "n", type: "uint16", byteOrder: "little" });
    const byFour = [...justification(base)][3]!;
    const field: NumberField = { name: "n", bits: 12, shift: 4 };
    const [placed] = baseFor(stationOf({ word: 16, byteOrder: "little", fields: [field] }), [
      { inputs: "00 00", known: {} },
    ]).layout.inputs.points;
    expect(byFour.effect).toEqual({ points: new Map([["inputs n", placed]]) });
  });

  // The orders in effect are written down at the word; a word order only where there are two words.
  test.each<[string, NumberPoint, object, object]>([
    ["a signed one", { name: "n", type: "int16" }, {}, { word: 16, byteOrder: "big", signed: true }],
    [
      "in an order of its own",
      { name: "n", type: "uint16", byteOrder: "little" },
      {},
      { word: 16, byteOrder: "little" },
    ],
    [
      "in the order of its module",
      { name: "n", type: "uint16" },
      { byteOrder: "little" },
      { word: 16, byteOrder: "little" },
    ],
    ["of 24 bits", { name: "n", type: "int24" }, {}, { word: 24, byteOrder: "big", signed: true }],
    ["of two words", { name: "n", type: "uint32" }, {}, { word: 32, byteOrder: "big", wordOrder: "highFirst" }],
    [
      "of two words in an order of their own",
      { name: "n", type: "int32", byteOrder: "big", wordOrder: "lowFirst" },
      { byteOrder: "little" },
      { word: 32, byteOrder: "big", wordOrder: "lowFirst", signed: true },
    ],
  ])("%s", (_, entry, module, expected) => {
    const { signed, ...word } = expected as { word: number; signed?: true };
    const base = zeros(entry, module);
    expect([...justification(base)].map((each) => each.station!().modules[0]!.inputs)).toEqual(
      Array.from({ length: word.word - 8 }, (_, k) => [
        { ...word, fields: [{ name: "n", bits: word.word - k - 1, shift: k + 1, ...(signed && { signed }) }] },
      ]),
    );
    expectQuickIsFull(justification, base);
  });

  test.each<[string, NumberPoint]>([
    ["8 bits leave none to shift", { name: "n", type: "uint8" }],
    ["offset binary is no field", { name: "n", type: "int16", code: "offsetBinary" }],
    ["sign and magnitude are no field", { name: "n", type: "int16", code: "signMagnitude" }],
    ["BCD is no field", { name: "n", type: "uint16", code: "bcd" }],
  ])("nothing is said where %s", (_, entry) => {
    expect(said(justification, zeros(entry))).toEqual([]);
  });

  // 123h to the left by 4 bits is 1230h; −3 in 12 bits is FFDh, to the left FFD0h.
  test.each<[string, NumberPoint["type"], number]>([
    ["12 30", "uint16", 0x123],
    ["FF D0", "int16", -3],
    ["FF D0", "uint16", 0xffd],
  ])("%s, read as %s, is %d to the left by 4 bits", (inputs, type, known) => {
    const base = baseFor(stationOf({ name: "n", type }), [{ inputs, known: { n: known } }]);
    const right = [...justification(base)].filter(({ effect }) => judge(base, effect));
    expect(right.map(({ says }) => says)).toEqual([toTheLeft("4 bits")]);
    expect(judge(base, right[0]!.effect)).toEqual({ fixes: [1], breaks: [] });
    expectQuickIsFull(justification, base);
  });

  test("special counts must fit the bits that remain, or the field cannot stand", () => {
    const specialCounts = [{ counts: 4095, health: "invalid" }] as const;
    const base = zeros({ name: "n", type: "uint16", specialCounts });
    // 4095 takes 12 bits: by up to 4 they remain.
    const four = [true, true, true, true, false, false, false, false];
    expect([...justification(base)].map(({ stands }) => stands!())).toEqual(four);
  });
});

describe("a field without a scale stands elsewhere in its word", () => {
  const right = (n: string) => `n stands ${n} further right in its word.`;
  const left = (n: string) => `n stands ${n} further left in its word.`;
  test.each<[string, Entry, readonly (readonly [string, number])[]]>([
    [
      "in the middle, as far as there is room, right before left",
      wordOf(16, { name: "n", bits: 12, shift: 2 }),
      [
        [right("1 bit"), 1],
        [left("1 bit"), 3],
        [right("2 bits"), 0],
        [left("2 bits"), 4],
      ],
    ],
    [
      "at the bottom: to the left alone, by as many bits as leave 8",
      wordOf(24, { name: "n", bits: 11, shift: 0, signed: true }),
      [
        [left("1 bit"), 1],
        [left("2 bits"), 2],
        [left("3 bits"), 3],
      ],
    ],
    [
      "at the top: to the right alone, whatever its code",
      wordOf(16, { name: "n", bits: 10, shift: 6, code: "bcd" }),
      [
        [right("1 bit"), 5],
        [right("2 bits"), 4],
      ],
    ],
    ["of 8 bits: not at all", wordOf(16, { name: "n", bits: 8, shift: 4 }), []],
    ["that fills its word: not at all", wordOf(16, { name: "n", bits: 16, shift: 0 }), []],
  ])("%s", (_, entry, rows) => {
    const base = zeros(entry);
    const found = [...justification(base)];
    expect(found.map((each) => ({ ...told(each), change: changeOf(base, each) }))).toEqual(
      rows.map(([says, shift]) => ({
        cause: "justification",
        at: "inputs ai n",
        says,
        assumes: 3,
        change: [{ op: "replace", path: "/modules/0/inputs/0/fields/0/shift", value: shift }],
      })),
    );
    // As it would be placed: the field, and the lowest bit that is read.
    expect(
      found.map(({ effect }) => {
        const { shift, low, bits } = effect.points!.get("inputs n")!;
        return { shift, low, bits };
      }),
    ).toEqual(rows.map(([, shift]) => ({ shift, low: shift, bits: base.points.get("inputs n")!.bits })));
    expectQuickIsFull(justification, base);
  });

  test("but not on the bits of another", () => {
    const base = zeros(wordOf(16, { name: "n", bits: 10, shift: 2 }, { name: "pumps", bits: 3, shift: 13 }));
    expect([...justification(base)].map(({ says, stands }) => [says, stands!()])).toEqual([
      [right("1 bit"), true],
      [left("1 bit"), true],
      [right("2 bits"), true],
      [left("2 bits"), false],
    ]);
  });

  test("12 bits described at the bottom that stand at the top are read there", () => {
    const station = stationOf(wordOf(16, { name: "n", bits: 12, shift: 0 }));
    // 6B6h = 1718.
    const base = baseFor(station, [{ inputs: "6B 60", known: { n: 1718 } }]);
    const fixing = [...justification(base)].filter(({ effect }) => judge(base, effect));
    expect(fixing.map(({ says }) => says)).toEqual([left("4 bits")]);
    expectQuickIsFull(justification, base);
  });
});
