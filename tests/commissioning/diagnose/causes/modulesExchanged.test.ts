// Every point here is one byte, named by what it holds in truth: b2 is B2h. So a frame shows where its bytes belong.

import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { type Base, baseOf } from "../../../../packages/commissioning/src/diagnose/base.js";
import { modulesExchanged } from "../../../../packages/commissioning/src/diagnose/causes/modulesExchanged.js";
import { baseFor, changeOf, expectQuickIsFull, told } from "../trial.js";

const points = (name: string, bytes: number) =>
  Array.from({ length: bytes }, (_, k) => ({ name: `${name}${k + 1}`, type: "uint8" as const }));
const inputs = (name: string, bytes: number, keys: Partial<Module> = {}): Module => ({
  name,
  ...keys,
  inputs: points(name, bytes),
});
const outputs = (name: string, bytes: number, keys: Partial<Module> = {}): Module => ({
  name,
  ...keys,
  outputs: points(name, bytes),
});

const station = (modules: readonly Module[], rules: Placement | null = null): Station => ({
  format: 1,
  name: "rack",
  byteOrder: "big",
  ...(rules && { placement: { inputs: rules } }),
  modules,
});

/** A base with a frame of the inputs; of the points named something is known: the value that their name says. */
const seen = (described: Station, frame: string, known: string): Base =>
  baseFor(described, [{ inputs: frame, known: truths(known) }]);

const truths = (names: string) =>
  Object.fromEntries(names.split(" ").map((name) => [name, Number.parseInt(name, 16)] as const));

/** The pairs that are said to be exchanged. */
const pairs = (base: Base): string[] =>
  [...modulesExchanged(base)].map(({ says }) => says.match(/^Modules (\w+ and \w+) are/)![1]!.replace(" and ", "-"));

const [a, b, c, d] = [inputs("a", 1), inputs("b", 2), inputs("c", 1), inputs("d", 1)] as const;

describe("what is said of two modules", () => {
  test("neighbours: each stands where the other is described", () => {
    // Described b b a c, in truth a b b c.
    const base = seen(station([b, a, c]), "A1 B1 B2 C1", "a1 b1 b2 c1");
    const [hypothesis, ...others] = modulesExchanged(base);
    expect(others).toEqual([]);
    expect(told(hypothesis!)).toEqual({
      cause: "modulesExchanged",
      at: "- b -",
      says: "Modules b and a are exchanged: each stands where the other is described.",
      assumes: 2.5,
    });
    expect(changeOf(base, hypothesis!)).toEqual([{ op: "move", from: "/modules/1", path: "/modules/0" }]);
    expectQuickIsFull(modulesExchanged, base);
  });

  test("modules further apart: that assumes more", () => {
    // Described c c b a, in truth a b c c.
    const [c2, b1] = [inputs("c", 2), inputs("b", 1)];
    const base = seen(station([c2, b1, a]), "A1 B1 C1 C2", "a1 b1 c1 c2");
    expect([...modulesExchanged(base)].map(told)).toEqual([
      {
        cause: "modulesExchanged",
        at: "- c -",
        says: "Modules c and a are exchanged: each stands where the other is described.",
        assumes: 3,
      },
    ]);
  });

  test("nothing where nothing is wrong, and nothing where only a length is", () => {
    expect(pairs(seen(station([b, a, c]), "B1 B2 A1 C1", "a1 b1 b2 c1"))).toEqual([]);
    expect(pairs(seen(station([b, a, c], { order: "wordsFirst" }), "B1 B2 A1 C1 00", "a1 b1 b2 c1"))).toEqual([]);
  });

  test("modules that were not exchanged are the very same, so that they are not placed anew", () => {
    const base = seen(station([b, a, c]), "A1 B1 B2 C1", "a1 b1 b2 c1");
    const [{ station: changed, effect }] = [...modulesExchanged(base)] as [ReturnType<typeof first>];
    expect(changed!().modules.map((module) => [b, a, c].indexOf(module))).toEqual([1, 0, 2]);
    expect(effect.points!.size).toBe(0);
    expect([0, 1, 2].map((module) => effect.moved!("inputs", module))).toEqual([1, -2, 0]);
  });
});

const first = (base: Base) => [...modulesExchanged(base)][0]!;

