// A hypothesis is judged by the facts that it makes right and those that it breaks.

import type { Observation } from "@byterail/commissioning";
import type { PlacedPoint, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { type Base, baseOf, type Evidence } from "../../../../packages/commissioning/src/diagnose/base.js";
import type { Key } from "../../../../packages/commissioning/src/diagnose/facts.js";
import type { Effect } from "../../../../packages/commissioning/src/diagnose/hypothesis.js";
import { agreesAt, judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor } from "../trial.js";

// Inputs: door at byte 0, a at 1, b at 3, c at 5; outputs: speed at 0.
const rig: Station = {
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    { name: "limits", inputs: [{ name: "door", type: "bit" }] },
    {
      name: "temps",
      inputs: [
        { name: "a", type: "uint16" },
        { name: "b", type: "uint16" },
      ],
      outputs: [{ name: "speed", type: "uint16" }],
    },
    { name: "tail", inputs: [{ name: "c", type: "uint16" }] },
  ],
};
const [temps, tail] = [1, 2];

// door is on, a is 10, b 20, c 30; speed is 1500.
const inputs = "01 | 00 0A 00 14 | 00 1E";
const outputs = "05 DC";

// In this order they are facts 2 to 6, after the lengths of the two frames.
const read = { door: true, a: 10, b: 20, c: 30, speed: 1500 };
const [inputLength, outputLength, door, a, b, c, speed] = [0, 1, 2, 3, 4, 5, 6] as const;

/** The rig, where this is known besides what is read. */
function knowing(known: Observation["known"], frames: Partial<Observation> = {}): Base {
  return baseFor(rig, [{ inputs, outputs, ...frames, known: { ...read, ...known } }]);
}

/** A base on which a first cause has been assumed. */
function having(base: Base, more: Partial<Evidence>, station: Station = base.station): Base {
  return baseOf(station, { facts: base.facts, frames: base.frames, excused: new Set(), cut: {}, ...more });
}

const point = (name: string) => knowing({}).points.get(`inputs ${name}`)!;

/** Points of the inputs that are read otherwise; null: not in the image. */
function points(changed: Readonly<Record<string, Partial<PlacedPoint> | null>>): ReadonlyMap<Key, PlacedPoint | null> {
  return new Map(
    Object.entries(changed).map(([name, to]) => [`inputs ${name}` as Key, to && { ...point(name), ...to }]),
  );
}

const little = (first: number) => ({ positions: [first, first + 1] });
const big = (first: number) => ({ positions: [first + 1, first] });

/** Modules of the inputs by index that come so many bytes later; of the outputs none does. */
const inputsMoved =
  (by: Readonly<Record<number, number | null>>): NonNullable<Effect["moved"]> =>
  (direction, module) =>
    direction === "inputs" && module in by ? by[module]! : 0;

describe("points that are read otherwise", () => {
  // 0A 00 is 2560 counts.
  const base = knowing({ a: 2560 });
  test.each<[string, Effect, readonly number[] | null, readonly number[]]>([
    ["a in the other byte order is right", { points: points({ a: little(1) }) }, [a], []],
    ["a one byte further on, 0A 00 in its own order, is right as well", { points: points({ a: big(2) }) }, [a], []],
    ["a three bytes further on, 14 00, makes nothing right", { points: points({ a: big(4) }) }, null, []],
    ["a not in the image makes nothing right", { points: points({ a: null }) }, null, []],
    ["a beyond the end of the frame makes nothing right", { points: points({ a: big(6) }) }, null, []],
    [
      "b in the other byte order breaks what was right and makes nothing right",
      { points: points({ b: little(3) }) },
      null,
      [],
    ],
    ["both in the other byte order", { points: points({ a: little(1), b: little(3) }) }, [a], [b]],
    ["both, told the other way round", { points: points({ b: little(3), a: little(1) }) }, [a], [b]],
    ["a turned round, b not in the image", { points: points({ a: little(1), b: null }) }, [a], [b]],
    ["a turned round, c beyond the end of the frame", { points: points({ a: little(1), c: big(6) }) }, [a], [c]],
    ["a turned round, b as ever", { points: points({ a: little(1), b: {} }) }, [a], []],
    ["no points", { points: new Map() }, null, []],
    ["nothing at all", {}, null, []],
  ])("%s", (_, effect, fixes, breaks) => {
    expect(judge(base, effect)).toEqual(fixes && { fixes, breaks });
  });

  test("a point of which nothing is known is passed over", () => {
    const few = baseFor(rig, [{ inputs, known: { a: 2560 } }]);
    const effect = { points: points({ b: little(3), a: little(1) }) };
    // Facts: the length of the inputs, and a.
    expect(judge(few, effect)).toEqual({ fixes: [1], breaks: [] });
  });

  test("every observation counts, each with its own frame", () => {
    const known = { a: 2560 };
    const three = baseFor(rig, [
      { inputs, known },
      { inputs: "01 | 0A 00 00 14 | 00 1E", known },
      { inputs, known },
    ]);
    // Facts 1, 3 and 5 are a; the second is right as described, 0A 00 being 2560 in big-endian order.
    expect(judge(three, { points: points({ a: little(1) }) })).toEqual({ fixes: [1, 5], breaks: [3] });
  });
});

