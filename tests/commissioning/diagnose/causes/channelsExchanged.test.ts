import type { Entry, Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import { channelsExchanged } from "../../../../packages/commissioning/src/diagnose/causes/channelsExchanged.js";
import { baseFor, expectQuickIsFull, judgedInOrder, rows, said } from "../trial.js";

function rig(...inputs: Entry[]): Station {
  return { format: 1, name: "rig", byteOrder: "big", modules: [{ name: "m", inputs }] };
}

// The entries of the module under the first hypothesis.
function entriesThen(base: Base) {
  const [first] = channelsExchanged(base);
  return first!.station!().modules[0]!.inputs;
}

const north = { name: "north", type: "uint16" } as const;
const middle = { name: "middle", type: "uint16" } as const;
const south = { name: "south", type: "uint16" } as const;

describe("neighbours of one module", () => {
  test("a channel may be exchanged with the one before it and the one after it", () => {
    // north, middle, south read 1, 2, 3.
    const base = baseFor(rig(north, middle, south), [{ inputs: "00 01 00 02 00 03", known: { middle: 3, south: 2 } }]);
    expect(rows(channelsExchanged, base)).toEqual([
      {
        cause: "channelsExchanged",
        at: "inputs m north",
        says: "north and middle are exchanged: each comes on the channel of the other.",
        assumes: 2,
        change: [{ op: "move", from: "/modules/0/inputs/1", path: "/modules/0/inputs/0" }],
      },
      {
        cause: "channelsExchanged",
        at: "inputs m middle",
        says: "middle and south are exchanged: each comes on the channel of the other.",
        assumes: 2,
        change: [{ op: "move", from: "/modules/0/inputs/2", path: "/modules/0/inputs/1" }],
      },
    ]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([null, { fixes: [1, 2], breaks: [] }]);
  });

  test.each<[string, Record<string, number>, string[]]>([
    ["the first has only one after it", { north: 7 }, ["north and middle"]],
    ["the last has only one before it", { south: 7 }, ["middle and south"]],
    ["each pair is told once", { middle: 7, north: 7, south: 7 }, ["north and middle", "middle and south"]],
    ["without a wrong fact there is none", { north: 1, middle: 2 }, []],
  ])("%s", (_, known, pairs) => {
    const base = baseFor(rig(north, middle, south), [{ inputs: "00 01 00 02 00 03", known }]);
    expect(said(channelsExchanged, base)).toEqual(
      pairs.map((pair) => `${pair} are exchanged: each comes on the channel of the other.`),
    );
  });

  test("one that is right now is no longer, where it is exchanged with one that is not", () => {
    const base = baseFor(rig(north, middle), [{ inputs: "00 01 00 02", known: { north: 1, middle: 1 } }]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [2], breaks: [1] }]);
  });

  test("spares between channels are no channels", () => {
    const base = baseFor(rig(north, { spare: 2 }, { spareBits: 16 }, middle), [
      { inputs: "00 01 00 00 00 00 00 02", known: { north: 2, middle: 1 } },
    ]);
    expect(entriesThen(base)).toEqual([middle, { spare: 2 }, { spareBits: 16 }, north]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
  });

  test("channels of another module and of the other direction are no neighbours", () => {
    const station: Station = {
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        { name: "a", inputs: [north], outputs: [south] },
        { name: "b", inputs: [middle] },
      ],
    };
    const known = { north: 7, middle: 7, south: 7 };
    expect(said(channelsExchanged, baseFor(station, [{ inputs: "00 01 00 02", outputs: "00 03", known }]))).toEqual([]);
  });

  test("outputs have neighbours as inputs do", () => {
    const station: Station = {
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "a" }, { name: "drive", inputs: [south], outputs: [north, middle] }],
    };
    const base = baseFor(station, [{ outputs: "00 01 00 02", known: { north: 2 } }]);
    expect(rows(channelsExchanged, base).map(({ at, change }) => [at, change])).toEqual([
      ["outputs drive north", [{ op: "move", from: "/modules/1/outputs/1", path: "/modules/1/outputs/0" }]],
    ]);
    expectQuickIsFull(channelsExchanged, base);
  });
});

describe("only what is alike can be exchanged", () => {
  test.each<[string, Entry, Entry]>([
    ["another width", { name: "a", type: "uint16" }, { name: "b", type: "uint32" }],
    ["signed and unsigned", { name: "a", type: "uint16" }, { name: "b", type: "int16" }],
    ["another code", { name: "a", type: "uint16" }, { name: "b", type: "uint16", code: "bcd" }],
    ["an integer and a real", { name: "a", type: "uint32" }, { name: "b", type: "float32" }],
    ["a bit and a flag of a word", { name: "a", type: "bit" }, { word: 8, fields: [{ name: "b", bit: 0 }] }],
    [
      "a number and a field that fills its word",
      { name: "a", type: "uint16" },
      { word: 16, fields: [{ name: "b", bits: 16, shift: 0 }] },
    ],
    [
      "fields of another width",
      { word: 8, fields: [{ name: "a", bits: 2, shift: 0 }] },
      { word: 8, fields: [{ name: "b", bits: 3, shift: 0 }] },
    ],
    [
      "a flag and a number of one bit",
      { word: 8, fields: [{ name: "a", bit: 0 }] },
      { word: 8, fields: [{ name: "b", bits: 1, shift: 0 }] },
    ],
  ])("not %s", (_, a, b) => {
    // All bits are 0, and nothing is.
    const { inputs } = baseFor(rig(a, b), [{ inputs: "", known: {} }]).layout;
    const known = Object.fromEntries(inputs.points.map(({ name, kind }) => [name, kind === "boolean" ? true : 1]));
    const base = baseFor(rig(a, b), [{ inputs: "00 ".repeat(inputs.byteLength), known }]);
    expect([...base.wrong]).toEqual(["inputs a", "inputs b"]);
    expect(said(channelsExchanged, base)).toEqual([]);
  });
});

