// Frames of four bytes: kegs in the first two, litres in the last two. 012Ch = 300, 0258h = 600; read the other way round
// 2C01h = 11265 and 5802h = 22530; with the bits of every byte turned round 8034h = 32820 and 401Ah = 16410.

import { diagnose, type Observation } from "@byterail/commissioning";
import type { Entry, Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import {
  everywhere,
  type FrameEdit,
  type Hypothesis,
} from "../../../../packages/commissioning/src/diagnose/hypothesis.js";
import { after } from "../../../../packages/commissioning/src/diagnose/search.js";
import { type NextObservation, nextObservation } from "../../../../packages/commissioning/src/diagnose/separate.js";
import { baseFor } from "../trial.js";

const rig = (inputs: readonly Entry[], outputs: readonly Entry[] = []): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [{ name: "rig", inputs, outputs }],
});

const kegs = { name: "kegs", type: "uint16" } as const;
const litres = { name: "litres", type: "uint16" } as const;
const little = { byteOrder: "little" } as const;
const given = rig([kegs, litres]);

// An answer: what is changed in the description, what is done to the frames, or whose signal is at fault; several in turn.
type Change = Station | FrameEdit["does"] | FrameEdit | { readonly excused: "inputs kegs" | "inputs litres" };
type Answer = readonly Change[];

const asGiven: Answer = [];
const kegsLittle: Answer = [rig([{ ...kegs, ...little }, litres])];
const litresLittle: Answer = [rig([kegs, { ...litres, ...little }])];
const bothLittle: Answer = [
  rig([
    { ...kegs, ...little },
    { ...litres, ...little },
  ]),
];
const turned: Answer = ["reverseBits"];

function partOf(change: Change): Hypothesis {
  const part = { cause: "byteOrder", where: everywhere, says: "", assumes: 1, station: null } as const;
  if (typeof change === "string") return partOf({ direction: "inputs", does: change, bytes: 0 });
  if ("modules" in change) return { ...part, effect: {}, station: () => change };
  return { ...part, effect: "does" in change ? { frame: change } : change };
}

function next(station: Station, observations: readonly Observation[], ...answers: readonly Answer[]): NextObservation {
  const base = baseFor(station, observations);
  const leading = answers.map((answer, k) => {
    const parts = answer.map(partOf);
    return { answer: k + 1, parts, base: parts.reduce<Base>((then, part) => after(then, part)!, base) };
  });
  return nextObservation(base, leading);
}

const frame = "01 2C 02 58";
const unknown = (inputs = frame): Observation => ({ inputs, known: {} });