test("a fact that was wrong and stays so is neither made right nor broken", () => {
  const two = baseFor(rig, [
    { inputs, known: { a: 2560, b: 21 } },
    { inputs, known: { a: 2561 } },
  ]);
  // Facts: 0 and 3 the lengths, 1 and 4 a, 2 b.
  expect(judge(two, { points: points({ a: little(1), b: little(3) }) })).toEqual({ fixes: [1], breaks: [] });
});

test("what is beyond the end of the frame is nothing, not zero", () => {
  const base = knowing({ c: 0 });
  expect(judge(base, { points: points({ c: big(6) }) })).toBeNull();
  expect(judge(base, { moved: inputsMoved({ [tail]: 1 }) })).toBeNull();
});

describe("modules that stand elsewhere", () => {
  // Two bytes later a is 20, and b is 30.
  const base = knowing({ a: 20, b: 30 });
  test.each<[string, Effect, readonly number[] | null, readonly number[]]>([
    ["the module two bytes later", { moved: inputsMoved({ [temps]: 2 }) }, [a, b], []],
    ["one byte later: 00 00 and 14 00", { moved: inputsMoved({ [temps]: 1 }) }, null, []],
    ["one byte earlier: 01 00 and 0A 00", { moved: inputsMoved({ [temps]: -1 }) }, null, []],
    ["not in the image", { moved: inputsMoved({ [temps]: null }) }, null, []],
    [
      "the next one with it, beyond the end of the frame",
      { moved: inputsMoved({ [temps]: 2, [tail]: 2 }) },
      [a, b],
      [c],
    ],
    ["the next one to the front: 00 0A", { moved: inputsMoved({ [temps]: 2, [tail]: -4 }) }, [a, b], [c]],
    ["the first one not in the image", { moved: inputsMoved({ 0: null, [temps]: 2 }) }, [a, b], [door]],
    ["the module in both directions", { moved: (_, module) => (module === temps ? 2 : 0) }, [a, b], [speed]],
    [
      "what is told of a point counts more than where its module stands",
      { moved: inputsMoved({ [temps]: 2 }), points: points({ a: big(1), c: little(5) }) },
      [b],
      [c],
    ],
    [
      "a point not in the image, though its module moves",
      { moved: inputsMoved({ [temps]: 2 }), points: points({ a: null, c: null }) },
      [b],
      [c],
    ],
    ["an empty list of points besides", { moved: inputsMoved({ [temps]: 2 }), points: new Map() }, [a, b], []],
  ])("%s", (_, effect, fixes, breaks) => {
    expect(judge(base, effect)).toEqual(fixes && { fixes, breaks });
  });
});