describe("what a point means goes with it, what belongs to the place stays", () => {
  const bar = { counts: [0, 1000], value: [0, 10], unit: "bar" } as const;

  test("scale and title go, byte order and word order stay", () => {
    const base = baseFor(
      rig(
        { name: "litres", type: "uint32", title: "total", byteOrder: "little", wordOrder: "highFirst" },
        { name: "supply", type: "uint32", scale: bar },
      ),
      // 0x11223344 big-endian on the second channel; 500 counts are 5 bar, bytes exchanged inside the words, on the first.
      [{ inputs: "00 00 F4 01 11 22 33 44", known: { litres: 0x11223344, supply: 5 } }],
    );
    expect(entriesThen(base)).toEqual([
      { name: "supply", type: "uint32", scale: bar, byteOrder: "little", wordOrder: "highFirst" },
      { name: "litres", type: "uint32", title: "total" },
    ]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
    expectQuickIsFull(channelsExchanged, base);
  });

  test("bits change places in their bytes", () => {
    const base = baseFor(rig({ name: "doorClosed", type: "bit" }, { name: "kegPresent", type: "bit", title: "keg" }), [
      { inputs: "01", known: { doorClosed: false, kegPresent: true } },
    ]);
    expect(entriesThen(base)).toEqual([
      { name: "kegPresent", type: "bit", title: "keg" },
      { name: "doorClosed", type: "bit" },
    ]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
  });

  test("fields are neighbours by their place in the word, not by the list; each leaves its place to the other", () => {
    const word: Entry = {
      word: 16,
      fields: [
        { name: "level", bits: 4, shift: 12, unit: "%" },
        { name: "mode", bits: 4, shift: 4 },
        { name: "step", bits: 4, shift: 8 },
        { name: "ready", bit: 0 },
        { name: "running", bit: 1 },
      ],
    };
    // level, step, mode are 5, 6, 7; running and not ready.
    const base = baseFor(rig(word), [{ inputs: "56 72", known: { level: 6, step: 5, ready: true, running: false } }]);
    expect(said(channelsExchanged, base)).toEqual(
      ["step and level", "mode and step", "ready and running"].map(
        (pair) => `${pair} are exchanged: each comes on the channel of the other.`,
      ),
    );
    expect(judgedInOrder(channelsExchanged, base)).toEqual([
      { fixes: [1, 2], breaks: [] },
      null,
      { fixes: [3, 4], breaks: [] },
    ]);
    const thens = [...channelsExchanged(base)].map(({ station }) => station!().modules[0]!.inputs![0]!);
    const [level, mode, step, ready, running] = word.fields;
    expect(thens).toEqual([
      { ...word, fields: [{ ...step, shift: 12 }, mode, { ...level, shift: 8 }, ready, running] },
      { ...word, fields: [level, { ...step, shift: 4 }, { ...mode, shift: 8 }, ready, running] },
      { ...word, fields: [level, mode, step, { ...running, bit: 0 }, { ...ready, bit: 1 }] },
    ]);
    expectQuickIsFull(channelsExchanged, base);
  });

  test("flags are neighbours by their bits as well", () => {
    const word: Entry = {
      word: 8,
      fields: [
        { name: "tripped", bit: 5 },
        { name: "running", bit: 1 },
        { name: "ready", bit: 3 },
      ],
    };
    expect(said(channelsExchanged, baseFor(rig(word), [{ inputs: "00", known: { ready: true } }]))).toEqual(
      ["running and ready", "ready and tripped"].map(
        (pair) => `${pair} are exchanged: each comes on the channel of the other.`,
      ),
    );
  });

  test("the last field of a word and the first of the next are neighbours, under the orders of their words", () => {
    const base = baseFor(
      rig(
        { word: 16, byteOrder: "little", fields: [{ name: "mode", bits: 8, shift: 8 }] },
        { word: 16, fields: [{ name: "step", bits: 8, shift: 0 }] },
      ),
      [{ inputs: "00 12 00 34", known: { mode: 0x34, step: 0x12 } }],
    );
    expect(entriesThen(base)).toEqual([
      { word: 16, byteOrder: "little", fields: [{ name: "step", bits: 8, shift: 8 }] },
      { word: 16, fields: [{ name: "mode", bits: 8, shift: 0 }] },
    ]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
    expectQuickIsFull(channelsExchanged, base);
  });

  test("a number that no longer has an order of its own takes that of its new place", () => {
    const base = baseFor(
      rig({ name: "kegs", type: "uint16" }, { name: "bottles", type: "uint16", byteOrder: "little" }),
      [{ inputs: "01 2C E8 03", known: { kegs: 1000, bottles: 300 } }],
    );
    expect(entriesThen(base)).toEqual([
      { name: "bottles", type: "uint16" },
      { name: "kegs", type: "uint16", byteOrder: "little" },
    ]);
    expect(judgedInOrder(channelsExchanged, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
  });
});
