import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import { moduleMissing } from "../../../../packages/commissioning/src/diagnose/causes/moduleMissing.js";
import { baseFor, changeOf, expectQuickIsFull, judgedInFull, said, told } from "../trial.js";

const word = (name: string, keys: Partial<Module> = {}): Module => ({
  name,
  ...keys,
  inputs: [{ name: `${name}1`, type: "uint16" }],
});

const station = (
  modules: readonly Module[],
  placement?: { readonly inputs?: Placement; readonly outputs?: Placement },
): Station => ({ format: 1, name: "rack", byteOrder: "big", ...(placement && { placement }), modules });

/** A base of frames of so many bytes, all zero; null for none. */
function framesOf(described: Station, inputs: number | null, outputs: number | null = null): Base {
  const frame = (bytes: number) => "00 ".repeat(bytes);
  return baseFor(described, [
    {
      ...(inputs !== null && { inputs: frame(inputs) }),
      ...(outputs !== null && { outputs: frame(outputs) }),
      known: {},
    },
  ]);
}

const line = station([word("scales"), word("tank"), word("flow")]);

/** What is said without the words that are the same each time: place, size. */
const short = (base: Base) =>
  said(moduleMissing, base).map((says) => says.match(/^A module that the description misses stands (.*)\.$/)![1]!);

describe("a module of the size by which the frame is longer, between any two and behind the last", () => {
  // Described scales, tank, flow; between tank and flow stands one of two bytes.
  const base = baseFor(line, [{ inputs: "00 01 00 02 77 77 00 03", known: { scales1: 1, tank1: 2, flow1: 3 } }]);

  test("each is told with its place; before the first module it would be a header, a cause of its own", () => {
    const rest = { cause: "moduleMissing", assumes: 3.02 };
    const says = (place: string) =>
      `A module that the description misses stands ${place}; it takes 2 bytes of the inputs.`;
    expect([...moduleMissing(base)].map(told)).toEqual([
      { ...rest, at: "- tank -", says: says("between scales and tank") },
      { ...rest, at: "- flow -", says: says("between tank and flow") },
      { ...rest, at: "- flow -", says: says("after flow") },
    ]);
  });

  test("the description gets a spare module in that place", () => {
    const missing = { name: "missing", inputs: [{ spare: 2 }] };
    expect([...moduleMissing(base)].map((each) => changeOf(base, each))).toEqual(
      [1, 2, 3].map((at) => [{ op: "add", path: `/modules/${at}`, value: missing }]),
    );
  });

  test("behind it modules come later, before it they stay", () => {
    // Facts: length, scales, tank, flow; the length is wrong in the description and right with any of them.
    expect([...moduleMissing(base)].map((each) => judgedInFull(base, each))).toEqual([
      { fixes: [0, 3], breaks: [2] },
      { fixes: [0, 3], breaks: [] },
      { fixes: [0], breaks: [] },
    ]);
    expectQuickIsFull(moduleMissing, base);
  });

  test("the name is one that no module has", () => {
    const described = station([word("Missing"), word("missing2")]);
    const [hypothesis] = moduleMissing(framesOf(described, 6));
    expect(hypothesis!.station!().modules.map(({ name }) => name)).toEqual(["Missing", "missing3", "missing2"]);
  });
});

describe("what it may take", () => {
  const two = station([word("scales"), { name: "valves", outputs: [{ name: "open", type: "bit" }] }]);
  test.each<[string, Base, string[]]>([
    [
      "one byte is one byte",
      framesOf(two, 3),
      ["between scales and valves; it takes 1 byte of the inputs", "after valves; it takes 1 byte of the inputs"],
    ],
    [
      "outputs",
      framesOf(two, null, 3),
      ["between scales and valves; it takes 2 bytes of the outputs", "after valves; it takes 2 bytes of the outputs"],
    ],
    // One with both is no header, so it may stand in front.
    [
      "inputs, outputs or both",
      framesOf(two, 3, 3),
      [
        "before scales; it takes 1 byte of the inputs and 2 bytes of the outputs",
        "between scales and valves; it takes 1 byte of the inputs",
        "between scales and valves; it takes 2 bytes of the outputs",
        "between scales and valves; it takes 1 byte of the inputs and 2 bytes of the outputs",
        "after valves; it takes 1 byte of the inputs",
        "after valves; it takes 2 bytes of the outputs",
        "after valves; it takes 1 byte of the inputs and 2 bytes of the outputs",
      ],
    ],
    ["nothing where the frame is as long as described", framesOf(two, 2, 1), []],
    ["nothing where it is shorter", framesOf(two, 1), []],
    ["nothing that is longer than the image may be", framesOf({ ...two, limits: { inputs: 3 } }, 4), []],
    [
      "the first of all, where nothing is described",
      framesOf(station([]), 2, 1),
      ["alone; it takes 2 bytes of the inputs and 1 byte of the outputs"],
    ],
    ["one of inputs alone would be a header there", framesOf(station([]), 2), []],
  ])("%s", (_, base, expected) => {
    expect(short(base)).toEqual(expected);
  });

  test("with both it assumes both", () => {
    const both = [...moduleMissing(framesOf(two, 3, 3))].filter(({ says }) => says.includes(" and 2 bytes"));
    expect(both.map(({ assumes, where }) => [where.module, assumes])).toEqual([
      ["scales", 3.03],
      ["valves", 3.03],
      ["valves", 3.03],
    ]);
    expect(both[0]!.station!().modules[0]).toStrictEqual({
      name: "missing",
      inputs: [{ spare: 1 }],
      outputs: [{ spare: 2 }],
    });
  });

  // Padded to 8, a frame that is n bytes longer may hide 7 more or less: n + 7 sizes up to 15.
  test.each([
    ["64 combinations are tried", 9, 9, 64],
    ["72 are not", 9, 10, 0],
    ["in either direction", 10, 9, 0],
  ])("%s", (_, inputs, outputs, expected) => {
    const rules = { inputs: { lengthMultiple: 8 }, outputs: { lengthMultiple: 8 } } as const;
    const both: Module = { name: "drive", inputs: [{ spare: 8 }], outputs: [{ spare: 8 }] };
    const all = short(framesOf(station([both], rules), inputs, outputs));
    expect(all.filter((says) => says.startsWith("after drive") && says.includes(" and "))).toHaveLength(expected);
    // Sizes of one direction alone are, however many.
    expect(all.filter((says) => says.startsWith("after drive") && !says.includes(" and "))).toHaveLength(
      inputs + outputs - 2,
    );
  });
});