describe("what belongs to the place stays there", () => {
  const modulesAfter = (base: Base) => first(base).station!().modules;

  test("slots: those told, and those that follow from the list where one is told", () => {
    const described = station([{ ...b, slot: 0 }, a, c]);
    expect(modulesAfter(seen(described, "A1 B1 B2 C1", "a1 b1 b2 c1"))).toStrictEqual([
      { ...a, slot: 0 },
      { ...b, slot: 1 },
      { ...c, slot: 2 },
    ]);
  });

  test("pins of both directions; what the other has not is taken off", () => {
    const described = station([
      { ...b, inputOffset: 2, title: "second" },
      { ...a, outputOffset: 3, inputOffset: 4 },
    ]);
    // In truth a stands at byte 2 and b at byte 4.
    expect(modulesAfter(seen(described, "00 00 A1 00 B1 B2", "a1 b1 b2"))).toStrictEqual([
      { ...a, inputOffset: 2 },
      { ...b, title: "second", inputOffset: 4, outputOffset: 3 },
    ]);
  });

  test("where one does not fit into the place of the other they are not exchanged", () => {
    const described = station([
      { ...a, inputOffset: 0 },
      { ...c, inputOffset: 1 },
      { ...b, inputOffset: 2 },
    ]);
    // Two bytes at byte 0 overlap with c; a at 1 and c at 0 fit.
    expect(pairs(seen(described, "B1 B2 A1", "a1 b1 b2"))).toEqual([]);
    expect(pairs(seen(described, "C1 A1 B1 B2", "a1 b1 b2 c1"))).toEqual(["a-c"]);
  });
});

describe("which exchanges are worth a trial", () => {
  const u = (name: string, bytes: number) => inputs(name, bytes);
  test.each<[string, readonly Module[], string, string, string[]]>([
    ["the later one starts where the earlier one started", [b, a, c], "A1 B1 B2 C1", "a1", ["b-a"]],
    ["the earlier one ends where the later one ended", [b, a, c], "A1 B1 B2 C1", "b1", ["b-a"]],
    ["of equal size, across another", [a, b, c], "C1 B1 B2 A1", "a1 b1", ["a-c"]],
    // c c | b | a, in truth a b c c: of b alone something is known, and it comes a byte earlier.
    [
      "what stands between moves by the difference, here earlier",
      [u("c", 2), u("b", 1), a],
      "A1 B1 C1 C2",
      "b1",
      ["c-a"],
    ],
    ["or later", [a, u("b", 1), u("c", 2)], "C1 C2 B1 A1", "b1", ["a-c"]],
    ["it does not move by the sum", [a, u("b", 1), u("c", 2)], "C1 C2 00 00 B1", "b1", []],
    ["it does not move where the sizes are equal", [a, b, c], "00 B1 B2 00", "b1", []],
    // Of what stands between half or more must be right: d and e hold something else. b is where d is described, too.
    ["one of two between that are wrong", [a, u("b", 1), d, u("c", 2)], "C1 C2 B1 00 A1", "b1 d1", ["b-d", "a-c"]],
    ["one of three is too few", [a, u("b", 1), d, u("e", 1), u("c", 2)], "C1 C2 B1 00 00 A1", "b1 d1 e1", ["b-d"]],
    [
      "what is right between the two does not speak against it",
      [a, u("b", 1), d, u("e", 1), u("c", 2)],
      "C1 C2 B1 E1 00 A1",
      "b1 e1 d1",
      ["b-d", "a-c"],
    ],
    [
      "two of four are enough",
      [a, u("b", 1), d, u("e", 1), u("f", 1), u("c", 2)],
      "C1 C2 B1 D1 00 00 A1",
      "b1 d1 e1 f1",
      // b is where d is described, d where e is.
      ["b-d", "d-e", "a-c"],
    ],
    // Of the points of a module half or more, too.
    ["one of two wrong points of the module", [u("b", 2), a], "A1 B1 00", "b1 b2", ["b-a"]],
    ["one of three is too few here, too", [u("b", 3), a], "A1 B1 00 00", "b1 b2 b3", []],
    ["nothing fits anywhere", [a, b, c], "00 00 00 00", "a1 b1 c1", []],
  ])("%s", (_, modules, frame, known, expected) => {
    expect(pairs(seen(station(modules), frame, known))).toEqual(expected);
  });

  test("a point must be right in every frame", () => {
    const frames = (second: number) => [
      { inputs: "A1 B1 B2 C1", known: { a1: 0xa1 } },
      { inputs: "A7 B1 B2 C1", known: { a1: second } },
    ];
    expect(pairs(baseFor(station([b, a, c]), frames(0xa7)))).toEqual(["b-a"]);
    expect(pairs(baseFor(station([b, a, c]), frames(0xa8)))).toEqual([]);
  });

  test("neighbours come before those further apart, each from the first slot on", () => {
    // Of a one byte is where b has it, the other where c has it; of b one is where c has it.
    const base = seen(station([inputs("a", 2), inputs("b", 2), inputs("c", 2)]), "00 00 A1 00 B1 A2", "a1 a2 b1");
    expect(pairs(base)).toEqual(["a-b", "b-c", "a-c"]);
  });
});