describe("lengths", () => {
  // A byte more than described; all points are where they are described.
  const base = knowing({}, { inputs: `${inputs} FF` });
  test.each<[string, Effect, readonly number[] | null, readonly number[]]>([
    ["the length that the frame has", { lengths: { inputs: 8 } }, [inputLength], []],
    ["another", { lengths: { inputs: 9 } }, null, []],
    ["that of the other direction", { lengths: { outputs: 8 } }, null, []],
    ["both, one of them wrong", { lengths: { inputs: 8, outputs: 3 } }, [inputLength], [outputLength]],
    ["a length that the frame may have beside", { cut: { inputs: 8 } }, [inputLength], []],
    ["one that it may have beside, and has not", { cut: { inputs: 9 } }, null, []],
    ["one that the other frame may have", { cut: { outputs: 8 } }, null, []],
    ["one beside that of a longer image", { lengths: { inputs: 9 }, cut: { inputs: 8 } }, [inputLength], []],
    [
      "one that the other may have beside is no longer than it is",
      { lengths: { inputs: 8 }, cut: { outputs: 3 } },
      [inputLength],
      [],
    ],
    ["with a point that breaks", { lengths: { inputs: 8 }, points: points({ b: little(3) }) }, [inputLength], [b]],
    [
      "a length beside, with a point that breaks",
      { cut: { inputs: 8 }, points: points({ b: little(3) }) },
      [inputLength],
      [b],
    ],
  ])("%s", (_, effect, fixes, breaks) => {
    expect(judge(base, effect)).toEqual(fixes && { fixes, breaks });
  });
});

describe("a frame that is edited before it is read", () => {
  // A header of a byte: door is read from A5, the words from 01 00, 0A 00 and 14 00.
  const base = knowing({}, { inputs: `A5 ${inputs}` });
  const frame = { direction: "inputs", does: "startsWithHeader", bytes: 1 } as const;
  test.each<[string, Effect, readonly number[] | null, readonly number[]]>([
    ["without the header all is right", { frame }, [inputLength, a, b, c], []],
    // Of 00 0A 00 14 00 1E there is no door, and everything ends a byte too early.
    ["without two bytes", { frame: { ...frame, bytes: 2 } }, null, []],
    ["the frame of the other direction", { frame: { ...frame, direction: "outputs" } }, null, []],
    ["with a point that breaks", { frame, points: points({ c: null, door: { low: 1 } }) }, [inputLength, a, b], [door]],
    ["with a point that is as described", { frame, points: points({ c: {} }) }, [inputLength, a, b, c], []],
    [
      "with a module that moves: b then reads 00 1E",
      { frame, moved: inputsMoved({ [temps]: 2 }) },
      [inputLength, c],
      [],
    ],
    ["with a module that is not in the image", { frame, moved: inputsMoved({ [temps]: null }) }, [inputLength, c], []],
    ["with another length", { frame, lengths: { inputs: 9 } }, [a, b, c], []],
    ["with a length that breaks", { frame, lengths: { outputs: 9 } }, [inputLength, a, b, c], [outputLength]],
  ])("%s", (_, effect, fixes, breaks) => {
    expect(judge(base, effect)).toEqual(fixes && { fixes, breaks });
  });

  test("an edit of the inputs leaves the outputs as they are", () => {
    const outputsWrong = knowing({ speed: 1 }, { inputs: `A5 ${inputs}` });
    expect(judge(outputsWrong, { frame })).toEqual({ fixes: [inputLength, a, b, c], breaks: [] });
  });
});

describe("a signal that accounts for the facts of its point", () => {
  const base = knowing({ a: 2560, c: 31 });
  test.each<[string, Key, readonly number[] | null]>([
    ["of a point with a wrong fact", "inputs a", [a]],
    ["of a point whose facts are right", "inputs b", null],
    ["of a point of which nothing is known", "inputs d", null],
  ])("%s", (_, excused, fixes) => {
    expect(judge(base, { excused })).toEqual(fixes && { fixes, breaks: [] });
  });

  test("it accounts for all of them, and breaks none that was right", () => {
    const known = { a: 10 };
    const two = baseFor(rig, [
      { inputs, known },
      { inputs: "01 | 00 0B 00 14 | 00 1E", known },
      { inputs: "01 | 00 0C 00 14 | 00 1E", known },
    ]);
    expect(judge(two, { excused: "inputs a" })).toEqual({ fixes: [3, 5], breaks: [] });
  });
});