describe("bits, where they have a place of their own", () => {
  const bits: Module = { name: "doors", inputs: [{ name: "front", type: "bit" }] };
  const words = { inputs: { order: "wordsFirst" } } as const;
  const packed = { inputs: { packing: "bit" } } as const;
  test.each<[string, Base, string[]]>([
    [
      "words first: words or whole bytes of bits; before the first module, too, as that need not be the first byte",
      framesOf(station([bits], words), 3),
      [
        "before doors; it takes 2 bytes of the inputs",
        "before doors; it takes 16 bits of the inputs",
        "after doors; it takes 2 bytes of the inputs",
        "after doors; it takes 16 bits of the inputs",
      ],
    ],
    [
      "packed: also those that leave six or four bits of the last byte",
      framesOf(station([bits], packed), 3),
      [
        "after doors; it takes 2 bytes of the inputs",
        "after doors; it takes 10 bits of the inputs",
        "after doors; it takes 12 bits of the inputs",
        "after doors; it takes 16 bits of the inputs",
      ],
    ],
    [
      "the rule of the inputs is none of the outputs",
      framesOf(station([bits], words), null, 1),
      ["after doors; it takes 1 byte of the outputs"],
    ],
  ])("%s", (_, base, expected) => {
    expect(short(base)).toEqual(expected);
  });

  test("they assume more than bytes, and are spare bits in the description", () => {
    const base = framesOf(station([bits], packed), 2);
    expect([...moduleMissing(base)].map((each) => [each.assumes, each.station!().modules[1]])).toStrictEqual([
      [3.01, { name: "missing", inputs: [{ spare: 1 }] }],
      [3.51, { name: "missing", inputs: [{ spareBits: 2 }] }],
      [3.51, { name: "missing", inputs: [{ spareBits: 4 }] }],
      [3.51, { name: "missing", inputs: [{ spareBits: 8 }] }],
    ]);
  });
});

describe("in the order of slots", () => {
  const placed = (base: Base) =>
    [...moduleMissing(base)].map(({ says, where, station: changed }) => [
      says.match(/stands (.*);/)![1],
      where.module,
      changed!()
        .modules.map(({ name, slot }) => `${name} ${slot}`)
        .join(", "),
    ]);

  test("it takes the slot of the module that follows, in front of it; before the first one, too, which need not be the first in the list", () => {
    expect(placed(framesOf(station([word("a", { slot: 2 }), word("b", { slot: 5 })]), 6))).toEqual([
      ["before a", "a", "missing 2, a 2, b 5"],
      ["between a and b", "b", "a 2, missing 5, b 5"],
      ["after b", "b", "a 2, b 5, missing 5"],
    ]);
  });

  test("neighbours are those in slots, whatever the order of the list", () => {
    // By slots: c, b, a.
    const modules = [word("a", { slot: 4 }), word("b", { slot: 3 }), word("c", { slot: 1 })];
    const base = framesOf(station(modules), 8);
    expect(placed(base)).toEqual([
      ["before c", "c", "a 4, b 3, missing 1, c 1"],
      ["between c and b", "b", "a 4, missing 3, b 3, c 1"],
      ["between b and a", "a", "missing 4, a 4, b 3, c 1"],
      ["after a", "a", "a 4, b 3, c 1, missing 4"],
    ]);
    // Where the missing one then stands in the image: between the two that are named.
    const images = [...moduleMissing(base)].map((each) =>
      ["a1", "b1", "c1"].map((point) => {
        const { moved } = each.effect;
        return moved!("inputs", base.indices.get(point[0]!)!);
      }),
    );
    expect(images).toEqual([
      [2, 2, 2],
      [2, 2, 0],
      [2, 0, 0],
      [0, 0, 0],
    ]);
  });

  test("slots that follow from the list are told where one is told", () => {
    expect(placed(framesOf(station([word("a"), word("b", { slot: 1 })]), 6))).toEqual([
      ["before a", "a", "missing 0, a 0, b 1"],
      ["between a and b", "b", "a 0, missing 1, b 1"],
      ["after b", "b", "a 0, b 1, missing 1"],
    ]);
  });
});