describe("a module is told by five of its wrong points, the most telling ones", () => {
  const numbers = (name: string, count: number, type: "uint16" | "uint32") =>
    Array.from({ length: count }, (_, k) => ({ name: `${name}${k + 1}`, type }));

  test("numbers before bits", () => {
    // Six bits that are wrong anyway come first in the description and among the facts.
    const bits = Array.from({ length: 6 }, (_, k) => ({ name: `bit${k}`, type: "bit" as const }));
    const large: Module = { name: "large", inputs: [...bits, { spareBits: 2 }, ...numbers("n", 5, "uint16")] };
    const described = station([large, a]);
    // In truth a stands first, and the bits are all off.
    const known = {
      ...Object.fromEntries(bits.map(({ name }) => [name, true])),
      n1: 257,
      n2: 258,
      n3: 259,
      n4: 260,
      n5: 261,
    };
    const base = baseFor(described, [{ inputs: "FF 00 01 01 01 02 01 03 01 04 01 05", known }]);
    expect(pairs(base)).toEqual(["large-a"]);
  });

  test("what was seen twice before what was seen once, 32 bits no more than 16", () => {
    // Of n something is known twice, of w once.
    const large: Module = { name: "large", inputs: [...numbers("w", 6, "uint32"), ...numbers("n", 5, "uint16")] };
    const frame = `00 ${"00 ".repeat(24)} 01 01 01 02 01 03 01 04 01 05`;
    const n = { n1: 257, n2: 258, n3: 259, n4: 260, n5: 261 };
    const w = Object.fromEntries(numbers("w", 6, "uint32").map(({ name }) => [name, 7]));
    const base = baseFor(station([large, a]), [
      { inputs: frame, known: { ...w, ...n } },
      { inputs: frame, known: n },
    ]);
    expect(pairs(base)).toEqual(["large-a"]);
  });

  test("a sixth is not asked", () => {
    // Five of eleven would be less than half.
    const large: Module = { name: "large", inputs: [...numbers("n", 5, "uint16"), ...points("e", 6)] };
    const n = { n1: 257, n2: 258, n3: 259, n4: 260, n5: 261 };
    const base = baseFor(station([large, a]), [
      {
        inputs: `00 01 01 01 02 01 03 01 04 01 05 ${"00 ".repeat(6)}`,
        known: { ...n, ...truths("e1 e2 e3 e4 e5 e6") },
      },
    ]);
    expect(pairs(base)).toEqual(["large-a"]);
  });
});

