import type { Observation } from "@byterail/commissioning";
import type { Station } from "byterail";
import { describe, expect, test } from "vitest";
import { type Base, baseOf } from "../../../../packages/commissioning/src/diagnose/base.js";
import { baseFor } from "../trial.js";

// valves have outputs alone, gauges inputs alone, a coupling nothing, a drive both.
const mixer: Station = {
  format: 1,
  name: "mixer",
  byteOrder: "big",
  modules: [
    {
      name: "valves",
      outputs: [
        { name: "fill", type: "bit" },
        { name: "drain", type: "bit" },
      ],
    },
    {
      name: "gauges",
      inputs: [
        { name: "weight", type: "uint16" },
        { spare: 1 },
        {
          word: 16,
          fields: [
            { name: "level", bits: 12, shift: 0 },
            { name: "full", bit: 15 },
          ],
        },
      ],
    },
    { name: "coupling" },
    {
      name: "drive",
      inputs: [{ spareBits: 1 }, { name: "ready", type: "bit" }],
      outputs: [{ name: "speed", type: "uint8" }],
    },
  ],
};

// weight | spare | full level | ready: 01F4h is 500, 8064h is bit 15 and 100, 02h is bit 1.
const whole: Observation = {
  inputs: "01 F4 | 00 | 80 64 | 02",
  known: { weight: 500, level: 101, full: true, ready: true },
};
const commands: Observation = { outputs: "02 | 4B", known: { drain: true, speed: 70 } };
const short: Observation = { inputs: "01 F4", known: { weight: 500, ready: false } };

const observations = [whole, commands, short];

/** Facts with what is made of them: point or length, known, whether it is right, its module. */
function rows(base: Base) {
  return base.facts.map(({ observation, point, known }, k) => [
    observation,
    base.keys[k] ?? `length ${point}`,
    known,
    base.right[k] ? "right" : "wrong",
    base.moduleAt[k],
  ]);
}

test("every fact is judged: a point by what it reads, a length by that of the layout; a frame that ends too soon reads nothing", () => {
  expect(rows(baseFor(mixer, observations))).toEqual([
    [0, "length null", 6, "right", null],
    [0, "inputs weight", 500, "right", 1],
    [0, "inputs level", 101, "wrong", 1],
    [0, "inputs full", true, "right", 1],
    [0, "inputs ready", true, "right", 3],
    [1, "length null", 2, "right", null],
    [1, "outputs drain", true, "right", 0],
    // 4Bh is 75.
    [1, "outputs speed", 70, "wrong", 3],
    [2, "length null", 2, "wrong", null],
    [2, "inputs weight", 500, "right", 1],
    // What is not in the frame is not false either.
    [2, "inputs ready", false, "wrong", 3],
  ]);
});

test("facts that are right and wrong, by index and by point", () => {
  const base = baseFor(mixer, observations);
  expect(base.wrongFacts).toEqual([2, 7, 8, 10]);
  expect(base.rightFacts).toEqual([0, 1, 3, 4, 5, 6, 9]);
  expect([...base.wrong]).toEqual(["inputs level", "outputs speed", "inputs ready"]);
  expect([...base.factsAt]).toEqual([
    ["inputs weight", [1, 9]],
    ["inputs level", [2]],
    ["inputs full", [3]],
    ["inputs ready", [4, 10]],
    ["outputs drain", [6]],
    ["outputs speed", [7]],
  ]);
});

test("points that have facts have a reader, the same for each of their facts; the others have none", () => {
  const base = baseFor(mixer, observations);
  expect([...base.readers.keys()]).toEqual([...base.factsAt.keys()]);
  expect(base.readerAt.map((reader) => reader?.point.name ?? null)).toEqual(base.facts.map(({ point }) => point));
  expect(base.readerAt[9]).toBe(base.readers.get("inputs weight"));
});