describe("on a base that a first cause has led to", () => {
  const wrong = knowing({ a: 2560, b: 30 });

  test.each<[string, Effect, readonly number[] | null]>([
    ["its module moves", { moved: inputsMoved({ [temps]: 2 }) }, [b]],
    [
      "its module is not in the image, and b elsewhere",
      { moved: inputsMoved({ [temps]: null }), points: points({ b: big(5) }) },
      [b],
    ],
    ["it is not in the image, and b elsewhere", { points: points({ a: null, b: big(5) }) }, [b]],
    ["it is read right", { points: points({ a: little(1) }) }, null],
    ["the frame is edited", { frame: { direction: "inputs", does: "startsWithHeader", bytes: 2 } }, [b]],
  ])("what its signal accounts for stays accounted for: %s", (_, effect, fixes) => {
    const stuck = having(wrong, { excused: new Set<Key>(["inputs a"]) });
    expect(judge(stuck, effect)?.fixes ?? null).toEqual(fixes);
    expect(judge(stuck, effect)?.breaks ?? []).not.toContain(a);
  });

  test.each<[string, Effect, readonly number[], readonly number[]]>([
    ["a length that the frame may have beside stays one", { lengths: { inputs: 10 } }, [], []],
    ["of the inputs alone", { lengths: { outputs: 7 } }, [], [outputLength]],
    ["unless another takes its place", { lengths: { inputs: 10 }, cut: { inputs: 11 } }, [], [inputLength]],
  ])("%s", (_, effect, fixes, breaks) => {
    // The image was assumed to be longer, and the frame cut to 7 bytes.
    const longer: Station = { ...rig, modules: [...rig.modules, { name: "more", inputs: [{ spare: 2 }] }] };
    const cut = having(wrong, { cut: { inputs: 7 } }, longer);
    // Something has to be right, or nothing is judged.
    const effective: Effect = { ...effect, moved: inputsMoved({ [temps]: 2 }) };
    expect(judge(cut, effective)).toEqual({ fixes: [b, ...fixes], breaks });
  });

  test("a point that is no longer in the station stays wrong, wherever its module would be", () => {
    const { modules } = rig;
    const [limits, home] = modules;
    const without = having(wrong, {}, { ...rig, modules: [limits!, home!] });
    // Without the module tail the image is two bytes shorter; c is gone.
    expect(without.right).toEqual([false, true, true, false, false, false, true]);
    expect(judge(without, { moved: () => 2 })).toEqual({ fixes: [b], breaks: [door, speed] });
    expect(judge(without, { points: points({ b: big(5) }) })).toEqual({ fixes: [b], breaks: [] });
  });
});

describe("whether a fact would be right so many bytes further on", () => {
  const facts = { a: 20, b: 30, c: 30 };
  test.each<[string, number, number, boolean]>([
    ["a, two bytes on", a, 2, true],
    ["b, two bytes on", b, 2, true],
    ["c, two bytes on, beyond the end of the frame", c, 2, false],
    ["a, one byte on", a, 1, false],
    ["a, where it is", a, 0, false],
    ["c, where it is", c, 0, true],
    ["c, before the start of the frame", c, -6, false],
    ["speed, where it is", speed, 0, true],
    ["speed, two bytes on", speed, 2, false],
  ])("%s; asked again it is the same", (_, fact, by, right) => {
    const base = knowing(facts);
    expect([agreesAt(base, fact, by), agreesAt(base, fact, by)]).toEqual([right, right]);
  });

  test("each answer is worked out once, and kept for that fact and that distance", () => {
    const base = knowing(facts);
    for (const [fact, by] of [
      [a, 2],
      [c, 2],
      [a, 1],
    ] as const)
      agreesAt(base, fact, by);
    // 1 is yes, −1 is no, 0 was not asked.
    expect([...base.shifted].map(([by, known]) => [by, [...known]])).toEqual([
      [2, [0, 0, 0, 1, 0, -1, 0]],
      [1, [0, 0, 0, -1, 0, 0, 0]],
    ]);
    base.shifted.get(2)![a] = -1;
    expect(agreesAt(base, a, 2)).toBe(false);
  });
});
