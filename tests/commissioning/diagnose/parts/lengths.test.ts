import type { Observation } from "@byterail/commissioning";
import type { Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import {
  directions,
  frameLength,
  isSuspect,
  likelyShifts,
  missingSizes,
  surplus,
} from "../../../../packages/commissioning/src/diagnose/lengths.js";
import { baseFor } from "../trial.js";

// Four bytes of inputs, one of outputs.
const station = (inputs: Placement = {}): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  placement: { inputs },
  modules: [
    {
      name: "mixed",
      inputs: [
        { name: "level", type: "uint16" },
        { name: "flow", type: "uint16" },
      ],
      outputs: [{ name: "speed", type: "uint8" }],
    },
  ],
});

const seen = (...observations: Observation[]) => baseFor(station(), observations);
const nothing = { known: {} };

test("inputs come before outputs", () => {
  expect(directions).toEqual(["inputs", "outputs"]);
});

describe("the length of the frames, and how many bytes it is more than described", () => {
  test.each<[string, readonly Observation[], readonly (number | null)[], readonly number[]]>([
    ["as described", [{ ...nothing, inputs: "01 02 03 04" }], [4, null], [0, 0]],
    ["longer", [{ ...nothing, inputs: "01 02 03 04 05 06" }], [6, null], [2, 0]],
    ["shorter", [{ ...nothing, inputs: "01" }], [1, null], [-3, 0]],
    ["both directions", [{ ...nothing, inputs: "01 02 03", outputs: "01 02 03" }], [3, 3], [-1, 2]],
    [
      "alike in every frame that there is",
      [
        { ...nothing, inputs: "01 02 03" },
        { ...nothing, outputs: "01" },
        { ...nothing, inputs: "03 02 01" },
      ],
      [3, 1],
      [-1, 0],
    ],
    [
      "not alike in all frames, so it cannot be said",
      [
        { ...nothing, inputs: "01 02 03" },
        { ...nothing, inputs: "01 02 03 04 05" },
      ],
      [null, null],
      [0, 0],
    ],
  ])("%s", (_, observations, lengths, more) => {
    const base = seen(...observations);
    expect(directions.map((direction) => frameLength(base, direction))).toEqual(lengths);
    expect(directions.map((direction) => surplus(base, direction))).toEqual(more);
  });
});

describe("a direction is suspect where a length or a point of it is wrong", () => {
  test.each<[string, readonly Observation[], readonly boolean[]]>([
    ["all is right", [{ inputs: "00 01 00 02", known: { level: 1, flow: 2 } }], [false, false]],
    ["one of two points is wrong", [{ inputs: "00 01 00 02", known: { level: 1, flow: 3 } }], [true, false]],
    ["the length is wrong", [{ ...nothing, inputs: "00 01 00 02 00" }], [true, false]],
    ["the other direction is wrong", [{ inputs: "00 01 00 02", outputs: "00 00", known: { level: 1 } }], [false, true]],
    [
      "one of two observations is wrong",
      [
        { outputs: "05", known: { speed: 5 } },
        { outputs: "05", known: { speed: 6 } },
      ],
      [false, true],
    ],
  ])("%s", (_, observations, suspect) => {
    const base = seen(...observations);
    expect(directions.map((direction) => isSuspect(base, direction))).toEqual(suspect);
  });
});

describe("sizes that a missing module could have", () => {
  // What hides the size: a multiple of m up to m − 1 bytes, an alignment of a up to a − 1, a configured length up to 16.
  test.each<[string, Placement, number, readonly number[]]>([
    ["just what the frame is longer", {}, 7, [3]],
    ["one byte", {}, 5, [1]],
    ["none where only a point is wrong", {}, 4, []],
    ["none where the frame is shorter", {}, 2, []],
    ["a multiple of 4 hides up to 3 bytes", { lengthMultiple: 4 }, 8, [1, 2, 3, 4, 5, 6, 7]],
    ["it hides them where the length is right, too", { lengthMultiple: 4 }, 4, [1, 2, 3]],
    ["of the many that a multiple may hide, those of the difference", { lengthMultiple: 2 }, 10, [5, 6, 7]],
    ["an alignment of 2 hides 1 byte", { alignment: 2 }, 9, [4, 5, 6]],
    ["both hide 1 + 3 bytes", { alignment: 2, lengthMultiple: 4 }, 12, [4, 5, 6, 7, 8, 9, 10, 11, 12]],
    ["a frame that is shorter by all but one of the hidden bytes", { lengthMultiple: 4 }, 2, [1]],
    ["a configured length of 6 hides itself", { length: 6 }, 6, [1, 2, 3, 4, 5, 6]],
    ["and is added to the difference", { length: 6 }, 8, [1, 2, 3, 4, 5, 6, 7, 8]],
    ["a long one hides 16 bytes", { length: 20 }, 20, Array.from({ length: 16 }, (_, k) => k + 1)],
  ])("%s", (_, placement, length, sizes) => {
    const inputs = "00".repeat(length);
    const base = baseFor(station(placement), [{ inputs, known: { level: 1 } }]);
    expect(missingSizes(base, "inputs")).toEqual(sizes);
    expect(missingSizes(base, "outputs")).toEqual([]);
  });

  test("none where all of the direction is right, although a multiple could hide some", () => {
    const base = baseFor(station({ lengthMultiple: 4 }), [{ inputs: "00 01 00 02", known: { level: 1 } }]);
    expect(missingSizes(base, "inputs")).toEqual([]);
  });

  test("none where the frames differ in length", () => {
    const base = baseFor(station({ lengthMultiple: 8 }), [
      { ...nothing, inputs: "00".repeat(9) },
      { ...nothing, inputs: "00".repeat(16) },
    ]);
    expect(missingSizes(base, "inputs")).toEqual([]);
  });

  test("a station without any rules of placement hides nothing", () => {
    const { placement: _, ...plain } = station();
    expect(missingSizes(baseFor(plain, [{ ...nothing, inputs: "00".repeat(7) }]), "inputs")).toEqual([3]);
  });

  test("rules of the other direction do not matter", () => {
    const base = baseFor(station({ lengthMultiple: 8 }), [{ ...nothing, outputs: "00 00 00" }]);
    expect(missingSizes(base, "outputs")).toEqual([2]);
  });
});

describe("bytes by which an image may start later than described", () => {
  const few = [1, 2, 3, 4, 5, 6, 7, 8];
  test.each<[string, number, readonly number[]]>([
    ["the length tells nothing: a few", 0, few],
    ["the frame is shorter: a few", -20, few],
    ["5 bytes longer: 5 + 3 is still few", 5, few],
    ["6 bytes longer: up to 3 more than that", 6, [...few, 9]],
    ["20 bytes longer: from 8 less to 3 more", 20, [...few, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23]],
  ])("%s", (_, longer, shifts) => {
    expect(likelyShifts(longer)).toEqual(shifts);
  });
});