describe("a point to find out about, in a frame that is there", () => {
  test("is one that answers read differently: which value speaks for which answer", () => {
    expect(next(given, [{ inputs: frame, known: { kegs: 300 } }], asGiven, litresLittle, asGiven)).toEqual({
      observation: 0,
      direction: "inputs",
      point: "litres",
      expected: [
        { answers: [1, 3], value: 600 },
        { answers: [2], value: 22530 },
      ],
      says: "Find out what litres was in observation 1: 600 speaks for answers 1, 3; 22530 speaks for answer 2.",
    });
  });

  test.each<[string, Station, Answer, string]>([
    ["a bit", rig([{ name: "door", type: "bit" }]), ["reverseBits"], "true speaks for answer 1; false"],
    [
      "a value in its unit, to six digits",
      rig([{ ...kegs, scale: { counts: [0, 900], value: [0, 10], unit: "bar" } }, litres]),
      ["exchangeRegisterBytes"],
      // 301 and 11521 counts: 3.3444… and 128.0111… bar
      "3.34444 bar speaks for answer 1; 128.011 bar",
    ],
    [
      "counts in their unit",
      rig([{ ...kegs, unit: "pcs" }]),
      ["exchangeRegisterBytes"],
      "301 pcs speaks for answer 1; 11521 pcs",
    ],
    [
      "a whole number of seven digits, to the last",
      rig([{ name: "total", type: "uint32" }]),
      [rig([{ name: "total", type: "uint32", wordOrder: "lowFirst" }])],
      // 012D 0258h and 0258 012Dh
      "19726936 speaks for answer 1; 39321901",
    ],
    [
      "a 64-bit number, as text",
      rig([{ name: "total", type: "uint64" }]),
      [rig([{ name: "total", type: "int64" }])],
      "18446744073709551615 speaks for answer 1; -1",
    ],
  ])("%s", (_, station, other, says) => {
    const wide = JSON.stringify(station).includes("64");
    const { says: told } = next(station, [unknown(wide ? "FF FF FF FF FF FF FF FF" : "01 2D 02 58")], asGiven, other);
    expect(told).toContain(`in observation 1: ${says} speaks for answer 2.`);
  });

  test("the value expected is exact", () => {
    const scaled = rig([{ ...kegs, scale: { counts: [0, 900], value: [0, 10], unit: "bar" } }]);
    const { expected } = next(scaled, [unknown("01 2C")], asGiven, ["exchangeRegisterBytes"]);
    expect(expected[0]!.value).toBeCloseTo(10 / 3, 12);
  });

  test.each<[string, Answer, string]>([
    ["a signal at fault reads anything", [{ excused: "inputs litres" }], frame],
    ["a point that is not in the image", [rig([kegs])], frame],
    ["a point behind the end of the frame", [rig([kegs, { spare: 2 }, litres])], frame],
  ])("what cannot be foretold: %s", (_, answer, inputs) => {
    const { point, expected, says } = next(given, [{ inputs, known: { kegs: 300 } }], asGiven, answer);
    expect([point, expected]).toEqual([
      "litres",
      [
        { answers: [1], value: 600 },
        { answers: [2], value: null },
      ],
    ]);
    expect(says).toBe(
      "Find out what litres was in observation 1: 600 speaks for answer 1; anything else speaks for answer 2.",
    );
  });

  test("answers of which nothing can be foretold share what is left, and answers that read alike their value", () => {
    const gone: Answer = [rig([kegs])];
    const fault: Answer = [{ excused: "inputs litres" }];
    const { says } = next(
      given,
      [{ inputs: frame, known: { kegs: 300 } }],
      gone,
      asGiven,
      fault,
      litresLittle,
      asGiven,
    );
    expect(says).toBe(
      "Find out what litres was in observation 1: anything else speaks for answers 1, 3; 600 speaks for answers 2, 5; 22530 speaks for answer 4.",
    );
    const door = rig([{ name: "door", type: "bit" }]);
    const { expected } = next(door, [unknown("01")], asGiven, turned, asGiven);
    expect(expected.map(({ answers }) => answers)).toEqual([[1, 3], [2]]);
  });

  test.each<[string, Station, Answer, Answer, unknown]>([
    ["0", given, asGiven, [rig([kegs])], [0, null]],
    ["anything, and 0", given, [rig([kegs])], asGiven, [null, 0]],
    ["false", rig([kegs, { name: "litres", type: "bit" }]), asGiven, [rig([kegs])], [false, null]],
  ])("%s is a value, not the lack of one", (_, station, one, other, values) => {
    const { expected } = next(station, [{ inputs: "01 2C 00 00", known: { kegs: 300 } }], one, other);
    expect(expected.map(({ value }) => value)).toEqual(values);
  });

  test("is that which separates most", () => {
    // kegs: 300, 300, 32820. litres: 600, 22530, 16410.
    const { point, expected } = next(given, [unknown()], asGiven, litresLittle, turned);
    expect([point, expected.map(({ value }) => value)]).toEqual(["litres", [600, 22530, 16410]]);
  });

  test("is the first of the image among those that separate as many", () => {
    // kegs: 300, 300, 11265. litres: 600, 22530, 22530.
    const { point, expected } = next(given, [unknown()], asGiven, litresLittle, bothLittle);
    expect([point, expected.map(({ answers }) => answers)]).toEqual(["kegs", [[1, 2], [3]]]);
  });

  test.each<[string, readonly Observation[], number]>([
    ["in the latest frame, the easiest to ask about", [unknown(), unknown()], 1],
    // 0202h is 514 from either end.
    ["in an earlier one where the latest reads alike", [unknown(), unknown("01 2C 02 02")], 0],
    ["in an earlier one where it is known in the latest", [unknown(), { inputs: frame, known: { litres: 600 } }], 0],
    ["in an earlier one where the latest is of the outputs", [unknown(), { outputs: "00 00", known: {} }], 0],
    // In 0202h litres read 514, 514, 16448.
    ["in an earlier one that separates more", [unknown(), unknown("01 2C 02 02")], 0],
  ])("%s", (title, observations, observation) => {
    const station = rig([kegs, litres], [{ name: "speed", type: "uint16" }]);
    const other = [rig([kegs, { ...litres, ...little }], [{ name: "speed", type: "uint16" }])];
    const answers = title.endsWith("more") ? [asGiven, other, turned] : [asGiven, other];
    expect(next(station, observations, ...answers)).toMatchObject({ observation, point: "litres" });
  });

  test("may be an output, where the frame is of the outputs", () => {
    const station = rig([], [kegs]);
    const other = [rig([], [{ ...kegs, ...little }])];
    expect(next(station, [{ outputs: "01 2C", known: {} }], asGiven, other)).toMatchObject({
      direction: "outputs",
      point: "kegs",
      says: "Find out what kegs was in observation 1: 300 speaks for answer 1; 11265 speaks for answer 2.",
    });
  });

  test("may have any name: null is one, and no length", () => {
    const station = rig([{ name: "null", type: "uint16" }]);
    const other = [rig([{ name: "null", type: "uint16", ...little }])];
    expect(next(station, [unknown("01 2C")], asGiven, other)).toMatchObject({ observation: 0, point: "null" });
  });

  // kegs and litres exchanged: in the second frame kegs read 300 or 304.
  const exchanged = [rig([litres, kegs])];
  test.each<[string, readonly number[], string | null]>([
    ["no error known: any difference counts", [0], "kegs"],
    ["readings as near as twice what is known of it leave the question open", [2], null],
    ["readings further apart answer it", [1.99], "kegs"],
    ["the largest error counts, the first", [2, 0], null],
    ["the largest error counts, the last", [0, 2], null],
  ])("%s", (_, errors, point) => {
    const observations: Observation[] = [
      ...errors.map((within) => ({ inputs: frame, known: { kegs: { value: 300, within }, litres: 600 } })),
      { inputs: "01 2C 01 30", known: { litres: { value: 304, within: 100 } } },
    ];
    const found = next(given, observations, asGiven, exchanged);
    expect(found.observation === null ? null : found.point).toBe(point);
    if (point) expect(found.expected.map(({ value }) => value)).toEqual([300, 304]);
  });
});

