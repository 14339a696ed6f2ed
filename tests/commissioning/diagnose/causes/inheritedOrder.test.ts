import type { Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { baseOf } from "../../../../packages/commissioning/src/diagnose/base.js";
import {
  moduleOrder,
  stationOrder,
  suspectModules,
} from "../../../../packages/commissioning/src/diagnose/causes/inheritedOrder.js";
import { type Both, baseFor, bytesOf, expectQuickIsFull, judged, rows, said } from "../trial.js";

function rig(modules: readonly Module[], keys: object = { byteOrder: "big" }): Station {
  return { format: 1, name: "rig", ...keys, modules };
}

const counters: Module = {
  name: "counters",
  inputs: [
    { name: "kegs", type: "uint16" },
    { name: "bottles", type: "uint16" },
  ],
};
const scales: Module = { name: "scales", inputs: [{ name: "weight", type: "uint16" }] };

describe("values of one word: the other byte order", () => {
  // 2C 01 is 300 and E8 03 is 1000 in little-endian order, 01 2C is 300 in big-endian order.
  const observation = { inputs: "2C 01 E8 03 01 2C", known: { kegs: 300, bottles: 1000, weight: 300 } };

  test("of a module: its points come right, those of the others stay as they are", () => {
    const base = baseFor(rig([counters, scales]), [observation]);
    expect(rows(moduleOrder, base)).toEqual([
      {
        cause: "byteOrder",
        at: "- counters -",
        says: "Module counters has its bytes in little-endian order, not big-endian.",
        assumes: 1.5,
        change: [{ op: "add", path: "/modules/0/byteOrder", value: "little" }],
      },
    ]);
    expect(judged(moduleOrder, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
  });

  test("of the station: every point follows, right or wrong", () => {
    const base = baseFor(rig([counters, scales]), [observation]);
    expect(rows(stationOrder, base)).toEqual([
      {
        cause: "byteOrder",
        at: "- - -",
        says: "The station has its bytes in little-endian order, not big-endian.",
        assumes: 1,
        change: [{ op: "replace", path: "/byteOrder", value: "little" }],
      },
    ]);
    expect(judged(stationOrder, base)).toEqual([{ fixes: [1, 2], breaks: [3] }]);
  });

  test("a module that tells its order does not follow the station, and has its own replaced", () => {
    const base = baseFor(rig([counters, { ...scales, byteOrder: "little" }]), [
      { inputs: "2C 01 E8 03 01 2C", known: { kegs: 300, weight: 300 } },
    ]);
    expect(judged(stationOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
    expect(rows(moduleOrder, base).map(({ says, change }) => [says, change])).toEqual([
      [
        "Module counters has its bytes in little-endian order, not big-endian.",
        [{ op: "add", path: "/modules/0/byteOrder", value: "little" }],
      ],
      [
        "Module scales has its bytes in big-endian order, not little-endian.",
        [{ op: "replace", path: "/modules/1/byteOrder", value: "big" }],
      ],
    ]);
  });

  test("where the network gives the order, the station comes to tell another", () => {
    const base = baseFor(rig([scales], { network: "ethercat" }), [{ inputs: "01 2C", known: { weight: 300 } }]);
    expect(rows(stationOrder, base).map(({ says, change }) => [says, change])).toEqual([
      [
        "The station has its bytes in big-endian order, not little-endian.",
        [{ op: "add", path: "/byteOrder", value: "big" }],
      ],
    ]);
    expect(judged(stationOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
  });

  test("a station that has room for no more is as good as another", () => {
    const station = rig([scales], { byteOrder: "big", limits: { inputs: 2 }, placement: { inputs: { length: 2 } } });
    const base = baseFor(station, [{ inputs: "2C 01", known: { weight: 300 } }]);
    expect(judged(moduleOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
    expect(judged(stationOrder, base)).toEqual([{ fixes: [1], breaks: [] }]);
  });
});

// What is inherited, and in order: the order that a hypothesis stands for, what it says, and the keys it writes down.
const little = "has its bytes in little-endian order, not big-endian";
const big = "has its bytes in big-endian order, not little-endian";
const words: [string, Pick<Module, "byteOrder" | "wordOrder">, readonly [Both, string, object][]][] = [
  [
    "big-endian, words as they come",
    { byteOrder: "big" },
    [
      ["little lowFirst", little, { byteOrder: "little" }],
      ["big lowFirst", "has its low word first", { wordOrder: "lowFirst" }],
      [
        "little highFirst",
        `${little}, and its high word first as described`,
        { byteOrder: "little", wordOrder: "highFirst" },
      ],
    ],
  ],
  [
    "little-endian, words as they come",
    { byteOrder: "little" },
    [
      ["big highFirst", big, { byteOrder: "big" }],
      ["little highFirst", "has its high word first", { wordOrder: "highFirst" }],
      ["big lowFirst", `${big}, and its low word first as described`, { byteOrder: "big", wordOrder: "lowFirst" }],
    ],
  ],
  [
    "big-endian, low word first",
    { byteOrder: "big", wordOrder: "lowFirst" },
    [
      ["little highFirst", little, { byteOrder: "little", wordOrder: "highFirst" }],
      ["big highFirst", "has its high word first", { wordOrder: "highFirst" }],
      ["little lowFirst", `${little}, and its low word first as described`, { byteOrder: "little" }],
    ],
  ],
  [
    "little-endian, high word first",
    { byteOrder: "little", wordOrder: "highFirst" },
    [
      ["big lowFirst", big, { byteOrder: "big", wordOrder: "lowFirst" }],
      ["little lowFirst", "has its low word first", { wordOrder: "lowFirst" }],
      ["big highFirst", `${big}, and its high word first as described`, { byteOrder: "big" }],
    ],
  ],
];

describe("values of two words: three other orders, each of which makes its own frame right", () => {
  const meter: Module = {
    name: "meter",
    inputs: [
      { name: "pulses", type: "uint16" },
      { name: "litres", type: "uint32" },
    ],
  };
  const kinds = (then: Both, { byteOrder }: { byteOrder?: string }) =>
    then.startsWith(byteOrder!) ? "wordOrder" : "byteOrder";

  test.each(words)("told by the module: %s", (_, told, others) => {
    // The station says the opposite, and does not count.
    const opposite = { byteOrder: told.byteOrder === "big" ? "little" : "big" };
    const station = rig([{ ...meter, ...told }], opposite);
    others.forEach(([actual], k) => {
      const base = baseFor(station, [{ inputs: `00 00 ${bytesOf[actual]}`, known: { litres: 0x11223344 } }]);
      expect(rows(moduleOrder, base).map(({ cause, says }) => [cause, says])).toEqual(
        others.map(([then, says]) => [kinds(then, told), `Module meter ${says}.`]),
      );
      expect([...moduleOrder(base)].map(({ station }) => station!().modules)).toEqual(
        others.map(([, , keys]) => [{ ...meter, ...told, ...keys }]),
      );
      expect(judged(moduleOrder, base)).toEqual(others.map((_, at) => (at === k ? { fixes: [1], breaks: [] } : null)));
    });
  });

  test.each(words)("told by the station: %s", (_, told, others) => {
    const station = rig([meter], told);
    others.forEach(([actual], k) => {
      const base = baseFor(station, [{ inputs: `00 00 ${bytesOf[actual]}`, known: { litres: 0x11223344 } }]);
      const right = others.map((_, at) => (at === k ? { fixes: [1], breaks: [] } : null));
      expect(rows(stationOrder, base).map(({ cause, says }) => [cause, says])).toEqual(
        others.map(([then, says]) => [kinds(then, told), `The station ${says}.`]),
      );
      expect([...stationOrder(base)].map(({ station }) => station!())).toEqual(
        others.map(([, , keys]) => ({ ...station, ...keys })),
      );
      expect(judged(stationOrder, base)).toEqual(right);
      // A module inherits it, and what it writes down for the same change is no more than the station would.
      expect(rows(moduleOrder, base).map(({ says }) => says)).toEqual(
        others.map(([, says]) => `Module meter ${says}.`),
      );
      expect([...moduleOrder(base)].map(({ station }) => station!().modules)).toEqual(
        others.map(([, , keys]) => [{ ...meter, ...keys }]),
      );
      expect(judged(moduleOrder, base)).toEqual(right);
    });
  });

  test("one such value among the wrong ones is enough, wherever it stands", () => {
    const station = rig([meter]);
    const base = baseFor(station, [{ inputs: "2C 01 44 33 22 11", known: { pulses: 300, litres: 0x11223344 } }]);
    expect(judged(moduleOrder, base)).toEqual([{ fixes: [1, 2], breaks: [] }, null, { fixes: [1], breaks: [] }]);
    expectQuickIsFull(moduleOrder, base);
    expectQuickIsFull(stationOrder, base);
  });

  test("where only values of one word are wrong, words are not asked about", () => {
    const base = baseFor(rig([meter]), [{ inputs: "2C 01 11 22 33 44", known: { pulses: 300, litres: 0x11223344 } }]);
    expect(said(moduleOrder, base)).toEqual(["Module meter has its bytes in little-endian order, not big-endian."]);
    // Without a word order of its own, litres is turned round as a whole.
    expect(judged(moduleOrder, base)).toEqual([{ fixes: [1], breaks: [2] }]);
  });

  test("each module is asked about its own values", () => {
    const base = baseFor(rig([scales, meter]), [
      { inputs: "2C 01 00 00 44 33 22 11", known: { weight: 300, litres: 0x11223344 } },
    ]);
    expect(said(moduleOrder, base)).toEqual([
      `Module scales ${little}.`,
      `Module meter ${little}.`,
      "Module meter has its low word first.",
      `Module meter ${little}, and its high word first as described.`,
    ]);
  });

  test("what is turned round is what is inherited, not what a point has of its own", () => {
    const own: Module = {
      name: "meter",
      inputs: [
        { name: "litres", type: "uint32", byteOrder: "little" },
        { name: "pulses", type: "uint32" },
      ],
    };
    // Litres cannot be helped; pulses came with the low byte first.
    const base = baseFor(rig([own]), [
      { inputs: "00 00 00 00 44 33 22 11", known: { litres: 77, pulses: 0x11223344 } },
    ]);
    expect(said(moduleOrder, base)[0]).toBe("Module meter has its bytes in little-endian order, not big-endian.");
    expect(judged(moduleOrder, base)).toEqual([{ fixes: [2], breaks: [] }, null, null]);
    expect(judged(stationOrder, base)).toEqual([{ fixes: [2], breaks: [] }, null, null]);
  });
});

describe("nothing is said", () => {
  const bits: Module = {
    name: "limits",
    inputs: [
      { name: "doorClosed", type: "bit" },
      { name: "step", type: "uint8" },
    ],
  };
  test.each<[string, Station, { inputs: string; known: object }]>([
    ["where no fact is wrong", rig([scales]), { inputs: "01 2C", known: { weight: 300 } }],
    ["where only the length is", rig([scales]), { inputs: "01 2C 00", known: {} }],
    [
      "where only bits and single bytes are",
      rig([bits, scales]),
      { inputs: "00 00 01 2C", known: { doorClosed: true, step: 4 } },
    ],
  ])("%s", (_, station, observation) => {
    const base = baseFor(station, [observation as never]);
    expect([...moduleOrder(base), ...stationOrder(base)]).toEqual([]);
  });
});

describe("modules that are suspect", () => {
  const station = rig([scales, counters]);
  const observation = { inputs: "00 00 00 00 00 00", known: { bottles: 5, kegs: 300, weight: 300 } };

  test("are those of points with a wrong fact, each once", () => {
    expect([...suspectModules(baseFor(station, [observation]))]).toEqual(["counters", "scales"]);
    expect([...suspectModules(baseFor(station, [{ ...observation, known: { weight: 0 } }]))]).toEqual([]);
  });

  test("do not include one that an earlier change took out of the station", () => {
    const base = baseFor(station, [observation]);
    const later = baseOf(rig([scales]), base);
    expect([...later.wrong]).toEqual(["inputs bottles", "inputs kegs", "inputs weight"]);
    expect([...suspectModules(later)]).toEqual(["scales"]);
    expect(said(stationOrder, later)).toEqual(["The station has its bytes in little-endian order, not big-endian."]);
  });
});
