import type { Entry, Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { bitOrder } from "../../../../packages/commissioning/src/diagnose/causes/bitOrder.js";
import { baseFor, expectQuickIsFull, judged, rows, said } from "../trial.js";

function rig(modules: readonly Module[], keys: Partial<Station> = {}): Station {
  return { format: 1, name: "rig", byteOrder: "big", ...keys, modules };
}

const bit = (name: string): Entry => ({ name, type: "bit" });
const limits: Module = { name: "limits", inputs: [bit("doorClosed"), bit("kegPresent"), { spareBits: 6 }] };
const valves: Module = { name: "valves", inputs: [bit("open"), bit("shut"), { spareBits: 6 }] };

const most = (what: string) => `${what} start at the most significant bit of each byte.`;
const least = (what: string) => `${what} start at the least significant bit of each byte.`;
const frame = (direction: string) =>
  `The frame of the ${direction} has the bits of every byte in the opposite order, numbers included; turn them round where it is read.`;

describe("bits: the other end of each byte, of the module, of all modules, of the frame", () => {
  // 80 is the first bit from bit 7 down.
  const first = { inputs: "80", known: { doorClosed: true, kegPresent: false } };

  test("filled from bit 0 up, as is usual", () => {
    const base = baseFor(rig([limits]), [first]);
    expect(rows(bitOrder, base)).toEqual([
      {
        cause: "bitOrder",
        at: "- limits -",
        says: "The bits of module limits start at the most significant bit of each byte.",
        assumes: 2,
        change: [{ op: "add", path: "/modules/0/bitOrder", value: "msbFirst" }],
      },
      {
        cause: "bitOrder",
        at: "inputs - -",
        says: "The bits of all modules, inputs, start at the most significant bit of each byte.",
        assumes: 2,
        change: [{ op: "add", path: "/placement", value: { inputs: { bitOrder: "msbFirst" } } }],
      },
      {
        cause: "bitOrder",
        at: "inputs - -",
        says: "The frame of the inputs has the bits of every byte in the opposite order, numbers included; turn them round where it is read.",
        assumes: 4,
        change: null,
      },
    ]);
    expect(judged(bitOrder, base)).toEqual(Array(3).fill({ fixes: [1], breaks: [] }));
  });

  test("filled from bit 7 down by the rules of the direction", () => {
    const station = rig([limits], { placement: { inputs: { bitOrder: "msbFirst", alignment: 2 } } });
    const base = baseFor(station, [{ ...first, inputs: "01" }]);
    expect(rows(bitOrder, base).map(({ at, says, change }) => [at, says, change])).toEqual([
      [
        "- limits -",
        least("The bits of module limits"),
        [{ op: "add", path: "/modules/0/bitOrder", value: "lsbFirst" }],
      ],
      [
        "inputs - -",
        least("The bits of all modules, inputs,"),
        [{ op: "replace", path: "/placement/inputs/bitOrder", value: "lsbFirst" }],
      ],
      ["inputs - -", frame("inputs"), null],
    ]);
    expect(judged(bitOrder, base)).toEqual(Array(3).fill({ fixes: [1], breaks: [] }));
  });

  test("filled from bit 7 down by the module itself, which does not ask the rules", () => {
    const station = rig([{ ...limits, bitOrder: "msbFirst" }], { placement: { inputs: { bitOrder: "lsbFirst" } } });
    const base = baseFor(station, [{ ...first, inputs: "01" }]);
    expect(rows(bitOrder, base).map(({ at, says, change }) => [at, says, change])).toEqual([
      [
        "- limits -",
        least("The bits of module limits"),
        [{ op: "replace", path: "/modules/0/bitOrder", value: "lsbFirst" }],
      ],
      ["inputs - -", frame("inputs"), null],
    ]);
    expect(judged(bitOrder, base)).toEqual(Array(2).fill({ fixes: [1], breaks: [] }));
  });

  test("each module and each direction is told once, however many of its bits are wrong", () => {
    const drive: Module = { name: "drive", outputs: [bit("run"), bit("reset")] };
    const base = baseFor(rig([limits, valves, drive], { placement: { outputs: { bitOrder: "msbFirst" } } }), [
      {
        inputs: "C0 C0",
        outputs: "03",
        known: { doorClosed: true, kegPresent: true, open: true, shut: true, run: true, reset: true },
      },
    ]);
    expect(rows(bitOrder, base).map(({ at, says }) => [at, says])).toEqual([
      ["- limits -", most("The bits of module limits")],
      ["inputs - -", most("The bits of all modules, inputs,")],
      ["inputs - -", frame("inputs")],
      ["- valves -", most("The bits of module valves")],
      ["- drive -", least("The bits of module drive")],
      ["outputs - -", least("The bits of all modules, outputs,")],
      ["outputs - -", frame("outputs")],
    ]);
    // Facts 0 and 1 are the lengths, then two bits of each module.
    expect(judged(bitOrder, base).map((each) => each?.fixes)).toEqual([
      [2, 3],
      [2, 3, 4, 5],
      [2, 3, 4, 5],
      [4, 5],
      [6, 7],
      [6, 7],
      [6, 7],
    ]);
    expectQuickIsFull(bitOrder, base);
  });

  test("the rules are those of the first module that goes by them", () => {
    const base = baseFor(rig([{ ...limits, bitOrder: "msbFirst" }, valves]), [
      { inputs: "01 80", known: { doorClosed: true, open: true } },
    ]);
    expect(said(bitOrder, base)).toEqual([
      least("The bits of module limits"),
      frame("inputs"),
      most("The bits of module valves"),
      most("The bits of all modules, inputs,"),
    ]);
    expect(judged(bitOrder, base)).toEqual([
      { fixes: [1], breaks: [] },
      { fixes: [1, 2], breaks: [] },
      { fixes: [2], breaks: [] },
      { fixes: [2], breaks: [] },
    ]);
  });

  test("a module that is right now stays as it is, unless all modules are meant", () => {
    const base = baseFor(rig([limits, valves]), [{ inputs: "80 01", known: { doorClosed: true, open: true } }]);
    expect(judged(bitOrder, base)).toEqual([
      { fixes: [1], breaks: [] },
      { fixes: [1], breaks: [2] },
      { fixes: [1], breaks: [2] },
    ]);
  });

  test("modules that share a byte need one bit order, so one alone cannot have another", () => {
    const half = (name: string, first: string): Module => ({ name, inputs: [bit(first), { spareBits: 3 }] });
    const station = rig([half("limits", "doorClosed"), half("valves", "open")], {
      placement: { inputs: { packing: "bit" } },
    });
    // 88h from bit 7 down: the first of the first four bits and the first of the other four.
    const base = baseFor(station, [{ inputs: "88", known: { doorClosed: true, open: true } }]);
    expect(said(bitOrder, base)).toEqual([most("The bits of all modules, inputs,"), frame("inputs")]);
    expect(judged(bitOrder, base)).toEqual(Array(2).fill({ fixes: [1, 2], breaks: [] }));
    expectQuickIsFull(bitOrder, base);
  });
});

test("a number knows no bit order but that of the whole frame", () => {
  const station = rig([{ name: "counters", inputs: [{ name: "kegs", type: "uint16" }, bit("full")] }]);
  // 80 34 from the other end is 01 2C: 300.
  const base = baseFor(station, [{ inputs: "80 34 00", known: { kegs: 300, full: false } }]);
  expect(said(bitOrder, base)).toEqual([frame("inputs")]);
  expect(judged(bitOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
  expect([...bitOrder(base)].map(({ effect }) => effect)).toEqual([
    { frame: { direction: "inputs", does: "reverseBits", bytes: 0 } },
  ]);
});

describe("the flags of a packed word", () => {
  const word: Entry = {
    word: 16,
    title: "state",
    fields: [
      { name: "ready", bit: 0, title: "drive ready" },
      { name: "running", bit: 3 },
      { name: "tripped", bit: 9 },
    ],
  };

  test("may be counted from the other end of each byte: bits 0, 3, 9 are 7, 4, 14 then", () => {
    // 40 90 is 4090h: bits 14, 7 and 4.
    const base = baseFor(rig([{ name: "drive", inputs: [{ spare: 1 }, word] }]), [
      { inputs: "00 40 90", known: { running: true, ready: true, tripped: true } },
    ]);
    expect(rows(bitOrder, base)).toEqual([
      {
        cause: "bitOrder",
        at: "inputs drive running",
        says: "The word of ready, running, tripped has the bits of each byte in the opposite order.",
        assumes: 3,
        change: [
          { op: "replace", path: "/modules/0/inputs/1/fields/0/bit", value: 7 },
          { op: "replace", path: "/modules/0/inputs/1/fields/1/bit", value: 4 },
          { op: "replace", path: "/modules/0/inputs/1/fields/2/bit", value: 14 },
        ],
      },
      expect.objectContaining({ says: frame("inputs") }),
    ]);
    for (const judgement of judged(bitOrder, base))
      expect([...judgement!.fixes].sort(), "all three").toEqual([1, 2, 3]);
    expectQuickIsFull(bitOrder, base);
  });

  test("all of them move: one that is right now is no longer", () => {
    const base = baseFor(rig([{ name: "drive", inputs: [word] }]), [
      { inputs: "00 88", known: { ready: true, running: true } },
    ]);
    expect(judged(bitOrder, base)[0]).toEqual({ fixes: [1], breaks: [2] });
  });

  test("not where the word holds a number as well", () => {
    const mixed: Entry = { ...word, fields: [...word.fields, { name: "mode", bits: 4, shift: 4 }] };
    const base = baseFor(rig([{ name: "drive", inputs: [mixed] }]), [{ inputs: "40 90", known: { ready: true } }]);
    expect(said(bitOrder, base)).toEqual([frame("inputs")]);
  });

  test("two words are two, and one that inputs and outputs share is one of each", () => {
    const other: Entry = { word: 8, fields: [{ name: "open", bit: 1 }] };
    const station = rig([{ name: "drive", inputs: [word, other], outputs: [word] }]);
    const base = baseFor(station, [
      { inputs: "40 90 40", known: { ready: true, open: true } },
      { outputs: "40 90", known: { ready: true } },
    ]);
    const state = "The word of ready, running, tripped has the bits of each byte in the opposite order.";
    expect(rows(bitOrder, base).map(({ at, says }) => [at, says])).toEqual([
      ["inputs drive ready", state],
      ["inputs - -", frame("inputs")],
      ["inputs drive open", "The word of open has the bits of each byte in the opposite order."],
      ["outputs drive ready", state],
      ["outputs - -", frame("outputs")],
    ]);
    expectQuickIsFull(bitOrder, base);
  });
});

test("where no point has a wrong fact nothing is said", () => {
  expect(said(bitOrder, baseFor(rig([limits]), [{ inputs: "01 00", known: { doorClosed: true } }]))).toEqual([]);
});