describe("where all frames are read alike, a new one", () => {
  const caution =
    "Changing it may move the machine: one point at a time, machine in view, under the site's procedure and local codes.";
  const zeros = "00 00 00 00";

  test("with a point at another value, if answers read it from other bits", () => {
    expect(next(given, [{ inputs: "05 05 06 06", known: { kegs: 1285 } }], asGiven, kegsLittle)).toEqual({
      observation: null,
      direction: "inputs",
      point: "kegs",
      expected: [],
      says: `With kegs at another value that you know, far from the ones so far, take one more frame of the inputs: the leading answers read it from other bits, or make another number of them. ${caution}`,
    });
  });

  test.each<[string, Observation["known"], Answer, string]>([
    ["a point that something is known of comes first", { litres: 0 }, bothLittle, "litres"],
    ["else the first of the image", { litres: 0 }, kegsLittle, "kegs"],
    ["of those that are known the first that was told", { litres: 0, kegs: 0 }, bothLittle, "litres"],
  ])("%s", (_, known, answer, point) => {
    expect(next(given, [{ inputs: zeros, known }], asGiven, answer)).toMatchObject({ observation: null, point });
  });

  test("of the outputs, where the point is one", () => {
    const station = rig([], [kegs]);
    const other = [rig([], [{ ...kegs, ...little }])];
    expect(next(station, [{ outputs: "00 00", known: { kegs: 0 } }], asGiven, other)).toMatchObject({
      direction: "outputs",
      says: expect.stringContaining("take one more frame of the outputs"),
    });
  });

  // One point, which is known in the frame.
  const word = (entry: object, ...rest: readonly Entry[]): Station =>
    rig([{ name: "kegs", ...entry } as Entry, ...rest]);
  const field = (keys: object): Station => rig([{ word: 16, fields: [{ name: "kegs", ...keys } as never] }]);
  const scale = { counts: [0, 1000], value: [0, 10], unit: "bar" };
  const header: FrameEdit = { direction: "inputs", does: "startsWithHeader", bytes: 1 };
  const lacks: FrameEdit = { direction: "inputs", does: "lacksFirstBytes", bytes: 1 };
  const outputsTurned: FrameEdit = { direction: "outputs", does: "reverseBits", bytes: 0 };
  const byte = word({ type: "uint8" });
  const last = rig([{ spare: 4 }, { name: "kegs", type: "uint8" }]);
  test.each<[string, Station, Answer, Answer]>([
    ["other bytes", word({ type: "uint16" }), [], [rig([{ spare: 2 }, kegs])]],
    ["another order of bytes", word({ type: "uint16" }), [], [word({ type: "uint16", ...little })]],
    ["more bytes", word({ type: "uint16" }), [], [word({ type: "uint32" })]],
    ["more bits of a word", field({ bits: 4, shift: 4 }), [], [field({ bits: 5, shift: 4 })]],
    ["other bits of a word", field({ bits: 4, shift: 4 }), [], [field({ bits: 4, shift: 5 })]],
    ["bits of its second byte", field({ bits: 4, shift: 4 }), [], [field({ bits: 4, shift: 12 })]],
    ["a signed number", word({ type: "uint16" }), [], [word({ type: "int16" })]],
    ["a real", word({ type: "uint32" }), [], [word({ type: "float32" })]],
    ["another scale", word({ type: "uint16" }), [], [word({ type: "uint16", scale })]],
    ["a flag that was a number", field({ bits: 1, shift: 0 }), [], [field({ bit: 0 })]],
    ["a signal at fault", word({ type: "uint16" }), [], [{ excused: "inputs kegs" }]],
    ["a point that is gone", word({ type: "uint16" }), [], [rig([{ spare: 2 }])]],
    ["a header left out", byte, [], [header]],
    ["bytes put first", byte, [], [lacks]],
    ["bits turned round", byte, [], ["reverseBits"]],
    ["register bytes exchanged", byte, [], ["exchangeRegisterBytes"]],
    [
      "register bytes exchanged, or a byte put first and a header left out",
      byte,
      ["exchangeRegisterBytes"],
      [lacks, header],
    ],
  ])("it tells them apart by %s", (_, station, one, other) => {
    expect(next(station, [{ inputs: zeros, known: { kegs: 0 } as never }], one, other)).toMatchObject({
      observation: null,
      point: "kegs",
    });
  });

  test.each<[string, Station, Answer, Answer]>([
    ["described alike", word({ type: "uint16" }), [], [word({ type: "uint16" })]],
    ["another title", word({ type: "uint16" }), [], [word({ type: "uint16", title: "Kegs" })]],
    ["a number, and a field of the same bits", word({ type: "uint16" }), [], [field({ bits: 16, shift: 0 })]],
    ["something behind it", word({ type: "uint16" }), [], [rig([kegs, { spare: 7 }])]],
    [
      "bytes exchanged in the frame, and described so",
      word({ type: "uint16" }),
      ["exchangeRegisterBytes"],
      [word({ type: "uint16", ...little })],
    ],
    ["a header left out, and described", byte, [header], [rig([{ spare: 1 }, { name: "kegs", type: "uint8" }])]],
    // Byte 0 is then byte 1 behind a header of one: byte 2.
    ["a header left out, then registers exchanged", byte, [header, "exchangeRegisterBytes"], [header, header]],
    // Byte 0 behind the header is byte 1, which was byte 0.
    ["registers exchanged, then a header left out", byte, ["exchangeRegisterBytes", header], []],
    ["a frame of the other direction turned round", byte, [], [outputsTurned]],
    ["two signals at fault", byte, [{ excused: "inputs kegs" }], [{ excused: "inputs kegs" }]],
    ["a point that is gone", byte, [rig([{ spare: 1 }])], [rig([{ spare: 2 }])]],
    ["a point that is gone, and a signal at fault", byte, [rig([{ spare: 1 }])], [{ excused: "inputs kegs" }]],
    ["register bytes exchanged, of the last byte of an odd frame", last, [], ["exchangeRegisterBytes"]],
  ])("no frame tells apart: %s", (_, station, one, other) => {
    const observations = [
      { outputs: "00", known: {} },
      { inputs: "00 00 00 00 00", known: { kegs: 0 } },
    ];
    expect(next(station, observations, one, other)).toEqual({
      observation: null,
      direction: null,
      point: null,
      expected: [],
      says: "The leading answers read every point alike, so no frame tells them apart. Look at the station itself: its modules, their order and their settings.",
    });
  });

  test("bits turned round and registers exchanged are told apart by another frame, though neither changes the description", () => {
    // 0305h: C0h and A0h turned round, or 03h and 05h in the other byte of the registers.
    const station = rig([{ spare: 1 }, { name: "kegs", type: "uint16" }, { spare: 1 }]);
    const {
      explanations,
      leading,
      nextObservation: found,
    } = diagnose(station, [{ inputs: "03 C0 A0 05", known: { kegs: 0x0305 } }]);
    expect(leading).toBe(2);
    expect(
      explanations.slice(0, 2).map(({ parts, change }) => [parts.map(({ frame }) => frame?.does), change]),
    ).toEqual([
      [["exchangeRegisterBytes"], null],
      [["reverseBits"], null],
    ]);
    expect(found).toMatchObject({ observation: null, direction: "inputs", point: "kegs" });
  });
});

