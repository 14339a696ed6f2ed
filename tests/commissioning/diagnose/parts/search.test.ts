// The search: every cause on its own; where none accounts for all that is wrong, pairs.

import type { Observation } from "@byterail/commissioning";
import type { Entry, Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import { changeBetween } from "../../../../packages/commissioning/src/diagnose/change.js";
import {
  type Effect,
  everywhere,
  type Hypothesis,
} from "../../../../packages/commissioning/src/diagnose/hypothesis.js";
import { after as baseAfter, type Found, search } from "../../../../packages/commissioning/src/diagnose/search.js";
import { baseFor } from "../trial.js";

const rig = (...modules: Module[]): Station => ({ format: 1, name: "rig", byteOrder: "big", modules });
const word = (name: string, more: object = {}) => ({ name, type: "uint16", ...more }) as Entry;

// Inputs: a at byte 0, b at byte 3. No register holds a byte of both, and no channel of the one is beside the other's.
const two = (a: object = {}, b: object = {}) =>
  rig({ name: "m", inputs: [word("a", a)] }, { name: "n", inputs: [{ spare: 1 }, word("b", b)] });

/** What is found, as rows: the causes of each answer, and the facts that it makes right. */
function found(base: Base): readonly string[] {
  return search(base).map((each) => `${each.fixes.join()}: ${each.parts.map(({ says }) => says).join(" And: ")}`);
}

/** What is found with two causes. */
const pairsOf = (base: Base) => search(base).filter(({ parts }) => parts.length === 2);

/** The change of the description that an answer stands for; null where the description stays. */
function changeOf(base: Base, { station }: Found) {
  return station() === base.station ? null : changeBetween(base.station, station());
}

const little = (name: string) => `${name} has its bytes in little-endian order, not big-endian.`;
const signed = (name: string) => `The counts of ${name} are signed (two's complement), not unsigned.`;
const stuck = (name: string, frames: number) =>
  `${name} is stuck: it reads the same in all ${frames} frames in which it is known, while the truth changed. Look at the sensor, its wiring and its channel.`;

describe("one cause", () => {
  test("where nothing is wrong nothing is looked for", () => {
    expect(search(baseFor(two(), [{ inputs: "12 34 FF 56 78", known: { a: 0x1234, b: 0x5678 } }]))).toEqual([]);
  });

  test("where one accounts for all, only single causes are told, with those that account for a part", () => {
    // Facts: 0 the length, 1 a, 2 b. Pairs of the parts would say no more than the station as a whole.
    const base = baseFor(two(), [{ inputs: "12 34 FF 56 78", known: { a: 0x3412, b: 0x7856 } }]);
    expect(found(base)).toEqual([
      `1,2: ${little("The station")}`,
      `1: ${little("Module m")}`,
      `2: ${little("Module n")}`,
      `1: ${little("a")}`,
      `2: ${little("b")}`,
      "1: The bytes of each 16-bit register of the inputs are exchanged. Read the registers with the other byte first.",
    ]);
  });

  test("each leads to a description and a reading of its own, or to the reading of an edited frame alone", () => {
    const base = baseFor(two(), [{ inputs: "12 34 FF 56 78", known: { a: 0x3412, b: 0x7856 } }]);
    const answers = search(base);
    expect(answers.map((each) => changeOf(base, each))).toEqual([
      [{ op: "replace", path: "/byteOrder", value: "little" }],
      [{ op: "add", path: "/modules/0/byteOrder", value: "little" }],
      [{ op: "add", path: "/modules/1/byteOrder", value: "little" }],
      [{ op: "add", path: "/modules/0/inputs/0/byteOrder", value: "little" }],
      [{ op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" }],
      null,
    ]);
    // Length, a, b.
    expect(answers.map(({ reading }) => reading()?.right)).toEqual([
      [true, true, true],
      [true, true, false],
      [true, false, true],
      [true, true, false],
      [true, false, true],
      [true, true, false],
    ]);
  });

  test("what can be written in two ways is told once", () => {
    // On a channel set to 0 to 20 mA 4 mA are 4000 counts: 5000 are 5 mA, a sixteenth of 10 bar. One may write that by the
    // counts of 4 and 20 mA or by the values at 0 and 20 mA.
    const scale = { counts: [0, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" };
    const base = baseFor(two({ scale }), [{ inputs: "13 88", known: { a: { value: 0.625, within: 0.001 } } }]);
    const set = "The channel of a is set to 0-20 mA, so its counts stand for another signal.";
    const answers = search(base).filter(({ parts }) => parts[0]!.says === set);
    expect(answers.map((each) => changeOf(base, each))).toEqual([
      [{ op: "replace", path: "/modules/0/inputs/0/scale/counts", value: [4000, 20000] }],
    ]);
  });

  test("one that breaks a fact is none", () => {
    // b is right as described; it would not be in little-endian order, nor with FF 56 for a register.
    const base = baseFor(two(), [{ inputs: "12 34 FF 56 78", known: { a: 0x3412, b: 0x5678 } }]);
    expect(found(base)).toEqual([`1: ${little("Module m")}`, `1: ${little("a")}`]);
  });
});

describe("two causes at different points", () => {
  test("each does its part, and together they leave nothing", () => {
    const base = baseFor(two({}, { type: "int16" }), [
      { inputs: "F2 34 FF 96 78", known: { a: 0xf234 - 65536, b: 0x7896 } },
    ]);
    const answers = pairsOf(base);
    // Facts 1 and 2 in this order, whichever part comes first.
    expect(answers.map(({ fixes, parts }) => [fixes, parts.map(({ says }) => says)])).toEqual([
      [
        [1, 2],
        [little("b"), signed("a")],
      ],
      [
        [1, 2],
        [little("Module n"), signed("a")],
      ],
    ]);
    expect(answers.map((each) => changeOf(base, each))).toEqual([
      [
        { op: "replace", path: "/modules/0/inputs/0/type", value: "int16" },
        { op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" },
      ],
      [
        { op: "replace", path: "/modules/0/inputs/0/type", value: "int16" },
        { op: "add", path: "/modules/1/byteOrder", value: "little" },
      ],
    ]);
    expect(answers.map(({ reading }) => reading()?.right)).toEqual([
      [true, true, true],
      [true, true, true],
    ]);
    const [{ reading }] = answers as [Found];
    expect(reading(), "worked out once").toBe(reading());
  });

  describe("a signal at fault is one of them, or both are, and the description changes as much as the other says", () => {
    const orders = [{ op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" }];
    // a reads 5 all the time; of b, 56 78, it is known what it is in little-endian order.
    test.each<[string, readonly Observation[], readonly [string, string], unknown]>([
      [
        "the signal makes more facts right",
        [
          { inputs: "00 05 FF 56 78", known: { a: 7, b: 0x7856 } },
          { inputs: "00 05 FF 55 55", known: { a: 8, b: 0x5555 } },
        ],
        [stuck("a", 2), little("b")],
        orders,
      ],
      [
        "the description makes more facts right",
        [
          { inputs: "00 05 FF 56 78", known: { a: 5, b: 0x7856 } },
          { inputs: "00 05 FF 56 76", known: { a: 8, b: 0x7656 } },
        ],
        [little("b"), stuck("a", 2)],
        orders,
      ],
      [
        "two signals",
        [
          { inputs: "00 05 FF 00 06", known: { a: 5, b: 61 } },
          { inputs: "00 05 FF 00 06", known: { a: 8, b: 62 } },
        ],
        [stuck("b", 2), stuck("a", 2)],
        [],
      ],
    ])("%s", (_, observations, says, change) => {
      const base = baseFor(two(), observations);
      const answer = pairsOf(base)[0]!;
      expect(answer.parts.map((part) => part.says)).toEqual(says);
      expect(changeBetween(base.station, answer.station())).toEqual(change);
      expect(answer.station() === base.station).toBe(change !== orders);
      expect(answer.reading()?.right).toEqual(base.right.map(() => true));
    });
  });

  test("two causes at one point are no pair, although each makes another fact right", () => {
    // a is F234h in little-endian order in the first frame, and signed in the second.
    const base = baseFor(two(), [
      { inputs: "F2 34 FF 00 01", known: { a: 0x34f2, b: 1 } },
      { inputs: "F2 35 FF 00 02", known: { a: 0xf235 - 65536, b: 2 } },
    ]);
    expect(found(base)).toEqual([`1: ${little("Module m")}`, `1: ${little("a")}`, `4: ${signed("a")}`]);
  });

  test("a scale that can be written in two ways is written in the way that can stand", () => {
    // 5000 counts are 8 mA as described, but the instrument sends 0 to 20 mA: 8 mA are 6.4 of 16 bar. By counts its span
    // would begin at −5000, which a word without a sign does not have; by values the counts begin at 3.2 bar.
    const scale = { counts: [0, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 16], unit: "bar" };
    const base = baseFor(two({ scale }), [
      { inputs: "13 88 FF 56 78", known: { a: { value: 6.4, within: 0.01 }, b: 0x7856 } },
    ]);
    const answer = pairsOf(base)[0]!;
    expect(answer.parts.map(({ says }) => says)).toEqual([
      little("b"),
      "The instrument of a sends 0-20 mA, another signal than described.",
    ]);
    expect(changeOf(base, answer)).toEqual([
      { op: "replace", path: "/modules/0/inputs/0/scale/value", value: [3.2, 16] },
      { op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" },
    ]);
    expect(answer.reading()?.right).toEqual([true, true, true]);
  });
});

describe("pairs that are none", () => {
  // Nothing makes 16 bits a number of ten digits, so no single cause explains everything.
  const never = { other: 1e9 };
  const beside = (station: Station): Station => {
    return { ...station, modules: [...station.modules, { name: "z", inputs: [word("other")] }] };
  };

  test("two that explain no more than one cause does", () => {
    const known = { a: 0x3412, b: 0x7856, ...never };
    const base = baseFor(beside(two()), [{ inputs: "12 34 FF 56 78 77 77", known }]);
    expect(found(base)[0]).toBe(`1,2: ${little("The station")}`);
    expect(pairsOf(base)).toEqual([]);
  });

  test("a signal that is stuck, and what would make some of its facts right", () => {
    const base = baseFor(beside(two()), [
      { inputs: "00 05 FF 00 01 77 77", known: { a: 0x500, ...never } },
      { inputs: "00 05 FF 00 01 77 78", known: { a: 8 } },
    ]);
    const singles = found(base);
    expect(singles).toContain(`1,4: ${stuck("a", 2)}`);
    expect(singles).toContain(`1: ${little("a")}`);
    expect(pairsOf(base)).toEqual([]);
  });

  test("channels exchanged, and another cause at one of the two", () => {
    // In the first frame each is known as what the other reads; in the others b is known as a signed number.
    const station = rig({ name: "m", inputs: [word("a"), word("b")] });
    const base = baseFor(station, [
      { inputs: "01 02 F3 04", known: { a: 0xf304, b: 0x102 } },
      { inputs: "01 03 F3 05", known: { b: 0xf305 - 65536 } },
      { inputs: "02 04 F3 06", known: { b: 0xf306 - 65536 } },
      { inputs: "03 05 F3 07", known: { b: 0xf307 - 65536 } },
    ]);
    const singles = found(base);
    expect(singles).toContain("1,2: a and b are exchanged: each comes on the channel of the other.");
    expect(singles).toContain(`4,6,8: ${signed("b")}`);
    expect(pairsOf(base)).toEqual([]);
  });
});

describe("two causes of which one moves everything", () => {
  // The tank comes first and the bits after it, the first of them at the top of its byte: 80h is door.
  const described = rig(
    { name: "limits", inputs: [{ name: "door", type: "bit" }] },
    { name: "level", inputs: [word("tank")] },
  );
  const observations: readonly [Observation, Observation] = [
    // As described door is read from 01h and is right by chance.
    { inputs: "01 05 80", known: { door: true, tank: 0x105 } },
    { inputs: "02 10 80", known: { door: true, tank: 0x210 } },
  ];

  test("the second is looked for on what the first one leaves, and may repair what that breaks", () => {
    const base = baseFor(described, observations);
    // Facts: 0 and 3 the lengths, 1 and 4 door, 2 and 5 tank.
    expect(base.right).toEqual([true, true, false, true, false, false]);
    const exchanged = "Modules limits and level are exchanged: each stands where the other is described.";
    expect(pairsOf(base).map(({ fixes, parts }) => [fixes, ...parts.map(({ says }) => says)])).toEqual([
      [[2, 4, 5], exchanged, "The bits of module limits start at the most significant bit of each byte."],
      [[2, 4, 5], exchanged, "The bits of all modules, inputs, start at the most significant bit of each byte."],
    ]);
    expect(pairsOf(base).map((each) => [each.station().modules, each.station().placement])).toEqual([
      [[described.modules[1], { ...described.modules[0], bitOrder: "msbFirst" }], undefined],
      [[described.modules[1], described.modules[0]], { inputs: { bitOrder: "msbFirst" } }],
    ]);
    for (const { reading } of pairsOf(base)) expect(reading()?.right).toEqual(base.right.map(() => true));
  });

  test("pairs that explain less than another are not told, though they were found before it", () => {
    // Of two words more, each in one frame, the sign makes two facts right together; the pair above makes three.
    const more: Station = {
      ...described,
      modules: [...described.modules, { name: "z", inputs: [word("u"), word("v")] }],
    };
    const [one, other] = observations;
    const base = baseFor(more, [
      { inputs: `${one.inputs} F2 34 F3 45`, known: { ...one.known, u: 0xf234 - 65536 } },
      { inputs: `${other.inputs} F2 34 F3 45`, known: { ...other.known, v: 0xf345 - 65536 } },
    ]);
    const singles = found(base);
    for (const name of ["u", "v"]) expect(singles.join()).toContain(signed(name));
    const pairs = pairsOf(base).map(
      ({ parts, fixes }) => `${parts.map(({ cause }) => cause).join(" ")} ${fixes.length}`,
    );
    expect(pairs).toContain("modulesExchanged bitOrder 3");
    expect(pairs.filter((pair) => !pair.endsWith(" 3"))).toEqual([]);
  });

  test("a second cause that does no more than repair what the first one breaks is none", () => {
    // The station in little-endian order would make a, b and d right and break c, which is right as described.
    const modules = [
      { name: "m", inputs: [word("a")] },
      { name: "n", inputs: [word("b")] },
      { name: "o", inputs: [word("c"), word("d")] },
    ] as const;
    const base = baseFor(rig(...modules), [
      { inputs: "12 34 56 78 9A BC 13 57", known: { a: 0x3412, b: 0x7856, c: 0x9abc, d: 0x5713 } },
    ]);
    const pairs = pairsOf(base);
    expect(pairs.length).toBeGreaterThan(0);
    for (const { fixes, parts } of pairs) {
      expect(fixes).toHaveLength(2);
      expect(parts.map(({ says }) => says)).not.toContain(little("The station"));
    }
  });
});

test("two causes at one point, the second on what the first one leaves", () => {
  // a is a signed number in little-endian order: 0512h in the first frame, F234h in the second, which needs both.
  const base = baseFor(two(), [
    { inputs: "12 05 FF 00 01", known: { a: 0x512, b: 1 } },
    { inputs: "34 F2 FF 00 01", known: { a: 0xf234 - 65536 } },
  ]);
  const pairs = pairsOf(base);
  expect(pairs.map(({ fixes, parts }) => [fixes, ...parts.map(({ says }) => says)])).toEqual([
    [[1, 4], little("Module m"), signed("a")],
    [[1, 4], little("a"), signed("a")],
  ]);
  expect(changeOf(base, pairs[1]!)).toEqual([
    { op: "replace", path: "/modules/0/inputs/0/type", value: "int16" },
    { op: "add", path: "/modules/0/inputs/0/byteOrder", value: "little" },
  ]);
});

test("a signal that stays where it is goes with any change: description unchanged but for the other", () => {
  const base = baseFor(two(), [
    { inputs: "00 05 FF 56 78", known: { a: 7, b: 0x7856 } },
    { inputs: "00 05 FF 56 76", known: { a: 8, b: 0x7656 } },
  ]);
  expect(pairsOf(base).map((each) => [each.parts.map(({ cause }) => cause).join(" "), changeOf(base, each)])).toEqual([
    ["byteOrder stuck", [{ op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" }]],
    ["byteOrder stuck", [{ op: "replace", path: "/byteOrder", value: "little" }]],
    ["byteOrder stuck", [{ op: "add", path: "/modules/1/byteOrder", value: "little" }]],
  ]);
});

describe("of more than a hundred wrong facts one cause makes a tenth right, or what comes right does so by chance", () => {
  const station = rig({ name: "m", inputs: [word("a"), word("b"), word("c"), word("other")] });

  // In so many frames a is known as a signed number; in two b and in two more c; in the rest something that no 16 bits are.
  function framesOf(wrong: number, signedFrames: number, unsignedFrames = 0): Observation[] {
    const known = (k: number): Observation["known"] =>
      k < signedFrames
        ? { a: 0xf200 + (k % 9) - 65536 }
        : k < signedFrames + 2
          ? { b: 0x8123 - 65536 }
          : k < signedFrames + 4
            ? { c: 0xa456 - 65536 }
            : k < wrong
              ? { other: 1e9 + k }
              : { a: 0xf200 + (k % 9) };
    return Array.from({ length: wrong + unsignedFrames }, (_, k) => ({
      inputs: `F2 0${k % 9} 81 23 A4 56 77 0${k % 9}`,
      known: known(k),
    }));
  }

  test.each<[string, Observation[], readonly string[]]>([
    ["100 wrong facts: pairs are looked for, however little they explain", framesOf(100, 3), ["a b", "a c"]],
    ["101, of which 10 come right: none", framesOf(101, 10), []],
    ["110, of which 11 come right, a tenth", framesOf(110, 11), ["a b", "a c"]],
    ["111, of which 11 come right", framesOf(111, 11), []],
    ["110, of which 11 come right and 2 that were right do not", framesOf(110, 11, 2), []],
    ["110, of which 12 come right and 1 that was right does not: the others are paired", framesOf(110, 12, 1), ["b c"]],
  ])("%s", (_, observations, expected) => {
    const base = baseFor(station, observations);
    const pairs = pairsOf(base);
    for (const { reading, fixes } of pairs)
      expect(reading()?.right).toEqual(base.right.map((right, k) => right || fixes.includes(k)));
    expect(pairs.map(({ parts }) => parts.map(({ where }) => where.point).join(" "))).toEqual(expected);
    for (const { parts } of pairs) expect(parts.map(({ cause }) => cause)).toEqual(["sign", "sign"]);
  });
});

describe("a pair is looked for from a bounded number of first causes, those that explain most and assume least", () => {
  // p is 5555h, which every byte of the frame but its own is: wherever it moves it is right. Three modules before it,
  // each with room for one more after it, make for more first causes than are followed. The second one is the sign of speed.
  function base(points: number, q?: Observation["known"][string]): Base {
    const fillers = Array.from({ length: points - 3 }, (_, k): Entry => ({ name: `f${k}`, type: "bit" }));
    const spare = (name: string): Module => ({ name, inputs: [{ spare: 4 }] });
    const station: Station = {
      ...rig(
        ...["first", "second", "third"].map(spare),
        { name: "m", inputs: [word("p"), word("q")] },
        { name: "drive", outputs: [word("speed"), ...fillers] },
      ),
      placement: { inputs: { length: 60 } },
    };
    const bytes = Array<string>(60).fill("55");
    // p is at byte 12, q at 14; what is known of q stands 16 bytes further on.
    for (const [at, byte] of [
      [12, "11"],
      [13, "12"],
      [14, "13"],
      [15, "14"],
      [30, "66"],
      [31, "67"],
    ] as const)
      bytes[at] = byte;
    const outputs = `F2 34 ${"00 ".repeat(Math.ceil((points - 3) / 8))}`;
    return baseFor(station, [
      { inputs: bytes.join(" "), outputs, known: { p: 0x5555, speed: 0xf234 - 65536, ...(q !== undefined && { q }) } },
    ]);
  }

  test.each([
    [60, 48],
    [300, 9],
    [430, 6],
    [700, 6],
  ])("of a station of %i points, %i", (points, followed) => {
    const given = base(points);
    const answers = search(given);
    const singles = answers.flatMap(({ parts: [only, second] }) => (second || only!.cause === "sign" ? [] : [only!]));
    expect(singles.length).toBeGreaterThan(48);
    // All of them explain p alone, so that what they assume decides.
    const byAssumption = [...singles].sort((a, b) => a.assumes - b.assumes).map(({ says }) => says);
    const pairs = answers.filter(({ parts }) => parts.length === 2);
    expect(pairs.map(({ parts }) => parts[1]!.cause)).toEqual(Array(followed).fill("sign"));
    expect(pairs.map(({ parts }) => parts[0]!.says)).toEqual(byAssumption.slice(0, followed));
  });

  test("one that explains more is followed, whatever it assumes; pairs that explain less are not told", () => {
    const pairs = pairsOf(base(430, 0x6667));
    const missing = (place: string) =>
      `A module that the description misses stands between ${place}; it takes 16 bytes of the inputs.`;
    expect(pairs.map(({ fixes, parts }) => [fixes, parts[0]!.says, parts[1]!.cause])).toEqual(
      ["first and second", "second and third", "third and m"].map((place) => [
        // Facts: the two lengths, p, speed, q.
        [2, 3, 4],
        missing(place),
        "sign",
      ]),
    );
  });
});

describe("a base after a hypothesis", () => {
  const base = baseFor(two(), [{ inputs: "12 34 FF 56 78", known: { a: 0x3412, b: 0x7856 } }]);
  const hypothesis = (effect: Effect, station: Hypothesis["station"] = null): Hypothesis => {
    return { cause: "length", where: everywhere, says: "", assumes: 0, effect, station };
  };

  test("it has the facts of the base, whose description stays where none is given", () => {
    const then = baseAfter(base, hypothesis({}))!;
    expect(then.facts).toBe(base.facts);
    expect(then.station).toBe(base.station);
    expect(then.layout).toBe(base.layout);
    expect([then.right, then.frames, then.excused, then.cut]).toEqual([
      base.right,
      base.frames,
      base.excused,
      base.cut,
    ]);
  });

  test("another description is placed and read", () => {
    const station: Station = { ...base.station, byteOrder: "little" };
    const then = baseAfter(
      base,
      hypothesis({}, () => station),
    )!;
    expect(then.station).toBe(station);
    expect(then.right).toEqual([true, true, true]);
  });

  test("of a description that cannot be there is none", () => {
    const station: Station = { ...base.station, modules: [{ name: "", inputs: [] }] };
    expect(
      baseAfter(
        base,
        hypothesis({}, () => station),
      ),
    ).toBeNull();
  });

  test("frames are edited", () => {
    const then = baseAfter(base, hypothesis({ frame: { direction: "inputs", does: "startsWithHeader", bytes: 3 } }))!;
    expect(then.frames).toEqual([{ inputs: Uint8Array.of(0x56, 0x78) }]);
    expect(then.right).toEqual([false, false, false]);
  });

  test("what signals account for, and lengths that frames may have, come to what there was", () => {
    const first = baseAfter(base, hypothesis({ excused: "inputs a", cut: { inputs: 3 } }))!;
    expect([[...first.excused], first.cut, first.right]).toEqual([["inputs a"], { inputs: 3 }, [true, true, false]]);
    const second = baseAfter(first, hypothesis({ excused: "inputs b", cut: { outputs: 4 } }))!;
    expect([[...second.excused], second.cut, second.right]).toEqual([
      ["inputs a", "inputs b"],
      { inputs: 3, outputs: 4 },
      [true, true, true],
    ]);
    expect([base.excused.size, base.cut]).toEqual([0, {}]);
    expect(baseAfter(second, hypothesis({ cut: { inputs: 9 } }))!.cut).toEqual({ inputs: 9, outputs: 4 });
  });
});
