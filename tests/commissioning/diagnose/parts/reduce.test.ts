import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { bareOf, reduced } from "../../../../packages/commissioning/src/diagnose/reduce.js";
import { baseFor } from "../trial.js";

// Points of which something is known are named known…; their values do not matter here.
const panel: Module = {
  name: "panel",
  title: "front panel",
  byteOrder: "little",
  inputs: [
    { name: "knownSet", type: "bit", title: "set" },
    { name: "reset", type: "bit" },
    { spareBits: 6 },
    { name: "knownDial", type: "uint16", byteOrder: "big", scale: { counts: [0, 1000], value: [0, 10] } },
    { name: "lamp", type: "uint32" },
    { spare: 2 },
    { name: "hours", type: "uint8" },
    { name: "knownRuns", type: "uint32", wordOrder: "lowFirst", unit: "runs" },
    {
      word: 32,
      byteOrder: "big",
      wordOrder: "highFirst",
      title: "state",
      fields: [
        { name: "knownStep", bits: 4, shift: 2, signed: true },
        { name: "pause", bit: 6 },
        { name: "knownHold", bit: 7, title: "hold" },
      ],
    },
    { word: 24, fields: [{ name: "alarm", bit: 0 }] },
    { spare: 3 },
  ],
};

const switches: Module = {
  name: "switches",
  inputs: [{ name: "knownDoor", type: "bit" }, { spareBits: 2 }, { name: "lid", type: "bit" }],
};

const valves: Module = {
  name: "valves",
  exclusive: [["open", "close"]],
  outputs: [
    { name: "open", type: "bit" },
    { name: "close", type: "bit" },
  ],
};

const idle: Module = { name: "idle", inputs: [], slot: 7, "x-note": "spare slot" };

function baseWith(inputs: Placement | null, ...modules: Module[]) {
  const station: Station = {
    format: 1,
    name: "press",
    byteOrder: "big",
    ...(inputs && { placement: { inputs } }),
    modules,
  };
  const names = modules.flatMap((module) =>
    (module.inputs ?? []).flatMap((entry) =>
      "fields" in entry ? entry.fields.map(({ name }) => name) : "name" in entry ? [entry.name] : [],
    ),
  );
  const bits = ["knownSet", "knownHold", "knownDoor"];
  const known = names
    .filter((name) => name.startsWith("known"))
    .map((name) => [name, bits.includes(name) ? false : 0] as const);
  return baseFor(station, [{ inputs: "00", known: Object.fromEntries(known) }]);
}

describe("a module that changed is reduced to the points that have facts", () => {
  const base = baseWith({}, panel, switches, valves, idle);

  test("they keep place, type and orders, and lose scale, sign and words; all else is spare, as little in number as can be", () => {
    expect(reduced(base, panel)).toStrictEqual({
      name: "panel",
      title: "front panel",
      byteOrder: "little",
      inputs: [
        { name: "knownSet", type: "bit" },
        // reset, and the six after it.
        { spareBits: 7 },
        { byteOrder: "big", name: "knownDial", type: "uint16" },
        // lamp, two bytes, hours.
        { spare: 7 },
        { wordOrder: "lowFirst", name: "knownRuns", type: "uint32" },
        {
          byteOrder: "big",
          wordOrder: "highFirst",
          word: 32,
          fields: [
            { name: "knownStep", bits: 4, shift: 2 },
            { name: "knownHold", bit: 7 },
          ],
        },
        // A packed word of three bytes without facts, three more.
        { spare: 6 },
      ],
    });
  });

  test.each<[string, Module, Module]>([
    ["bits one by one", switches, { name: "switches", inputs: [{ name: "knownDoor", type: "bit" }, { spareBits: 3 }] }],
    [
      "spare bits and spare bytes stay what they are: bytes begin anew",
      { name: "gap", inputs: [{ spareBits: 2 }, { spare: 1 }, { spareBits: 3 }] },
      { name: "gap", inputs: [{ spareBits: 2 }, { spare: 1 }, { spareBits: 3 }] },
    ],
    [
      "outputs that exclude each other are no longer there to be named",
      valves,
      { name: "valves", outputs: [{ spareBits: 2 }] },
    ],
    ["a module without data stays as it is", idle, idle],
  ])("%s", (_, module, expected) => {
    expect(reduced(base, module)).toStrictEqual(expected);
  });

  test("what is known of the inputs is nothing of an output of that name", () => {
    const twin: Module = {
      name: "twin",
      inputs: [{ name: "knownLevel", type: "uint8" }],
      outputs: [{ name: "knownLevel", type: "uint8" }],
    };
    expect(reduced(baseWith({}, twin), twin)).toStrictEqual({
      name: "twin",
      inputs: [{ name: "knownLevel", type: "uint8" }],
      outputs: [{ spare: 1 }],
    });
  });
});

