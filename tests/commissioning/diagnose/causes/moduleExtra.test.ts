import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { moduleExtra } from "../../../../packages/commissioning/src/diagnose/causes/moduleExtra.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, judgedInFull, said, told } from "../trial.js";

const level: Module = { name: "level", inputs: [{ name: "tank", type: "uint16" }] };
const flow: Module = { name: "flow", inputs: [{ name: "water", type: "uint16" }] };
const drive: Module = {
  name: "drive",
  inputs: [{ name: "speed", type: "uint16" }],
  outputs: [{ name: "setpoint", type: "uint16" }],
};
const valves: Module = { name: "valves", outputs: [{ name: "open", type: "bit" }] };
const bits: Module = { name: "bits", inputs: [{ name: "door", type: "bit" }] };
const supply: Module = { name: "supply" };

const stationOf = (modules: readonly Module[], inputs?: Placement): Station => ({
  ...{ format: 1, name: "rig", byteOrder: "big", modules },
  ...(inputs && { placement: { inputs } }),
});

// No frame of inputs has 99 bytes, so something is wrong.
const wrong = [{ inputs: "00".repeat(99), known: {} }];
const extra = (modules: readonly Module[], inputs?: Placement) =>
  said(moduleExtra, baseFor(stationOf(modules, inputs), wrong)).map((says) => says.split(" ")[1]);

describe("a module that is described and is not there", () => {
  test("is said of each module that has data, in the order of the list", () => {
    const base = baseFor(stationOf([level, supply, drive, valves]), wrong);
    const hypotheses = [...moduleExtra(base)];
    expect(hypotheses.map(told)).toEqual(
      ["level", "drive", "valves"].map((name) => ({
        cause: "moduleExtra",
        at: `- ${name} -`,
        says: `Module ${name} is described and is not there.`,
        assumes: 3,
      })),
    );
    expect(hypotheses.map((each) => changeOf(base, each))).toEqual([
      [{ op: "remove", path: "/modules/0" }],
      [{ op: "remove", path: "/modules/2" }],
      [{ op: "remove", path: "/modules/3" }],
    ]);
  });

  test("is said of one that only reserves bytes, of either direction", () => {
    const reserve: Module = { name: "reserve", inputBytes: 2 };
    expect(extra([level, reserve, { ...reserve, name: "other", inputBytes: 0, outputBytes: 2 }])).toEqual([
      "level",
      "reserve",
      "other",
    ]);
    expect(extra([reserve, level])).toEqual(["reserve", "level"]);
    expect(extra([{ ...reserve, inputs: [] }, level])).toEqual(["reserve", "level"]);
  });

  test("is not said where every fact is right", () => {
    const base = baseFor(stationOf([level, drive]), [{ inputs: "00 01 00 02", known: { tank: 1, speed: 2 } }]);
    expect(said(moduleExtra, base)).toEqual([]);
  });

  test("brings what follows it to the front", () => {
    // Described are tank, water, speed; the frame holds tank 1 and speed 3. Facts: length, tank, water, speed.
    const base = baseFor(stationOf([level, flow, drive]), [
      { inputs: "00 01 00 03", known: { tank: 1, water: 3, speed: 3 } },
    ]);
    expect(base.right).toEqual([false, true, true, false]);
    const judged = [...moduleExtra(base)].map(({ where, effect }) => [where.module, judge(base, effect)]);
    expect(judged).toEqual([
      // Without level water and speed are read from bytes 0 and 2.
      ["level", { fixes: [0, 3], breaks: [1, 2] }],
      ["flow", { fixes: [0, 3], breaks: [2] }],
      ["drive", { fixes: [0], breaks: [] }],
    ]);
    expectQuickIsFull(moduleExtra, base);
  });

  test("slots that others tell by their place in the list stay what they are", () => {
    // In order of slots: flow 1, level 2 (told by its index), drive 3.
    const base = baseFor(stationOf([{ ...drive, slot: 3 }, { ...flow, slot: 1 }, level]), [
      { inputs: "00 02 00 01", known: { water: 2, tank: 5, speed: 1 } },
    ]);
    const [, , third] = [...moduleExtra(base)];
    const [first] = [...moduleExtra(base)];
    expect(first!.station!().modules).toEqual([
      { ...flow, slot: 1 },
      { ...level, slot: 2 },
    ]);
    expect(judgedInFull(base, third!)).toEqual({ fixes: [0, 3], breaks: [] });
    expectQuickIsFull(moduleExtra, base);
  });

  test("is not said where the modules beside it could then not stand so", () => {
    // Bits of different order may not share a byte; level keeps them apart. Bits are numbered from the least significant.
    const others: Module = { name: "others", bitOrder: "msbFirst", inputs: [{ name: "gate", type: "bit" }] };
    expect(extra([bits, level, others], { packing: "bit" })).toEqual(["bits", "others"]);
    expect(extra([bits, level, others])).toEqual(["bits", "level", "others"]);
  });
});

describe("a header, spare bytes at the front of one direction, is left to the cause that the image is shifted", () => {
  const head: Module = { name: "head", inputs: [{ spare: 2 }, { spare: 1 }] };
  test.each<[string, readonly Module[], readonly string[], Placement?]>([
    ["of the inputs", [head, level], ["level"]],
    ["of the outputs", [{ name: "head", outputs: [{ spare: 1 }] }, level, valves], ["level", "valves"]],
    [
      "first of its direction, not of the list",
      [valves, { ...head, slot: 1 }, { ...level, slot: 2 }],
      ["valves", "level"],
    ],
    [
      "first by its slot",
      [
        { ...level, slot: 4 },
        { ...head, slot: 2 },
      ],
      ["level"],
    ],
    ["first because words come before bits", [bits, head, level], ["bits", "level"], { order: "wordsFirst" }],
    ["but not behind another module", [level, head], ["level", "head"]],
    [
      "nor first in the list and behind another by its slot",
      [
        { ...head, slot: 4 },
        { ...level, slot: 2 },
      ],
      ["head", "level"],
    ],
    ["nor spare bits at all", [{ name: "head", inputs: [{ spareBits: 8 }] }, level], ["head", "level"]],
    [
      "nor with a point in it",
      [{ name: "head", inputs: [{ spare: 2 }, { name: "gate", type: "bit" }] }, level],
      ["head", "level"],
    ],
    ["nor with outputs, too", [{ ...head, outputs: [{ spare: 2 }] }, level], ["head", "level"]],
    ["nor where it reserves outputs, too", [{ ...head, outputBytes: 2 }, level], ["head", "level"]],
  ])("%s", (_, modules, names, placement) => {
    expect(extra(modules, placement)).toEqual(names);
  });
});
