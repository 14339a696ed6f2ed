import type { Observation } from "@byterail/commissioning";
import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { length } from "../../../../packages/commissioning/src/diagnose/causes/length.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, told } from "../trial.js";

const modules: readonly Module[] = [
  {
    name: "mixed",
    inputs: [
      { name: "level", type: "uint16" },
      { name: "flow", type: "uint16" },
    ],
    outputs: [{ name: "speed", type: "uint8" }],
  },
];
const station = (placement?: { readonly inputs?: Placement; readonly outputs?: Placement }): Station => ({
  ...{ format: 1, name: "rig", byteOrder: "big", modules },
  ...(placement && { placement }),
});
const baseOf = (inputs: Placement, ...observations: readonly Observation[]) =>
  baseFor(station({ inputs }), observations);

const says = (inputs: Placement, bytes: number) =>
  [...length(baseOf(inputs, { inputs: "00".repeat(bytes), known: {} }))].map((each) => each.says);

describe("another length configured", () => {
  test("is said of each direction in which the frames have another length than described", () => {
    const base = baseFor(station(), [{ inputs: "00 01 00 02 00 00", outputs: "05 00", known: {} }]);
    const hypotheses = [...length(base)];
    expect(hypotheses.map(told)).toEqual([
      {
        cause: "length",
        at: "inputs - -",
        says: "The inputs are 6 bytes long, not 4; what is described stands where it is described.",
        assumes: 2,
      },
      {
        cause: "length",
        at: "outputs - -",
        says: "The outputs are 2 bytes long, not 1; what is described stands where it is described.",
        assumes: 2,
      },
    ]);
    expect(hypotheses.map((each) => changeOf(base, each))).toEqual([
      [{ op: "add", path: "/placement", value: { inputs: { length: 6, lengthMultiple: 1 } } }],
      [{ op: "add", path: "/placement", value: { outputs: { length: 2, lengthMultiple: 1 } } }],
    ]);
  });

  // What is described takes 4 bytes; a multiple of 8 makes them 8, a configured length what it says.
  test.each<[string, Placement, number, readonly string[]]>([
    ["as long as described: nothing to say", {}, 4, []],
    ["one byte more", {}, 5, ["5 bytes long, not 4"]],
    ["one byte fewer than the points take: no length can be so", {}, 3, []],
    ["less than configured, and no less than the points take", { length: 10 }, 4, ["4 bytes long, not 10"]],
    ["less than configured, and than the points take", { length: 10 }, 3, []],
    ["without the multiple described", { lengthMultiple: 8 }, 6, ["6 bytes long, not 8"]],
  ])("%s", (_, placement, bytes, parts) => {
    expect(says(placement, bytes)).toEqual(
      parts.map((part) => `The inputs are ${part}; what is described stands where it is described.`),
    );
  });

  test("replaces the length described", () => {
    const base = baseOf({ length: 10, lengthMultiple: 2 }, { inputs: "00".repeat(7), known: {} });
    expect([...length(base)].map((each) => changeOf(base, each))).toEqual([
      [
        { op: "replace", path: "/placement/inputs/length", value: 7 },
        { op: "replace", path: "/placement/inputs/lengthMultiple", value: 1 },
      ],
    ]);
  });

  test("cannot be said where the frames differ in length among themselves", () => {
    const base = baseOf({}, { inputs: "00".repeat(5), known: {} }, { inputs: "00".repeat(6), known: {} });
    expect([...length(base)]).toEqual([]);
  });

  test("makes the length right, and no point right or wrong", () => {
    // Facts: the length of the frame, level (wrong), flow (right).
    const base = baseOf({}, { inputs: "00 01 00 02 00 00", known: { level: 7, flow: 2 } });
    expect(base.right).toEqual([false, false, true]);
    expect([...length(base)].map(({ effect }) => judge(base, effect))).toEqual([{ fixes: [0], breaks: [] }]);
    expectQuickIsFull(length, base);
  });
});