describe("a module that did not change is a spare of its size in each direction", () => {
  const both: Module = {
    name: "both",
    inputBytes: 4,
    slot: 3,
    inputs: [{ name: "knownCount", type: "uint16" }],
    outputs: [
      { name: "run", type: "bit" },
      { name: "jog", type: "bit" },
    ],
    exclusive: [["run", "jog"]],
  };
  const nine: Module = { name: "nine", inputs: [{ spareBits: 9 }] };
  const asBits: Module = {
    name: "asBits",
    group: "bits",
    inputs: [
      { name: "knownCode", type: "uint8" },
      { name: "flag", type: "bit" },
    ],
  };
  const modules = [panel, switches, both, nine, asBits, idle];

  test.each<[string, Module, object]>([
    // 1 byte of bits, 2, 4, 2, 1, 4, 4, 3, 3 bytes.
    [
      "numbers and bits are bytes",
      panel,
      { name: "panel", title: "front panel", byteOrder: "little", inputs: [{ spare: 24 }] },
    ],
    ["bits alone stay bits, in whole bytes", switches, { name: "switches", inputs: [{ spareBits: 8 }] }],
    ["nine bits take two bytes", nine, { name: "nine", inputs: [{ spareBits: 16 }] }],
    [
      "reserved bytes count, each direction has its own",
      both,
      { name: "both", slot: 3, inputBytes: 4, inputs: [{ spare: 4 }], outputs: [{ spareBits: 8 }] },
    ],
    [
      "a module that is counted among those of bits stays so",
      asBits,
      { name: "asBits", group: "bits", inputs: [{ spare: 2 }] },
    ],
    ["one without data stays as it is", idle, idle],
  ])("%s", (_, module, expected) => {
    expect(bareOf(baseWith(null, ...modules), module)).toStrictEqual(expected);
  });

  // Such a module may come to stand at another bit of a byte, and its points with it.
  test.each<[string, Module, object]>([
    ["bits are kept one by one", switches, reduced(baseWith({}, switches), switches)],
    [
      "so is what is counted among bits",
      asBits,
      { name: "asBits", group: "bits", inputs: [{ name: "knownCode", type: "uint8" }, { spareBits: 1 }] },
    ],
    [
      "whole bytes are not",
      panel,
      { name: "panel", title: "front panel", byteOrder: "little", inputs: [{ spare: 24 }] },
    ],
    [
      "nor is the other direction, which is not packed",
      both,
      { name: "both", slot: 3, inputBytes: 4, inputs: [{ spare: 4 }], outputs: [{ spareBits: 8 }] },
    ],
  ])("where bits are packed: %s", (_, module, expected) => {
    expect(bareOf(baseWith({ packing: "bit" }, ...modules), module)).toStrictEqual(expected);
  });

  test("it is worked out once for a base", () => {
    const base = baseWith({}, ...modules);
    expect(bareOf(base, panel)).toBe(bareOf(base, panel));
  });
});