describe("in the order of slots", () => {
  const slotted = (modules: readonly Module[], ...slots: number[]) =>
    modules.map((module, k) => ({ ...module, slot: slots[k]! }));

  test("which is not that of the list: neighbours are those in slots, names stand as in the list", () => {
    // Slots: a, b, c. In truth c, b, a: those of slots 1 and 3 are exchanged.
    const base = seen(station(slotted([b, a, c], 2, 1, 3)), "C1 B1 B2 A1", "a1 b1 b2 c1");
    expect(
      [...modulesExchanged(base)].map(({ says, assumes, where }) => [says.slice(0, 15), where.module, assumes]),
    ).toEqual([["Modules a and c", "a", 3]]);
    // In truth b, a, c.
    const other = seen(station(slotted([b, a, c], 2, 1, 3)), "B1 B2 A1 C1", "a1 b1 b2 c1");
    expect(
      [...modulesExchanged(other)].map(({ says, assumes, where }) => [says.slice(0, 15), where.module, assumes]),
    ).toEqual([["Modules b and a", "b", 2.5]]);
  });

  test("modules of one slot stand as in the list", () => {
    expect(pairs(seen(station(slotted([b, a, c], 1, 1, 1)), "A1 B1 B2 C1", "a1 b1 b2 c1"))).toEqual(["b-a"]);
  });

  test("what stands between is told by the image, not by the list", () => {
    // Slots: a, b, c c. In truth c c, b, a: b comes a byte later.
    const modules = slotted([inputs("c", 2), a, inputs("b", 1)], 3, 1, 2);
    expect(pairs(seen(station(modules), "C1 C2 B1 A1", "b1"))).toEqual(["c-a"]);
  });
});

describe("a module that takes nothing of the inputs", () => {
  const o = outputs("o", 1);
  test.each<[string, readonly Module[], string, string, string[]]>([
    // Described o b c, in truth c b o: in the inputs that is the same as c and b exchanged.
    ["the later one starts where what stands between started", [o, b, c], "C1 B1 B2", "c1", ["b-c", "o-c"]],
    ["what stands between comes later", [o, b, c], "C1 B1 B2", "b1", ["b-c", "o-c"]],
    // Described c b o, in truth o b c.
    ["the earlier one ends where what stands between ended", [c, b, o], "B1 B2 C1", "c1", ["c-b", "c-o"]],
    ["what stands between comes earlier", [c, b, o], "B1 B2 C1", "b1", ["c-b", "c-o"]],
    ["of several between the end of the last counts", [c, a, d, o], "A1 D1 C1", "c1", ["c-d", "c-o"]],
    ["of several between the start of the first counts", [o, a, d, c], "C1 A1 D1", "c1", ["a-c", "o-c"]],
    ["only of those between the start counts", [d, o, a, c], "D1 C1 A1", "c1", ["a-c", "o-c"]],
    ["only of those between the end counts", [c, a, o, d], "A1 C1 D1", "c1", ["c-a", "c-o"]],
    ["each counts that brings a byte in front of it", [d, o, b, c, a], "D1 C1 B1 B2 A1", "b1", ["b-c", "o-c", "o-a"]],
    // Exchanged with its neighbour it moves nothing, so that c found earlier or later by its own size is no sign.
    ["a neighbour before it stays where it is", [b, c, o], "B1 C1 00", "c1", []],
    ["a neighbour behind it stays where it is", [o, c, b], "00 C1 00", "c1", []],
    ["two that both take nothing", [o, outputs("p", 1), b, c], "C1 B1 B2", "b1", ["b-c", "p-c", "o-c"]],
  ])("%s", (_, modules, frame, known, expected) => {
    expect(pairs(seen(station(modules), frame, known))).toEqual(expected);
  });

  test("outputs are looked at as inputs are, and one direction is enough", () => {
    const both = (name: string, ins: number, outs: number): Module => ({
      name,
      ...(ins > 0 && { inputs: points(name, ins) }),
      outputs: points(`${name}0`, outs),
    });
    const described = station([both("b", 0, 2), both("a", 0, 1), inputs("c", 1)]);
    // b01 b02 a01 described, a01 b01 b02 in truth, and c without outputs; the input is wrong whatever is done.
    const base = baseFor(described, [
      { outputs: "A0 B0 B2", known: { a01: 0xa0, b01: 0xb0, b02: 0xb2 } },
      { inputs: "00", known: { c1: 0xc1 } },
    ]);
    expect(pairs(base)).toEqual(["b-a", "b-c"]);
  });
});