test("all points are told, and where each is described", () => {
  const base = baseFor(mixer, observations);
  expect([...base.points].map(([key, { byte, low }]) => [key, byte, low])).toEqual([
    ["inputs weight", 0, 0],
    ["inputs level", 3, 0],
    ["inputs full", 3, 15],
    ["inputs ready", 5, 1],
    ["outputs fill", 0, 0],
    ["outputs drain", 0, 1],
    ["outputs speed", 1, 0],
  ]);
  expect(Object.fromEntries(base.spots)).toEqual({
    "inputs weight": { direction: "inputs", module: 1, entry: 0, field: null },
    "inputs level": { direction: "inputs", module: 1, entry: 2, field: 0 },
    "inputs full": { direction: "inputs", module: 1, entry: 2, field: 1 },
    "inputs ready": { direction: "inputs", module: 3, entry: 1, field: null },
    "outputs fill": { direction: "outputs", module: 0, entry: 0, field: null },
    "outputs drain": { direction: "outputs", module: 0, entry: 1, field: null },
    "outputs speed": { direction: "outputs", module: 3, entry: 0, field: null },
  });
});

test("modules are found by name, with what each takes of an image", () => {
  const base = baseFor(mixer, observations);
  expect([...base.indices]).toEqual([
    ["valves", 0],
    ["gauges", 1],
    ["coupling", 2],
    ["drive", 3],
  ]);
  const taken = (direction: "inputs" | "outputs") =>
    base.extents[direction].map((extent) => extent && [extent.name, extent.byte, extent.bytes]);
  expect(taken("inputs")).toEqual([null, ["gauges", 0, 5], null, ["drive", 5, 1]]);
  expect(taken("outputs")).toEqual([["valves", 0, 1], null, null, ["drive", 1, 1]]);
});

describe("what carries over from another base", () => {
  const base = baseFor(mixer, observations);
  const wrongWith = (more: Partial<Base>) => baseOf(mixer, { ...base, ...more }).wrongFacts;

  test("all of it gives the same base again, with nothing looked up yet", () => {
    const again = baseOf(mixer, base);
    expect(rows(again)).toEqual(rows(base));
    expect(again).toMatchObject({ excused: new Set(), cut: {}, shifted: new Map(), bare: new Map() });
  });

  test("what a signal accounts for is right, of that point alone", () => {
    const { wrongFacts, wrong, excused } = baseOf(mixer, { ...base, excused: new Set(["inputs ready"]) });
    expect(wrongFacts).toEqual([2, 7, 8]);
    expect([...wrong]).toEqual(["inputs level", "outputs speed"]);
    expect(excused).toEqual(new Set(["inputs ready"]));
  });

  test.each([
    ["a frame may be cut to 2 bytes, or be whole", { inputs: 2 }, [2, 7, 10]],
    ["a frame may be cut to 3 bytes, which it is not", { inputs: 3 }, [2, 7, 8, 10]],
    ["the outputs were cut, not the inputs", { outputs: 2 }, [2, 7, 8, 10]],
  ] as const)("%s", (_, cut, wrong) => {
    expect(wrongWith({ cut })).toEqual(wrong);
  });

  test("a point that the station no longer has is wrong, unless its signal accounts for it", () => {
    const { modules } = mixer;
    const without: Station = { ...mixer, modules: modules.filter(({ name }) => name !== "gauges") };
    const then = baseOf(without, base);
    // Inputs are one byte now, the drive is the third module and reads the first byte of the frame.
    expect(rows(then)).toEqual([
      [0, "length null", 6, "wrong", null],
      [0, "inputs weight", 500, "wrong", null],
      [0, "inputs level", 101, "wrong", null],
      [0, "inputs full", true, "wrong", null],
      [0, "inputs ready", true, "wrong", 2],
      [1, "length null", 2, "right", null],
      [1, "outputs drain", true, "right", 0],
      [1, "outputs speed", 70, "wrong", 2],
      [2, "length null", 2, "wrong", null],
      [2, "inputs weight", 500, "wrong", null],
      [2, "inputs ready", false, "right", 2],
    ]);
    expect([...then.readers.keys()]).toEqual(["inputs ready", "outputs drain", "outputs speed"]);
    expect(baseOf(without, { ...base, excused: new Set(["inputs weight"]) }).right[1]).toBe(true);
  });
});
