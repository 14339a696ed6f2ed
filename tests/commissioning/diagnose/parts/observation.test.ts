// Observations as they come from people and files: what is checked, and what comes of them.

import { assemble } from "byterail";
import { describe, expect, test } from "vitest";
import { checkObservations } from "../../../../packages/commissioning/src/diagnose/observation.js";
import { problemsOf } from "../../../support/problems.js";

const layout = assemble({
  format: 1,
  name: "filler",
  byteOrder: "big",
  modules: [
    {
      name: "io",
      inputs: [
        { name: "level", type: "uint16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
        { name: "speed", type: "int16" },
        { name: "litres", type: "uint64" },
        { name: "position", type: "int64" },
        { name: "mass", type: "float64" },
        { name: "full", type: "bit" },
        { word: 64, fields: [{ name: "ticks", bits: 53, shift: 0 }] },
      ],
      outputs: [
        { name: "speed", type: "int16" },
        { name: "valve", type: "bit" },
      ],
    },
  ],
});

const told = (...data: readonly unknown[]) =>
  problemsOf(() => checkObservations(layout, data)).map(({ code, path, message }) => `${code} ${path}: ${message}`);
const at = (rest: string) => `observations[0]${rest}`;

describe("what is refused, with its place and what would be right", () => {
  test.each<[string, unknown, readonly string[]]>([
    ["a number", 5, ["observation.shape observations[0]: must be an object { inputs or outputs, known }"]],
    ["null", null, ["observation.shape observations[0]: must be an object { inputs or outputs, known }"]],
    ["a list", [], ["observation.shape observations[0]: must be an object { inputs or outputs, known }"]],
    [
      "nothing in it",
      {},
      [
        `observation.frame ${at("")}: needs the bytes of inputs or outputs`,
        `observation.known ${at(".known")}: must be an object of what is known, by point`,
      ],
    ],
    [
      "a key that is none",
      { inputs: "00", known: {}, note: "", "x-note": "", title: "" },
      [`observation.key ${at(".note")}: is no key of an observation; known are inputs, outputs, known, title`],
    ],
    [
      "a key that only ends like one of one's own",
      { inputs: "00", known: {}, "a-x-": "" },
      [`observation.key ${at(".a-x-")}: is no key of an observation; known are inputs, outputs, known, title`],
    ],
    ["bytes as numbers", { inputs: [1], known: {} }, [`hex.syntax ${at(".inputs")}: must be a text of hex pairs`]],
    ["bytes as null", { outputs: null, known: {} }, [`hex.syntax ${at(".outputs")}: must be a text of hex pairs`]],
    [
      "what is known as a list",
      { inputs: "00", known: [] },
      [`observation.known ${at(".known")}: must be an object of what is known, by point`],
    ],
    [
      "a point that there is not",
      { inputs: "00", known: { mas: 1 } },
      [`known.unknown ${at(".known.mas")}: is no point of the station`],
    ],
    [
      "a point in other letters",
      { inputs: "00", known: { LEVEL: 1 } },
      [`known.unknown ${at(".known.LEVEL")}: is no point of the station; did you mean level?`],
    ],
    [
      "an output in other letters",
      { inputs: "00", known: { Valve: true } },
      [`known.unknown ${at(".known.Valve")}: is no point of the station; did you mean valve?`],
    ],
    [
      "an output in a frame of inputs",
      { inputs: "00", known: { valve: true } },
      [`known.direction ${at(".known.valve")}: is a point of the outputs, of which this observation has no frame`],
    ],
    [
      "an input in a frame of outputs",
      { outputs: "00", known: { mass: 1 } },
      [`known.direction ${at(".known.mass")}: is a point of the inputs, of which this observation has no frame`],
    ],
    [
      "a name of both directions, with both frames",
      { inputs: "00", outputs: "00", known: { speed: 1 } },
      [
        `known.ambiguous ${at(".known.speed")}: is a point of the inputs and of the outputs; give the two frames as observations of their own`,
      ],
    ],
    [
      "a bit as a number",
      { inputs: "00", known: { full: 1 } },
      [`known.type ${at(".known.full")}: must be true or false`],
    ],
    [
      "a number as a text",
      { inputs: "00", known: { level: "1" } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
    [
      "a number as a bit",
      { inputs: "00", known: { level: true } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
    [
      "no number at all",
      { inputs: "00", known: { level: Number.NaN } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
    [
      "a real of 64 bits as a text",
      { inputs: "00", known: { mass: "1" } },
      [`known.type ${at(".known.mass")}: must be a number, or { value, within }`],
    ],
    [
      "53 bits as a text, which a number holds",
      { inputs: "00", known: { ticks: "1" } },
      [`known.type ${at(".known.ticks")}: must be a number, or { value, within }`],
    ],
    [
      "64 bits as a text that is no number",
      { inputs: "00", known: { litres: "1e3" } },
      [`known.type ${at(".known.litres")}: must be a whole number, as a number or as decimal text`],
    ],
    [
      "with something before it",
      { inputs: "00", known: { litres: "+1" } },
      [`known.type ${at(".known.litres")}: must be a whole number, as a number or as decimal text`],
    ],
    [
      "an empty text",
      { inputs: "00", known: { litres: "" } },
      [`known.type ${at(".known.litres")}: must be a whole number, as a number or as decimal text`],
    ],
    [
      "with 33 digits",
      { inputs: "00", known: { litres: "1".repeat(33) } },
      [`known.type ${at(".known.litres")}: must be a whole number, as a number or as decimal text`],
    ],
    [
      "64 bits without an end",
      { inputs: "00", known: { litres: Infinity } },
      [`known.type ${at(".known.litres")}: must be a whole number, as a number or as decimal text`],
    ],
    [
      "an error below 0",
      { inputs: "00", known: { level: { value: 1, within: -0.1 } } },
      [`known.within ${at(".known.level.within")}: must be a number of 0 or more, in the unit of the value`],
    ],
    [
      "an error without an end",
      { inputs: "00", known: { level: { value: 1, within: Infinity } } },
      [`known.within ${at(".known.level.within")}: must be a number of 0 or more, in the unit of the value`],
    ],
    [
      "an error as a text",
      { inputs: "00", known: { level: { value: 1, within: "1" } } },
      [`known.within ${at(".known.level.within")}: must be a number of 0 or more, in the unit of the value`],
    ],
    [
      "an error of what is no point",
      { inputs: "00", known: { lvl: { value: 1, within: "1" } } },
      [
        `known.unknown ${at(".known.lvl")}: is no point of the station`,
        `known.within ${at(".known.lvl.within")}: must be a number of 0 or more, in the unit of the value`,
      ],
    ],
    [
      "other keys of what is known",
      { inputs: "00", known: { level: { value: 1, within: 0, unit: "%" } } },
      [`known.key ${at(".known.level.unit")}: is no key of what is known; there are value and within`],
    ],
    [
      "no value in it",
      { inputs: "00", known: { level: { within: 0 } } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
    [
      "a list of two",
      { inputs: "00", known: { level: [1, 2] } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
    [
      "null",
      { inputs: "00", known: { level: null } },
      [`known.type ${at(".known.level")}: must be a number, or { value, within }`],
    ],
  ])("%s", (_, observation, problems) => {
    expect(told(observation)).toEqual(problems);
  });

  test("half a byte and a digit that is none, as everywhere", () => {
    const codes = (inputs: string) => problemsOf(() => checkObservations(layout, [{ inputs, known: {} }]));
    for (const hex of ["0", "0G"])
      expect(codes(hex).map(({ code, path }) => [code, path])).toEqual([["hex.syntax", "observations[0].inputs"]]);
  });

  test("all of all observations at once, each with its index", () => {
    expect(told({ inputs: "00", known: {} }, null, { known: {} })).toEqual([
      "observation.shape observations[1]: must be an object { inputs or outputs, known }",
      "observation.frame observations[2]: needs the bytes of inputs or outputs",
    ]);
  });

  test.each([
    ["no list", {}, "must be a list of { inputs or outputs, known }"],
    ["an empty list", [], "must hold one observation or more"],
  ])("%s", (_, data, message) => {
    expect(problemsOf(() => checkObservations(layout, data))).toEqual([
      { code: "observations.list", path: "observations", message },
    ]);
  });
});

describe("what comes of them", () => {
  const known = (data: Record<string, unknown>) =>
    checkObservations(layout, [data])[0]!.known.map(({ point, direction, value, within }) => [
      direction,
      point.name,
      value,
      within,
    ]);

  test.each<[string, Record<string, unknown>, readonly unknown[]]>([
    ["a number, known to the count", { level: 6.2 }, [["inputs", "level", 6.2, 0]]],
    ["a number with its error", { level: { value: 6.2, within: 0.5 } }, [["inputs", "level", 6.2, 0.5]]],
    ["an error of 0", { level: { value: 6.2, within: 0 } }, [["inputs", "level", 6.2, 0]]],
    ["a bit", { full: false }, [["inputs", "full", false, 0]]],
    ["a bit has no error, whatever is said", { full: { value: true, within: 1 } }, [["inputs", "full", true, 0]]],
    ["64 bits as decimal text", { litres: "18446744073709551615" }, [["inputs", "litres", 2n ** 64n - 1n, 0]]],
    ["a negative one", { position: "-9223372036854775808" }, [["inputs", "position", -(2n ** 63n), 0]]],
    ["with 32 digits", { litres: "1".repeat(32) }, [["inputs", "litres", BigInt("1".repeat(32)), 0]]],
    ["with an error", { litres: { value: "70000", within: 10 } }, [["inputs", "litres", 70_000n, 10]]],
    ["64 bits as a number", { litres: 70_000 }, [["inputs", "litres", 70_000n, 0]]],
    ["as an estimate between counts", { litres: { value: 0.5, within: 1 } }, [["inputs", "litres", 0.5, 1]]],
    ["a real of 64 bits stays a number", { mass: 5 }, [["inputs", "mass", 5, 0]]],
    [
      "several, in their order",
      { full: true, speed: -5 },
      [
        ["inputs", "full", true, 0],
        ["inputs", "speed", -5, 0],
      ],
    ],
  ])("%s", (_, data, wanted) => {
    expect(known({ inputs: "00", known: data })).toEqual(wanted);
  });

  test("a name of both directions is told by the frame that there is", () => {
    expect(known({ inputs: "00", known: { speed: 1 } })).toEqual([["inputs", "speed", 1, 0]]);
    expect(known({ outputs: "00", known: { speed: 1 } })).toEqual([["outputs", "speed", 1, 0]]);
  });

  test("bytes of either direction or both, of any length", () => {
    const framesOf = (data: object) => checkObservations(layout, [{ ...data, known: {} }])[0]!.frames;
    expect(framesOf({ inputs: "" })).toEqual({ inputs: new Uint8Array(0) });
    expect(framesOf({ inputs: "01 A5", outputs: "ff" })).toEqual({
      inputs: Uint8Array.of(0x01, 0xa5),
      outputs: Uint8Array.of(0xff),
    });
  });

  test("the point is that of the layout, with all that is known of its place", () => {
    const [first] = checkObservations(layout, [{ outputs: "00", known: { valve: true } }])[0]!.known;
    expect(first!.point).toBe(layout.outputs.points.find(({ name }) => name === "valve"));
  });
});