describe("rules that let a module move by a little more or less than foretold", () => {
  test("alignment: by one byte less than its step", () => {
    // Aligned by 4: a at 0, b at 4 to 5, c at 8; in truth b at 0, a at 4, and an exchange is foretold by b.
    const described = station([a, b, c], { alignment: 4 });
    expect(pairs(seen(described, "B1 B2 00 00 A1 00 00 00 C1", "a1 b1"))).toEqual(["a-b"]);
    // a is foretold to end where b ended: at byte 5. It stands at 4, one less; from 2 on is near enough, 1 is not.
    const near = (frame: string) => pairs(seen(described, frame, "a1"));
    expect(near("00 00 00 00 A1 00 00 00 C1")).toEqual(["a-b"]);
    expect(near("00 00 A1 00 00 00 00 00 00")).toEqual(["a-b"]);
    expect(near("00 A1 00 00 00 00 00 00 00")).toEqual([]);
  });

  test("alignment does not move what stands between two of equal size", () => {
    // a 0 to 3, b 4, c 6 to 9; b is found a byte later.
    const described = station([inputs("a", 4), inputs("b", 1), inputs("c", 4)], { alignment: 2 });
    expect(pairs(seen(described, "00 00 00 00 00 B1 00 00 00 00", "b1"))).toEqual([]);
  });

  test("bits packed: by a byte, as bytes are shared", () => {
    const bits: Module = { name: "bits", inputs: [{ spareBits: 4 }] };
    // Described b at 0 to 1, bits in byte 2: b is foretold to end at 3, from byte 1 on; found from 2 on, or from 3 on.
    const near = (frame: string, rules: Placement) => pairs(seen(station([b, bits], rules), frame, "b1 b2"));
    expect(near("00 B1 B2", {})).toEqual(["b-bits"]);
    expect(near("00 00 B1 B2", {})).toEqual([]);
    expect(near("00 00 B1 B2", { packing: "bit" })).toEqual(["b-bits"]);
    expect(near("00 00 00 B1 B2", { packing: "bit" })).toEqual([]);
  });
});

describe("where words come first all pairs are tried, those foretold first and then the nearest", () => {
  const bits = (name: string): Module => ({ name, inputs: [{ name: `${name}1`, type: "bit" }] });
  const modules = [bits("x"), a, b, bits("y")];
  const all = ["x-a", "a-b", "b-y", "x-b", "a-y", "x-y"];
  test.each<[string, Station]>([
    ["in the inputs", station(modules, { order: "wordsFirst" })],
    ["in the outputs alone", { ...station(modules), placement: { outputs: { order: "wordsFirst" } } }],
  ])("%s", (_, described) => {
    expect(pairs(seen(described, "00 00 00 00 00", "a1"))).toEqual(all);
  });

  test("those foretold first", () => {
    // Images: a, b b, x, y. In truth b b, a.
    expect(pairs(seen(station(modules, { order: "wordsFirst" }), "B1 B2 A1 00 00", "a1 b1"))).toEqual([
      "a-b",
      ...all.filter((pair) => pair !== "a-b"),
    ]);
  });

  test("what stands between two modules is told by the image, in which the bits come last", () => {
    const bit = (name: string): Module => ({ name, inputs: [{ spareBits: 3 }, { name: `${name}1`, type: "bit" }] });
    // Slots a x b y c, images a a | b | c | x | y; in truth c | b | a a, and x and y are wrong and stay so.
    const described = station([inputs("a", 2), bit("x"), inputs("b", 1), bit("y"), c], { order: "wordsFirst" });
    const base = baseFor(described, [{ inputs: "C1 B1 A1 A2 00 00", known: { b1: 0xb1, x1: true, y1: true } }]);
    // b comes a byte earlier where the two bytes of a give way to one, of c, of x or of y behind it.
    expect(pairs(base).slice(0, 4)).toEqual(["a-x", "a-y", "a-c", "x-b"]);
  });

  test("no more than can be placed in time: of 50 modules a thousand pairs", () => {
    // 50 modules make 1225 pairs; 50,000 placings of a module are 1000 of a station.
    const many = Array.from({ length: 50 }, (_, k) => (k === 0 ? a : { name: `m${k}`, inputs: [{ spare: 1 }] }));
    const base = seen(station(many, { order: "wordsFirst" }), "00 ".repeat(50), "a1");
    expect(pairs(base)).toHaveLength(1000);
    expect(pairs(seen(station(many), "00 ".repeat(50), "a1"))).toEqual([]);
  });
});

test("a point that the description no longer has tells nothing of where its module stands", () => {
  const whole = seen(station([b, a, c, d]), "A1 B1 B2 C1 00", "a1 b1 b2 c1 d1");
  expect(pairs(baseOf(station([b, a, c]), whole))).toEqual(["b-a"]);
});
