import type { ByteOrder, Entry, Station, WordOrder } from "byterail";
import { describe, expect, test } from "vitest";
import { differs, pointOrder } from "../../../../packages/commissioning/src/diagnose/causes/pointOrder.js";
import { type Both, baseFor, bytesOf, expectQuickIsFull, judgedInOrder, rows, said } from "../trial.js";

function rig(...inputs: Entry[]): Station {
  return { format: 1, name: "rig", byteOrder: "big", modules: [{ name: "m", inputs }] };
}

test("a number of 16 bits may have the other byte order: 2C 01 is 300 then", () => {
  const base = baseFor(rig({ name: "kegs", type: "uint16" }), [{ inputs: "2C 01", known: { kegs: 300 } }]);
  expect(rows(pointOrder, base)).toEqual([
    {
      cause: "byteOrder",
      at: "inputs m kegs",
      says: "kegs has its bytes in little-endian order, not big-endian.",
      assumes: 2,
      change: [{ op: "add", path: "/modules/0/inputs/0/byteOrder", value: "little" }],
    },
  ]);
  expect(judgedInOrder(pointOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
});

test("an order of its own is replaced", () => {
  const station = rig({ spare: 2 }, { name: "kegs", type: "uint16", byteOrder: "little" });
  const base = baseFor(station, [{ inputs: "00 00 01 2C", known: { kegs: 300 } }]);
  expect(rows(pointOrder, base)).toEqual([
    {
      cause: "byteOrder",
      at: "inputs m kegs",
      says: "kegs has its bytes in big-endian order, not little-endian.",
      assumes: 2,
      change: [{ op: "replace", path: "/modules/0/inputs/1/byteOrder", value: "big" }],
    },
  ]);
  expect(judgedInOrder(pointOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
});

describe("a number of two words may have three other orders", () => {
  test.each<[Both, readonly (readonly [Both, "byteOrder" | "wordOrder", string])[]]>([
    [
      "big highFirst",
      [
        ["big lowFirst", "wordOrder", "has its low word first"],
        [
          "little highFirst",
          "byteOrder",
          "has its bytes in little-endian order, not big-endian, and its high word first as described",
        ],
        ["little lowFirst", "byteOrder", "has its bytes in little-endian order, not big-endian"],
      ],
    ],
    [
      "big lowFirst",
      [
        ["big highFirst", "wordOrder", "has its high word first"],
        ["little highFirst", "byteOrder", "has its bytes in little-endian order, not big-endian"],
        [
          "little lowFirst",
          "byteOrder",
          "has its bytes in little-endian order, not big-endian, and its low word first as described",
        ],
      ],
    ],
    [
      "little highFirst",
      [
        [
          "big highFirst",
          "byteOrder",
          "has its bytes in big-endian order, not little-endian, and its high word first as described",
        ],
        ["big lowFirst", "byteOrder", "has its bytes in big-endian order, not little-endian"],
        ["little lowFirst", "wordOrder", "has its low word first"],
      ],
    ],
    [
      "little lowFirst",
      [
        ["big highFirst", "byteOrder", "has its bytes in big-endian order, not little-endian"],
        [
          "big lowFirst",
          "byteOrder",
          "has its bytes in big-endian order, not little-endian, and its low word first as described",
        ],
        ["little highFirst", "wordOrder", "has its high word first"],
      ],
    ],
  ])("%s", (described, others) => {
    const [byteOrder, wordOrder] = described.split(" ") as [ByteOrder, WordOrder];
    const station = rig({ name: "litres", type: "uint32", byteOrder, wordOrder });
    // Each frame is one that the station may have sent; the hypothesis of that order, and it alone, makes it right.
    others.forEach(([actual], k) => {
      const base = baseFor(station, [{ inputs: bytesOf[actual], known: { litres: 0x11223344 } }]);
      expect(rows(pointOrder, base).map(({ cause, says }) => [cause, says])).toEqual(
        others.map(([, cause, says]) => [cause, `litres ${says}.`]),
      );
      expect([...pointOrder(base)].map(({ station }) => station!().modules[0]!.inputs![0])).toEqual(
        others.map(([orders]) => {
          const [byteOrder, wordOrder] = orders.split(" ");
          return { name: "litres", type: "uint32", byteOrder, wordOrder };
        }),
      );
      expect(judgedInOrder(pointOrder, base)).toEqual(
        others.map((_, at) => (at === k ? { fixes: [1], breaks: [] } : null)),
      );
    });
  });
});

describe("a packed word is one thing", () => {
  const word: Entry = {
    word: 16,
    title: "state",
    fields: [
      { name: "mode", bits: 4, shift: 0 },
      { name: "level", bits: 4, shift: 8 },
      { name: "ready", bit: 15 },
    ],
  };

  // 05 80 is 0580h as described: mode 0, level 5, not ready. The other way round it is 8005h: mode 5, level 0, ready.
  test("it is told once, at the first field that is wrong, and all fields follow it", () => {
    const base = baseFor(rig({ spare: 1 }, word), [{ inputs: "00 05 80", known: { ready: true, mode: 5, level: 5 } }]);
    expect(rows(pointOrder, base)).toEqual([
      {
        cause: "byteOrder",
        at: "inputs m ready",
        says: "The word of mode, level, ready has its bytes in little-endian order, not big-endian.",
        assumes: 2,
        change: [{ op: "add", path: "/modules/0/inputs/1/byteOrder", value: "little" }],
      },
    ]);
    expect(judgedInOrder(pointOrder, base)).toEqual([{ fixes: [1, 2], breaks: [3] }]);
  });

  test("two words are two", () => {
    const other: Entry = { word: 16, fields: [{ name: "running", bit: 0 }] };
    const base = baseFor(rig(word, other), [{ inputs: "05 80 01 00", known: { ready: true, running: true } }]);
    expect(said(pointOrder, base)).toEqual([
      "The word of mode, level, ready has its bytes in little-endian order, not big-endian.",
      "The word of running has its bytes in little-endian order, not big-endian.",
    ]);
  });

  test("an entry that inputs and outputs share is one of each", () => {
    const entries = [word];
    const station: Station = {
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "drive", inputs: entries, outputs: entries }],
    };
    const base = baseFor(station, [
      { inputs: "05 80", known: { mode: 5 } },
      { outputs: "05 80", known: { mode: 5 } },
    ]);
    expect(rows(pointOrder, base).map(({ at }) => at)).toEqual(["inputs drive mode", "outputs drive mode"]);
  });
});

test("what has no order, or no fact that is wrong, is left alone", () => {
  const station = rig(
    { name: "ready", type: "bit" },
    { name: "stage", type: "uint8" },
    { word: 8, fields: [{ name: "mode", bits: 4, shift: 0 }] },
    { name: "kegs", type: "uint16" },
    { name: "bottles", type: "uint16" },
  );
  const base = baseFor(station, [
    { inputs: "00 00 00 01 2C 01 2C", known: { ready: true, stage: 7, mode: 3, kegs: 300 } },
  ]);
  expect(rows(pointOrder, base)).toEqual([]);
});

test("points are taken in the order of their facts, those of the outputs as well", () => {
  const station: Station = {
    ...{ format: 1, name: "rig", byteOrder: "little" },
    modules: [
      { name: "counters", inputs: [{ name: "kegs", type: "uint16" }] },
      { name: "drive", outputs: [{ name: "speed", type: "uint24" }] },
    ],
  };
  const base = baseFor(station, [{ inputs: "01 2C", outputs: "00 05 DC", known: { speed: 1500, kegs: 300 } }]);
  expect(rows(pointOrder, base).map(({ at, change }) => [at, change![0]!.path])).toEqual([
    ["outputs drive speed", "/modules/1/outputs/0/byteOrder"],
    ["inputs counters kegs", "/modules/0/inputs/0/byteOrder"],
  ]);
  // Facts 0 and 1 are the lengths.
  expect(judgedInOrder(pointOrder, base)).toEqual([
    { fixes: [2], breaks: [] },
    { fixes: [3], breaks: [] },
  ]);
  expectQuickIsFull(pointOrder, base);
});

test("how orders without words differ", () => {
  expect(differs({ byteOrder: "big", wordOrder: null }, { byteOrder: "little", wordOrder: null })).toBe(
    "has its bytes in little-endian order, not big-endian",
  );
});
