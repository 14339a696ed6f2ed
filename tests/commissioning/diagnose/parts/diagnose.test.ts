// What a diagnosis returns: facts, explanations, how many there are, and what would separate them.

import { type Diagnosis, diagnose, type Observation } from "@byterail/commissioning";
import type { Entry, Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { diagnose as diagnosed } from "../../../../packages/commissioning/src/diagnose/diagnose.js";
import { codesOf } from "../../../support/problems.js";

const rig = (...modules: Module[]): Station => ({ format: 1, name: "rig", byteOrder: "big", modules });
const word = (name: string, more: object = {}) => ({ name, type: "uint16", ...more }) as Entry;

// Inputs: a at byte 0, b at byte 3.
const two = rig({ name: "m", inputs: [word("a")] }, { name: "n", inputs: [{ spare: 1 }, word("b")] });
const where = (point: string, module: string) => ({ direction: "inputs", module, point }) as const;
const little = (name: string) => `${name} has its bytes in little-endian order, not big-endian.`;
const signed = (name: string) => `The counts of ${name} are signed (two's complement), not unsigned.`;

test("it is the one of the package", () => {
  const observations = [{ inputs: "12 34 FF 56 78", known: { a: 0x3412 } }];
  expect(diagnosed(two, observations)).toEqual(diagnose(two, observations));
});

describe("what is returned as a whole, which JSON can hold", () => {
  const length = {
    observation: 0,
    direction: "inputs",
    point: null,
    known: 5,
    within: 0,
    unit: null,
    read: 5,
  } as const;
  const fact = { observation: 0, direction: "inputs", within: 0, unit: null } as const;

  test.each<[string, Observation, Diagnosis]>([
    [
      "one explanation",
      // F234h is 62004, or 62004 − 65536 with a sign.
      { inputs: "F2 34 FF 96 78", known: { a: -3532, b: 0x9678 } },
      {
        facts: [
          { ...length, right: true },
          { ...fact, point: "a", known: -3532, read: 62004, right: false },
          { ...fact, point: "b", known: 0x9678, read: 0x9678, right: true },
        ],
        explanations: [
          {
            rank: 1,
            parts: [{ cause: "sign", where: where("a", "m"), says: signed("a"), frame: null }],
            change: [{ op: "replace", path: "/modules/0/inputs/0/type", value: "int16" }],
            explains: [1],
            unexplained: [],
            says: signed("a"),
          },
        ],
        more: 0,
        leading: 1,
        nextObservation: null,
        verdict: "explained",
        says: "1 of 3 facts is wrong as described; one explanation accounts for it, and no other that was tried does as well.",
      },
    ],
    [
      "no fault",
      { inputs: "F2 34 FF 96 78", known: { a: 62004 } },
      {
        facts: [
          { ...length, right: true },
          { ...fact, point: "a", known: 62004, read: 62004, right: true },
        ],
        explanations: [],
        more: 0,
        leading: 0,
        nextObservation: null,
        verdict: "noFault",
        says: "All 2 facts agree with the description: no fault is claimed.",
      },
    ],
    [
      "nothing explains it",
      { inputs: "F2 34 FF 96 78", known: { a: 1e9 } },
      {
        facts: [
          { ...length, right: true },
          { ...fact, point: "a", known: 1e9, read: 62004, right: false },
        ],
        explanations: [],
        more: 0,
        leading: 0,
        nextObservation: null,
        verdict: "unexplained",
        says: "1 of 2 facts is wrong as described; nothing that was tried explains it without making another fact wrong. Check the facts, and whether the frame belongs to this station.",
      },
    ],
    [
      "a part is explained",
      { inputs: "F2 34 FF 96 78", known: { a: -3532, b: 1e9 } },
      {
        facts: [
          { ...length, right: true },
          { ...fact, point: "a", known: -3532, read: 62004, right: false },
          { ...fact, point: "b", known: 1e9, read: 0x9678, right: false },
        ],
        explanations: [
          {
            rank: 1,
            parts: [{ cause: "sign", where: where("a", "m"), says: signed("a"), frame: null }],
            change: [{ op: "replace", path: "/modules/0/inputs/0/type", value: "int16" }],
            explains: [1],
            unexplained: [2],
            says: signed("a"),
          },
        ],
        more: 0,
        leading: 1,
        nextObservation: null,
        verdict: "partlyExplained",
        says: "2 of 3 facts are wrong as described; the best explanation accounts for 1 of them. There may be more than two faults, a fault that is not tried, or a fact that is not true.",
      },
    ],
  ])("%s", (_, observation, expected) => {
    const diagnosis = diagnosed(two, [observation]);
    expect(diagnosis).toEqual(expected);
    expect(JSON.parse(JSON.stringify(diagnosis))).toEqual(expected);
  });

  test("two causes are told in one sentence, and changed together", () => {
    const { explanations } = diagnosed(two, [{ inputs: "F2 34 FF 96 78", known: { a: -3532, b: 0x7896 } }]);
    // Of the module it assumes less than of its only point.
    expect(explanations.map(({ rank, parts }) => `${rank} ${parts[0]!.says}`).slice(0, 2)).toEqual([
      `1 ${little("Module n")}`,
      `1 ${little("b")}`,
    ]);
    expect(explanations[1]).toEqual({
      rank: 1,
      parts: [
        { cause: "byteOrder", where: where("b", "n"), says: little("b"), frame: null },
        { cause: "sign", where: where("a", "m"), says: signed("a"), frame: null },
      ],
      change: [
        { op: "replace", path: "/modules/0/inputs/0/type", value: "int16" },
        { op: "add", path: "/modules/1/inputs/1/byteOrder", value: "little" },
      ],
      explains: [1, 2],
      unexplained: [],
      says: `${little("b")} And: ${signed("a")}`,
    });
  });

  test("where no description says it the frame is edited, and the description stays", () => {
    const { explanations } = diagnosed(two, [{ inputs: "12 34 FF 56 78", known: { a: 0x3412 } }]);
    const registers =
      "The bytes of each 16-bit register of the inputs are exchanged. Read the registers with the other byte first.";
    expect(explanations.find(({ says }) => says === registers)).toEqual({
      rank: 1,
      parts: [
        {
          cause: "registerBytes",
          where: { direction: "inputs", module: null, point: null },
          says: registers,
          frame: { direction: "inputs", does: "exchangeRegisterBytes", bytes: 0 },
        },
      ],
      change: null,
      explains: [1],
      unexplained: [],
      says: registers,
    });
  });

  test("a signal at fault changes nothing", () => {
    const { explanations } = diagnosed(two, [
      { inputs: "00 05 FF 00 01", known: { a: 7 } },
      { inputs: "00 05 FF 00 01", known: { a: 8 } },
    ]);
    expect(explanations.map(({ parts, change }) => [parts[0]!.cause, parts[0]!.frame, change])).toEqual([
      ["stuck", null, null],
    ]);
  });
});

describe("facts, with what the description reads", () => {
  const station = rig(
    { name: "limits", inputs: [{ name: "door", type: "bit" }] },
    {
      name: "m",
      inputs: [
        word("supply", { scale: { counts: [0, 1000], value: [0, 10], unit: "bar" } }),
        { name: "total", type: "uint64" },
        { name: "flow", type: "float32", unit: "l/min" },
        word("last"),
      ],
      outputs: [word("speed", { unit: "rpm" })],
    },
  );
  // door | supply total flow last: 620 counts are 6.2 bar, 2^53 + 1 is no number, 7F800000h is infinite.
  const inputs = "01 | 02 6C 00 20 00 00 00 00 00 01 7F 80 00 00";

  test("what is true, what is read, in which unit, in the order of the observations", () => {
    const known = {
      door: false,
      supply: { value: 6.2, within: 0.1 },
      total: "9007199254740993",
      flow: { value: 12, within: 1 },
      last: 5,
    };
    const { facts } = diagnosed(station, [
      { inputs: `${inputs} 00 05`, outputs: "05 DC", known: { ...known, speed: 1500 } },
      { inputs, known },
    ]);
    const row = ({ observation, direction, point, known: truth, within, unit, read, right }: (typeof facts)[number]) =>
      [`${observation} ${direction} ${point}`, truth, within, unit, read, right] as const;
    const same = (observation: number) =>
      [
        [`${observation} inputs door`, false, 0, null, true, false],
        [`${observation} inputs supply`, 6.2, 0.1, "bar", 6.2, true],
        [`${observation} inputs total`, "9007199254740993", 0, null, "9007199254740993", true],
        [`${observation} inputs flow`, 12, 1, "l/min", "Infinity", false],
      ] as const;
    expect(facts.map(row)).toEqual([
      // What is known of a length is how long the frame is; what is read, how long the image is as described.
      ["0 inputs null", 17, 0, null, 17, true],
      ["0 outputs null", 2, 0, null, 2, true],
      ...same(0),
      ["0 inputs last", 5, 0, null, 5, true],
      ["0 outputs speed", 1500, 0, "rpm", 1500, true],
      ["1 inputs null", 15, 0, null, 17, false],
      ...same(1),
      // The frame ends before it.
      ["1 inputs last", 5, 0, null, null, false],
    ]);
    expect(JSON.parse(JSON.stringify(facts))).toEqual(facts);
  });
});

test("a point may be named null, and is not taken for the length of the frame", () => {
  const { facts } = diagnosed(rig({ name: "m", inputs: [word("null")] }), [{ inputs: "00 07", known: { null: 7 } }]);
  expect(facts.map(({ point, read }) => [point, read])).toEqual([
    [null, 2],
    ["null", 7],
  ]);
});

describe("how many are listed", () => {
  // p is 5555h, which every byte of the frame but its own is: wherever it moves it is right, and much can move it.
  const spare = (name: string): Module => ({ name, inputs: [{ spare: 4 }] });
  const station: Station = {
    ...rig(...["k1", "k2", "k3", "k4", "k5", "k6"].map(spare), { name: "m", inputs: [word("p")] }),
    placement: { inputs: { length: 60 } },
  };
  const bytes = Array<string>(60).fill("55");
  bytes[24] = "11";
  bytes[25] = "12";
  const observations = [{ inputs: bytes.join(" "), known: { p: 0x5555 } }];
  const all = diagnosed(station, observations, { limit: 1000 });

  test("all, where there is room", () => {
    expect(all.explanations.length).toBeGreaterThan(100);
    expect(all).toMatchObject({ more: 0, leading: all.explanations.length, verdict: "tied" });
  });

  test.each<[string, { readonly limit?: number } | undefined, number]>([
    ["a hundred by default", undefined, 100],
    ["a hundred where other settings are made", {}, 100],
    ["as many as asked for", { limit: 3 }, 3],
    ["none", { limit: 0 }, 0],
  ])("%s; the rest is counted, and nothing else changes", (_, options, listed) => {
    expect(diagnosed(station, observations, options)).toEqual({
      ...all,
      explanations: all.explanations.slice(0, listed),
      more: all.explanations.length - listed,
    });
  });

  test("twelve of those that lead are compared, each by its number in the list", () => {
    // Nothing is known of another point, so that what separates them is another value of p.
    const more: Station = { ...station, modules: [...station.modules, { name: "z", inputs: [word("q")] }] };
    const { nextObservation, leading } = diagnosed(more, observations);
    expect(leading).toBeGreaterThan(12);
    const answers = nextObservation!.expected.flatMap((each) => each.answers).sort((a, b) => a - b);
    expect(answers).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
});

describe("what would separate those that lead", () => {
  // a and b of one module, both in the wrong order; the truth of a alone is known.
  const station = rig({ name: "m", inputs: [word("a")] }, { name: "n", inputs: [word("b")] });
  const known = { a: 0x3412 };

  test("a point that they read differently, and the answers that each value speaks for", () => {
    const { explanations, leading, nextObservation } = diagnosed(station, [{ inputs: "12 34 56 78", known }]);
    expect(explanations.map(({ says, rank }) => `${rank} ${says}`)).toEqual([
      `1 ${little("The station")}`,
      `1 ${little("Module m")}`,
      `1 ${little("a")}`,
      "1 The bytes of each 16-bit register of the inputs are exchanged.",
    ]);
    expect(leading).toBe(4);
    // 5678h as described is 22136, turned round it is 30806.
    expect(nextObservation).toMatchObject({
      observation: 0,
      direction: "inputs",
      point: "b",
      expected: [
        { answers: [1, 4], value: 0x7856 },
        { answers: [2, 3], value: 0x5678 },
      ],
    });
  });

  test("those on lower ranks are not compared", () => {
    // The signs of a, twice, and of b, once, are wrong: together they explain all, and each alone a part.
    const known = { a: 0xf234 - 65536 };
    const { explanations, leading, nextObservation } = diagnosed(two, [
      { inputs: "F2 34 FF 96 78", known: { ...known, b: 0x9678 - 65536 } },
      { inputs: "F2 34 FF 12 34", known },
    ]);
    expect(explanations.map(({ rank, says }) => `${rank} ${says}`)).toEqual([
      `1 ${signed("a")} And: ${signed("b")}`,
      `2 ${signed("a")}`,
      `3 ${signed("b")}`,
    ]);
    expect([leading, nextObservation]).toEqual([1, null]);
  });
});

describe("what cannot be diagnosed is refused, with every problem", () => {
  test.each<[string, Station, readonly Observation[], readonly string[]]>([
    ["a station that is none", rig({ name: "m", inputs: [word("a"), word("a")] }), [], ["name.duplicate"]],
    ["observations that are none", two, [{ inputs: "0", known: { c: 1 } }], ["hex.syntax", "known.unknown"]],
  ])("%s", (_, station, observations, codes) => {
    expect(codesOf(() => diagnosed(station, observations))).toEqual(codes);
  });
});
