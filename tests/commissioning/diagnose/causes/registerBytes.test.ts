import { assemble, decode, type Entry, type Module, type Placement, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import { registerBytes } from "../../../../packages/commissioning/src/diagnose/causes/registerBytes.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, judged, said, told } from "../trial.js";

function rig(modules: readonly Module[], inputs?: Placement): Station {
  return { format: 1, name: "rig", byteOrder: "big", ...(inputs && { placement: { inputs } }), modules };
}

const bit = (name: string): Entry => ({ name, type: "bit" });
const byte = (name: string): Entry => ({ name, type: "uint8" });
const word = (name: string): Entry => ({ name, type: "uint16" });

const ofModule = (name: string) => `The bytes of each 16-bit register of module ${name} are exchanged.`;
const ofImage = "The bytes of each 16-bit register of the inputs are exchanged.";
const readThem = `${ofImage} Read the registers with the other byte first.`;

test("what is said, of a module of bits and of the image", () => {
  const limits: Module = { name: "limits", inputs: [bit("doorClosed"), { spareBits: 15 }] };
  const base = baseFor(rig([limits, { name: "counters", inputs: [word("kegs")] }]), [
    { inputs: "00 01 2C 01", known: { doorClosed: true, kegs: 300 } },
  ]);
  const bits = [{ spareBits: 8 }, bit("doorClosed"), { spareBits: 7 }];
  const [module, image] = [...registerBytes(base)];
  expect([module, image].map((each) => told(each!))).toEqual([
    { cause: "registerBytes", at: "inputs limits -", says: ofModule("limits"), assumes: 2.5 },
    { cause: "registerBytes", at: "inputs - -", says: ofImage, assumes: 2.5 },
  ]);
  expect(module!.station!().modules).toEqual([{ ...limits, inputs: bits }, base.station.modules[1]]);
  expect(image!.station!().modules).toEqual([
    { ...limits, inputs: bits },
    { name: "counters", inputs: [{ ...word("kegs"), byteOrder: "little" }] },
  ]);
  expect(changeOf(base, image!)).toContainEqual({ op: "add", path: "/modules/1/inputs/0/byteOrder", value: "little" });
  expect(judged(registerBytes, base)).toEqual([
    { fixes: [1], breaks: [] },
    { fixes: [1, 2], breaks: [] },
  ]);
});

test("where no description says it, the registers are to be read with the other byte first", () => {
  const base = baseFor(rig([{ name: "m", inputs: [{ name: "total", type: "uint24" }, byte("step")] }]), [
    { inputs: "12 34 56 78", known: { total: 0x341278, step: 0x56 } },
  ]);
  const [read, ...more] = registerBytes(base);
  expect(more).toEqual([]);
  expect(told(read!)).toEqual({ cause: "registerBytes", at: "inputs - -", says: readThem, assumes: 2 });
  expect(read).toMatchObject({
    effect: { frame: { direction: "inputs", does: "exchangeRegisterBytes", bytes: 0 } },
    station: null,
  });
  expect(judged(registerBytes, base)).toEqual([{ fixes: [1, 2], breaks: [] }]);
});

// A frame of distinct bytes in which each bit has another neighbour, and the same with the bytes of its registers exchanged.
const sent = [0x12, 0x34, 0x56, 0x78, 0x9a, 0xbc, 0xde, 0xf0];
const exchanged = [0x34, 0x12, 0x78, 0x56, 0xbc, 0x9a, 0xf0, 0xde];
const hex = (bytes: readonly number[]) => bytes.map((each) => each.toString(16).padStart(2, "0")).join(" ");

// A module alone in an image of whole registers; all is known to be what the exchanged bytes say.
function alone(entries: readonly Entry[]): Base {
  const station = rig([{ name: "m", inputs: entries }], { lengthMultiple: 2 });
  const { inputs } = assemble(station);
  const length = inputs.byteLength;
  const values = Object.entries(decode(inputs, Uint8Array.from(exchanged.slice(0, length))));
  // 64-bit integers are known as decimal text.
  const known = values.map(([name, value]) => [name, typeof value === "bigint" ? String(value) : value]);
  return baseFor(station, [{ inputs: hex(sent.slice(0, length)), known: Object.fromEntries(known) }]);
}

describe("the description of a module with its bytes exchanged", () => {
  const flag: Entry = { word: 8, fields: [{ name: "ready", bit: 1 }] };
  const none: Entry = { word: 16, fields: [] };
  test.each<[string, Entry[], Entry[]]>([
    [
      "bits of two bytes change places",
      [bit("a"), { spareBits: 3 }, bit("b"), { spareBits: 3 }, bit("c"), bit("d"), { spareBits: 6 }],
      [bit("c"), bit("d"), { spareBits: 6 }, bit("a"), { spareBits: 3 }, bit("b"), { spareBits: 3 }],
    ],
    [
      "eight bits in a row fill a byte",
      [..."abcdefgh", ..."ij"].map(bit),
      [...[..."ij"].map(bit), { spareBits: 6 }, ...[..."abcdefgh"].map(bit)],
    ],
    [
      "spare bits that reach into the next byte are cut in two, and keep their title",
      [{ spareBits: 1 }, bit("a"), { spareBits: 9, title: "reserve" }, bit("b")],
      [
        { spareBits: 3, title: "reserve" },
        bit("b"),
        { spareBits: 4 },
        { spareBits: 1 },
        bit("a"),
        { spareBits: 6, title: "reserve" },
      ],
    ],
    ["bits of one byte come in the second", [bit("a"), bit("b")], [{ spareBits: 8 }, bit("a"), bit("b")]],
    ["a byte alone comes in the second", [byte("n")], [{ spareBits: 8 }, byte("n")]],
    ["bits before a byte come after it", [bit("a"), bit("b"), byte("n")], [byte("n"), bit("a"), bit("b")]],
    ["bits after a byte come before it", [byte("n"), bit("a"), bit("b")], [bit("a"), bit("b"), byte("n")]],
    [
      "bits fill their byte where bits of another byte follow",
      [bit("a"), bit("b"), byte("n"), bit("c")],
      [byte("n"), bit("a"), bit("b"), { spareBits: 6 }, { spareBits: 8 }, bit("c")],
    ],
    ["two bytes change places", [byte("n"), byte("m")], [byte("m"), byte("n")]],
    ["a word of one byte is a byte", [flag, byte("n")], [byte("n"), flag]],
    [
      "spare bytes are bytes, and keep their title",
      [byte("n"), { spare: 3, title: "reserve" }],
      [{ spare: 1, title: "reserve" }, byte("n"), { spare: 1, title: "reserve" }, { spare: 1, title: "reserve" }],
    ],
    ["16 bits have the other byte order", [word("n")], [{ ...word("n"), byteOrder: "little" } as Entry]],
    [
      "one that has an order of its own has the other",
      [{ name: "n", type: "int16", byteOrder: "little", unit: "L" }],
      [{ name: "n", type: "int16", byteOrder: "big", unit: "L" }],
    ],
    [
      "of two words the first stays the first",
      [{ name: "n", type: "uint32" }],
      [{ name: "n", type: "uint32", byteOrder: "little", wordOrder: "highFirst" }],
    ],
    [
      "of four words as well",
      [{ name: "n", type: "uint64", byteOrder: "little" }],
      [{ name: "n", type: "uint64", byteOrder: "big", wordOrder: "lowFirst" }],
    ],
    [
      "a packed word has an order as a number has",
      [{ word: 16, fields: [{ name: "n", bits: 5, shift: 6 }] }],
      [{ word: 16, byteOrder: "little", fields: [{ name: "n", bits: 5, shift: 6 }] }],
    ],
    [
      "a packed word without fields has nothing to be turned round",
      [none, word("n")],
      [none, { ...word("n"), byteOrder: "little" } as Entry],
    ],
    [
      "bits, a word and bytes together",
      [bit("a"), { spareBits: 15 }, word("n"), byte("m"), byte("k")],
      [
        { spareBits: 8 },
        bit("a"),
        { spareBits: 7 },
        { ...word("n"), byteOrder: "little" } as Entry,
        byte("k"),
        byte("m"),
      ],
    ],
  ])("%s", (_, entries, then) => {
    const base = alone(entries);
    const image = [...registerBytes(base)].at(-1)!;
    expect(image.says).toBe(ofImage);
    expect(image.station!().modules).toEqual([{ name: "m", inputs: then }]);
    // It reads from the bytes as sent what the description as given reads from the bytes exchanged.
    expect(judge(base, image.effect)).toEqual({ fixes: base.wrongFacts, breaks: [] });
    expectQuickIsFull(registerBytes, base);
  });

  test.each<[string, Entry[]]>([
    ["24 bits and a byte", [{ name: "n", type: "uint24" }, byte("m")]],
    ["a byte and 24 bits", [byte("m"), { name: "n", type: "uint24" }]],
    ["a word across two registers", [byte("m"), word("n"), byte("k")]],
    ["a packed word of 24 bits", [{ word: 24, fields: [{ name: "n", bits: 9, shift: 6 }] }, bit("a")]],
    ["a word behind bits of one byte", [bit("a"), word("n"), bit("b")]],
  ])("there is none where a number has bytes of two registers: %s", (_, entries) => {
    const base = alone(entries);
    expect(said(registerBytes, base)).toEqual([readThem]);
    expect(judged(registerBytes, base)).toEqual([{ fixes: base.wrongFacts, breaks: [] }]);
  });
});

describe("a module alone is told", () => {
  const bits = (name: string, point: string, spareBits: number): Module => ({
    name,
    inputs: [bit(point), { spareBits }],
  });

  test("where it has bits and a wrong fact; without bits it differs in its byte order alone", () => {
    const base = baseFor(
      rig([
        bits("a", "first", 15),
        { name: "b", inputs: [word("second")] },
        bits("c", "third", 15),
        { name: "d", inputs: [word("fourth"), bit("fifth"), { spareBits: 15 }] },
      ]),
      [{ inputs: "00 01 12 34 00 01 00 00 00 01", known: { first: true, second: 7, third: false, fifth: true } }],
    );
    expect(said(registerBytes, base)).toEqual([ofModule("a"), ofModule("d"), ofImage]);
    // The bit of module c is off now, which is right, and on were its bytes exchanged.
    expect(judged(registerBytes, base)).toEqual([
      { fixes: [1], breaks: [] },
      { fixes: [4], breaks: [] },
      { fixes: [1, 4], breaks: [3] },
    ]);
  });

  // What is said, by where the modules start and end; the facts are of the module named b.
  test.each<[string, Module[], Placement, string, string[]]>([
    ["not where it starts inside a register", [bits("a", "x", 7), bits("b", "y", 7)], {}, "01 00", [readThem]],
    [
      "where both start a register, an odd byte or not",
      [bits("a", "x", 7), bits("b", "y", 7)],
      { alignment: 2, lengthMultiple: 2 },
      "00 00 00 01",
      [ofModule("b"), ofImage],
    ],
    [
      "not where another module has the other byte of its last register",
      [bits("b", "y", 7), bits("a", "x", 7)],
      {},
      "00 01",
      [readThem],
    ],
    [
      "where no module has that byte",
      [bits("b", "y", 7), { name: "horn", outputs: [bit("sounds")] }],
      { lengthMultiple: 2 },
      "00 01",
      [ofModule("b"), ofImage],
    ],
    [
      "where that byte is its own reserve",
      [{ ...bits("b", "y", 7), inputBytes: 2 }, bits("a", "x", 15)],
      {},
      "00 01 00 00",
      [ofModule("b"), ofImage],
    ],
    [
      "not where its reserve has no room for that byte",
      [{ ...bits("b", "y", 7), inputBytes: 1 }],
      { lengthMultiple: 2 },
      "00 01",
      [readThem],
    ],
    [
      "not where bits are packed, as a register may be of several modules",
      [bits("b", "y", 15)],
      { packing: "bit" },
      "00 01",
      [readThem],
    ],
    [
      "not even with a word before them",
      [{ name: "b", inputs: [word("n"), bit("y"), { spareBits: 15 }] }],
      { packing: "bit" },
      "00 00 00 01",
      [readThem],
    ],
  ])("%s", (_, modules, placement, inputs, says) => {
    const base = baseFor(rig(modules, placement), [{ inputs, known: { y: true } }]);
    expect(said(registerBytes, base)).toEqual(says);
    expect(judged(registerBytes, base)).toEqual(says.map(() => ({ fixes: [1], breaks: [] })));
    expectQuickIsFull(registerBytes, base);
  });

  test("packing is of bits: words alone are described under it as ever", () => {
    const base = baseFor(rig([{ name: "b", inputs: [word("n")] }], { packing: "bit" }), [
      { inputs: "2C 01", known: { n: 300 } },
    ]);
    expect(said(registerBytes, base)).toEqual([ofImage]);
  });
});

describe("the image", () => {
  test("of an odd number of bytes keeps its last, which a description would push out of the frame", () => {
    const base = baseFor(rig([{ name: "m", inputs: [word("kegs"), bit("full")] }]), [
      { inputs: "2C 01 01", known: { kegs: 300, full: true } },
    ]);
    expect(said(registerBytes, base)).toEqual([ofModule("m"), readThem]);
    expect(judged(registerBytes, base)).toEqual([
      { fixes: [1], breaks: [0, 2] },
      { fixes: [1], breaks: [] },
    ]);
  });

  test("is described as a whole or not at all", () => {
    const total: Module = { name: "total", inputs: [{ name: "sum", type: "uint24" }, byte("step")] };
    const limits: Module = { name: "limits", inputs: [bit("doorClosed"), { spareBits: 15 }] };
    for (const modules of [
      [total, limits],
      [limits, total],
    ]) {
      const inputs = modules[0] === total ? "00 00 00 00 00 01" : "00 01 00 00 00 00";
      const base = baseFor(rig(modules), [{ inputs, known: { doorClosed: true } }]);
      expect(said(registerBytes, base)).toEqual([ofModule("limits"), readThem]);
    }
  });

  test("of each direction is looked at where something of it is wrong", () => {
    const station: Station = {
      ...{ format: 1, name: "rig", byteOrder: "big" },
      placement: { inputs: { packing: "byte" } },
      modules: [
        { name: "sensors", inputs: [word("level")] },
        { name: "drive", inputs: [], outputs: [word("speed")] },
        { name: "horn", outputs: [bit("sounds"), { spareBits: 15 }] },
      ],
    };
    const rows = (known: object) =>
      [...registerBytes(baseFor(station, [{ inputs: "2C 01", outputs: "DC 05 00 01", known: known as never }]))].map(
        (each) => told(each).at,
      );
    expect(rows({ level: 0x2c01, speed: 0xdc05, sounds: false })).toEqual([]);
    expect(rows({ level: 300, speed: 0xdc05, sounds: false })).toEqual(["inputs - -"]);
    expect(rows({ level: 0x2c01, speed: 1500, sounds: true })).toEqual(["outputs horn -", "outputs - -"]);
    expect(rows({ level: 300, sounds: true })).toEqual(["inputs - -", "outputs horn -", "outputs - -"]);
  });
});