describe("readings that leave the question open are one", () => {
  const scaled = (top: number): Station =>
    rig([{ name: "kegs", type: "uint16", scale: { counts: [0, 1000], value: [0, top] } }]);
  // 500 counts are 5, and half the other end.
  test.each<[string, number, boolean]>([
    ["a difference beyond six digits", 10.000_002, true],
    ["a difference in the sixth", 10.000_02, false],
  ])("%s", (_, top, isOpen) => {
    const { observation, expected } = next(scaled(10), [unknown("01 F4")], [], [scaled(top)]);
    expect(observation).toBe(isOpen ? null : 0);
    expect(expected.map(({ answers }) => answers)).toEqual(isOpen ? [] : [[1], [2]]);
  });

  const wide = { name: "kegs", type: "uint64" } as const;
  test("zero is zero, as an integer of 64 bits and as a real", () => {
    const real = rig([{ name: "kegs", type: "float64" }]);
    expect(next(rig([wide]), [unknown("00 ".repeat(8))], [], [real]).observation).toBe(null);
  });

  // 2^53, and eight bytes further on one more: as doubles they are equal.
  const two = "00 20 00 00 00 00 00 00 | 00 20 00 00 00 00 00 01";
  const further = rig([{ spare: 8 }, wide]);
  test("integers of 64 bits are compared to the last digit, where facts allow no difference", () => {
    expect(next(rig([wide]), [unknown(two)], [], [further]).expected.map(({ value }) => value)).toEqual([
      "9007199254740992",
      "9007199254740993",
    ]);
  });

  test("and as numbers, where facts allow one", () => {
    const before = { inputs: "00 ".repeat(16), known: { kegs: { value: "0", within: 2 } } };
    expect(next(rig([wide]), [before, unknown(two)], [], [further]).observation).toBe(null);
  });

  test("what cannot be foretold is told from zero, whatever facts allow, and has no unit", () => {
    const kilograms = rig([{ ...kegs, unit: "kg" }]);
    const before = { inputs: "00 00", known: { kegs: { value: 0, within: 5 } } };
    for (const [one, other, says] of [
      [[], [{ excused: "inputs kegs" }], "0 kg speaks for answer 1; anything else speaks for answer 2."],
      [[{ excused: "inputs kegs" }], [], "anything else speaks for answer 1; 0 kg speaks for answer 2."],
    ] as const)
      expect(next(kilograms, [before, unknown("00 00")], one, other).says).toBe(
        `Find out what kegs was in observation 2: ${says}`,
      );
  });
});
