// The emitted Structured Text, evaluated by a small evaluator that takes as little as the standard promises.

import { generate, type GenerateOptions } from "@byterail/generate";
import { assemble, type CountsCode, type ImageLayout, type Layout, type Station } from "byterail";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stationsToCompare } from "../support/nightly.js";
import { problemsOf } from "../support/problems.js";
import { awkwardStations, decorated } from "./support/awkward.js";
import { hostileLayouts } from "./support/hostile.js";
import { frameOf, randomFrom, richLayouts, valuesOf } from "./support/stations.js";
import { type Counter, judgeInputs, judgeOutputs, memberOf } from "./support/structured-text/agreement.js";
import { elementsOf, frameFrom } from "./support/structured-text/elements.js";
import { load, type Program } from "./support/structured-text/evaluator.js";
import { standardFunction } from "./support/structured-text/functions.js";
import { nameProblem, tokensOf } from "./support/structured-text/lexer.js";

const modes = ["integer", "real", "lreal"] as const;
const exposures = ([8, 16, 32] as const).flatMap((elements) =>
  (["lowFirst", "highFirst"] as const).map((elementOrder) => ({ elements, elementOrder })),
);

const made = (layout: Layout, options: GenerateOptions = {}) => generate(layout, ["structured-text"], options);
const textOf = (layout: Layout, options: GenerateOptions = {}) => made(layout, options).files[0]!.text;

describe("the evaluator knows its values", () => {
  const run = (name: string, types: readonly string[], ...list: (bigint | number)[]) =>
    standardFunction(name.toLowerCase(), types)!.run(list);

  // IEC 61131-3, table 25.
  test("shifts and rotations", () => {
    expect(run("SHL", ["BYTE", "INT"], 0x45n, 2n)).toBe(0x14n);
    expect(run("ROL", ["BYTE", "INT"], 0x45n, 2n)).toBe(0x15n);
  });

  // IEC 61131-3, table 22.
  test.each([
    [1.5, 2n],
    [2.5, 2n],
    [-1.5, -2n],
    [-2.5, -2n],
    [1.4, 1n],
    [-1.6, -2n],
  ])("REAL %d becomes INT %d", (real, whole) => {
    expect(run("REAL_TO_INT", ["REAL"], real)).toBe(whole);
  });

  // IEC 61131-3, table 22.
  test("BCD", () => {
    expect(run("USINT_TO_BCD_BYTE", ["USINT"], 25n)).toBe(0b0010_0101n);
    expect(run("WORD_BCD_TO_UINT", ["WORD"], 0b0011_0110_1001n)).toBe(369n);
  });

  const evaluated = (type: string, expression: string) =>
    load(`FUNCTION f : ${type} VAR_INPUT x : ${type}; END_VAR f := ${expression}; END_FUNCTION`);

  // IEC 61131-3, table 24: integer division cuts towards zero; table 52: precedence.
  test.each([
    ["7 / x", 2n],
    ["-7 / x", -2n],
    ["7 MOD x", 1n],
    ["-7 MOD x", -1n],
    ["1 + 2 * x", 7n],
    ["-x + 10 - 3 - 2", 2n],
    ["LIMIT(0, 2 * x, 5)", 5n],
    ["ABS(-x)", 3n],
  ])("%s with x = 3 is %d", (expression, result) => {
    expect(evaluated("INT", expression).evaluate("f", 3n)).toBe(result);
  });

  test.each([
    ["INT", "x * 20000", 2n, "overflows INT"],
    ["INT", "x / 0", 2n, "Division by zero"],
    ["SINT", "-x", -128n, "overflows SINT"],
    ["USINT", "x - 3", 2n, "overflows USINT"],
    ["INT", "DINT_TO_INT(INT_TO_DINT(x) * 20000)", 2n, "overflows INT"],
    ["BYTE", "WORD_TO_BYTE(SHL(BYTE_TO_WORD(x), 4))", 0xffn, "overflows BYTE"],
    ["BYTE", "SHL(x, 8)", 1n, "a shift of BYTE by 8"],
    ["REAL", "x * 1.0E30", 1e30, "overflows REAL"],
    ["REAL", "SQRT(x)", -1, "the root of -1"],
    ["INT", "REAL_TO_INT(INT_TO_REAL(x) * 1000.0)", 100n, "overflows INT"],
  ])("an error: %s %s", (type, expression, x, message) => {
    expect(() => evaluated(type, expression).evaluate("f", x)).toThrow(message);
  });

  test.each([
    ["INT", "x + 1.0", "1 as INT"],
    ["REAL", "x + 1", "1 as REAL"],
    ["INT", "x + 40000", "overflows INT"],
    ["INT", "INT_TO_DINT(x)", "DINT where INT is wanted"],
    ["WORD", "x AND 255", "255 as WORD"],
    ["WORD", "BYTE_TO_UINT(16#01)", "no function"],
    ["INT", "y", "y is not declared"],
    ["INT", "reel(x)", "no function reel"],
  ])("refused: %s %s", (type, expression, message) => {
    expect(() => evaluated(type, expression)).toThrow(message);
  });

  test.each(["end_IF", "Limit", "byte_to_uint", "a__b", "a_", "R_Trig", "Real", "x".repeat(33)])(
    "no name: %s",
    (name) => {
      expect(nameProblem(name)).not.toBeNull();
    },
  );
});

const stationCount = stationsToCompare(200);
const framesEach = 2;

describe("Structured Text agrees with the core", () => {
  const layouts = richLayouts(stationCount, 61);

  test.for(modes)(
    `in ${stationCount} random stations and ${2 * framesEach} frames each, arithmetic %s`,
    { timeout: 500 * stationCount },
    (arithmetic, { task }) => {
      const random = randomFrom(modes.indexOf(arithmetic) + 71);
      const counter: Counter = { fixed: 0, lreal: 0, real: 0, health: 0, special: 0 };
      let cases = 0;
      for (const [k, layout] of layouts.entries()) {
        const options = {
          ...exposures[k % exposures.length]!,
          arithmetic,
          decimals: Math.floor(k / exposures.length) % 7,
        };
        const { files, notes } = made(layout, options);
        expect(notes.filter(({ code }) => code === "scale.range")).toEqual([]);
        const program = load(files[0]!.text);
        for (const image of [layout.inputs, layout.outputs] as ImageLayout[])
          if (image.points.length > 0) {
            judged(image, program, layout.station.name, options, random, counter);
            cases += framesEach;
          }
      }
      task.meta.compared = { stations: stationCount, cases };
      const wanted = { integer: "fixed", real: "real", lreal: "lreal" } as const;
      expect(counter[wanted[arithmetic]]).toBeGreaterThan(500);
      expect(counter.health).toBeGreaterThan(500);
      expect(counter.special).toBeGreaterThan(5);
    },
  );

  test("whatever the elements, the image is the same", () => {
    const random = randomFrom(5);
    for (const layout of layouts.slice(0, 25)) {
      const frame = frameOf(layout.inputs, random);
      const all = exposures.map((exposure) =>
        layout.inputs.points.length > 0
          ? unpacked(load(textOf(layout, exposure)), layout.station.name, frame, exposure)
          : null,
      );
      for (const members of all) expect(members).toEqual(all[0]);
    }
  });
});

type Exposure = (typeof exposures)[number];

function unpacked(program: Program, station: string, frame: Uint8Array, { elements, elementOrder }: Exposure) {
  return program.instance(`${station}_Unpack`).call({ image: elementsOf(frame, elements, elementOrder) }).data;
}

function judged(
  image: ImageLayout,
  program: Program,
  station: string,
  options: Exposure & { decimals: number },
  random: () => number,
  counter: Counter,
): void {
  const { elements, elementOrder, decimals } = options;
  const inputs = image.direction === "inputs";
  const types = program.structure(`${station}_${inputs ? "Inputs" : "Outputs"}`);
  // One instance for all frames: nothing of an earlier call may shine through.
  const instance = program.instance(`${station}_${inputs ? "Unpack" : "Pack"}`);
  for (let n = 0; n < framesEach; n++) {
    if (inputs) {
      const frame = frameOf(image, random);
      const { data } = instance.call({ image: elementsOf(frame, elements, elementOrder) });
      judgeInputs(image, frame, data, types, decimals, counter);
    } else {
      const values = valuesOf(image, random);
      const data = Object.fromEntries(
        image.points.map((point) => [
          point.name,
          memberOf(point, values[point.name]!, types.get(point.name)!, decimals),
        ]),
      );
      const frame = frameFrom(instance.call({ data }).image, image.byteLength, elements, elementOrder);
      judgeOutputs(image, data, frame, types, decimals, counter);
    }
  }
}

const oneInput = (entry: object, byteOrder: "little" | "big" = "little") =>
  assemble({
    format: 1,
    name: "rig",
    byteOrder,
    modules: [
      {
        name: "m",
        inputs: [
          { name: "first", type: "bit" },
          { name: "x", type: "uint16", ...entry },
        ],
      },
    ],
  } as Station) as Layout;
const oneOutput = (entry: object) =>
  assemble({
    format: 1,
    name: "rig",
    byteOrder: "little",
    modules: [{ name: "m", outputs: [{ name: "x", type: "uint16", ...entry }] }],
  } as Station) as Layout;
const read = (layout: Layout, frame: number[], options: GenerateOptions = {}) =>
  load(textOf(layout, options))
    .instance("rig_Unpack")
    .call({ image: elementsOf(Uint8Array.from(frame), options.elements ?? 8, options.elementOrder ?? "lowFirst") })
    .data;
const written = (layout: Layout, x: bigint | number, options: GenerateOptions = {}) => [
  ...frameFrom(
    load(textOf(layout, options)).instance("rig_Pack").call({ data: { x } }).image,
    layout.outputs.byteLength,
    options.elements ?? 8,
    options.elementOrder ?? "lowFirst",
  ),
];

describe("a word at an odd byte", () => {
  // Bytes 01 | 34 12: registers hold them as 3401 and 0012, or, high byte first, as 0134 and 1200.
  test.each([
    [8, "lowFirst", "bitsWord := BYTE_TO_WORD(image[1]) OR SHL(BYTE_TO_WORD(image[2]), 8);"],
    [16, "lowFirst", "bitsWord := SHR(image[0], 8) OR SHL(image[1] AND 16#00FF, 8);"],
    [16, "highFirst", "bitsWord := (image[0] AND 16#00FF) OR SHL(SHR(image[1], 8), 8);"],
    [32, "lowFirst", "bitsWord := DWORD_TO_WORD(SHR(image[0], 8) AND 16#0000FFFF);"],
    [
      32,
      "highFirst",
      "bitsWord := DWORD_TO_WORD(SHR(image[0], 16) AND 16#000000FF) OR SHL(DWORD_TO_WORD(SHR(image[0], 8) AND 16#000000FF), 8);",
    ],
  ] as const)("in elements of %d bits, %s", (elements, elementOrder, statement) => {
    const layout = oneInput({});
    expect(textOf(layout, { elements, elementOrder })).toContain(`  ${statement}\n`);
    expect(read(layout, [1, 0x34, 0x12], { elements, elementOrder })).toEqual({ first: true, x: 0x1234n });
  });
});

describe("fixed point", () => {
  const supply = { scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" } };

  // 4 to 20 mA: 12 mA is half (IEC 60381-1).
  test.each([
    [4000, undefined, 0n],
    [12000, undefined, 5000n],
    [12000, 0, 5n],
    [20000, 6, 10_000_000n],
    [4004, 2, 0n], // 0.0025: a tie, to even
    [4024, 2, 2n], // 0.015: a tie, to even
    [4008, 2, 0n], // 0.005: a tie, to even
    [0, undefined, -2500n],
  ])("%d counts with %s decimals are %d", (counts, decimals, value) => {
    expect(read(oneInput(supply), [0, counts & 255, counts >> 8], decimals === undefined ? {} : { decimals }).x).toBe(
      value,
    );
  });

  // NAMUR NE 43: failure at 3.6 mA or less and at 21 mA or more, measurement from 3.8 to 20.5 mA.
  test.each([
    [3600, 3n],
    [3601, 1n],
    [3799, 1n],
    [3800, 0n],
    [20500, 0n],
    [20501, 2n],
    [20999, 2n],
    [21000, 4n],
  ])("%d counts have health %d", (counts, health) => {
    expect(read(oneInput(supply), [0, counts & 255, counts >> 8]).x_health).toBe(health);
  });

  test("the type is the narrowest that cannot overflow, and a comment tells what it must hold", () => {
    expect(textOf(oneInput(supply))).toContain("largest number on the way 327675, so DINT cannot overflow");
    const wide = oneInput({ type: "uint32", scale: { counts: [0, 2 ** 32 - 1], value: [0, 1000], unit: "L" } });
    const text = textOf(wide, { decimals: 6 });
    // 1000·10^6 / (2^32 − 1) in lowest terms is 200000000 / 858993459.
    expect(text).toContain(`largest number on the way ${200_000_000n * (2n ** 32n - 1n)}, so LINT cannot overflow`);
    expect(read(wide, [0, 255, 255, 255, 255], { decimals: 6 }).x).toBe(1_000_000_000n);
  });

  test("what has no exact whole numbers is LREAL, and that is reported", () => {
    const root = oneInput({ type: "int16", scale: { counts: [0, 1000], value: [0, 10], shape: "squareRoot" } });
    const fine = oneInput({ type: "uint32", scale: { counts: [0, 3], value: [0, 0.123456789012] } });
    for (const layout of [root, fine]) {
      expect(made(layout).notes.map(({ code, path }) => [code, path])).toEqual([["scale.lreal", "inputs › x"]]);
      expect(load(textOf(layout)).structure("rig_Inputs").get("x")).toBe("LREAL");
    }
    expect(read(root, [0, 250, 0]).x).toBe(5);
  });

  test.each([
    [12_345n, 12_345],
    [-1n, 0],
    [50_001n, 50_000],
  ])("an output of %d thousandths writes %d counts: the ends of its value limit it", (value, counts) => {
    const layout = oneOutput({ scale: { counts: [0, 50_000], value: [0, 50], unit: "Hz" } });
    expect(written(layout, value, { decimals: 3 })).toEqual([counts & 255, counts >> 8]);
  });

  test("a wide output of which only a part is used is computed in what that part needs", () => {
    const layout = oneOutput({
      type: "uint32",
      scale: { counts: [0, 4_000_000_000], value: [0, 4000] },
      limits: [0, 0.5],
    });
    expect(textOf(layout, { decimals: 3 })).toContain("so DINT cannot overflow");
    expect(written(layout, 250n, { decimals: 3 })).toEqual([0x90, 0xd0, 0x03, 0x00]); // 250 000
  });

  test("limits beyond what the counts reach end at the last counts", () => {
    const layout = oneOutput({
      type: "int8",
      scale: { counts: [125, 74], value: [8.116, 8.785] },
      limits: [4.058, 4.3925],
    });
    expect(written(layout, 42n, { decimals: 1 })).toEqual([127]);
  });
});

describe("reals", () => {
  // IEEE 754.
  test.each([
    [0x3f800000, 1],
    [0xc0000000, -2],
    [0x3dcccccd, Math.fround(0.1)],
    [0x41460000, 12.375],
    [0xc2ed4000, -118.625],
    [0x7f7fffff, (2 - 2 ** -23) * 2 ** 127],
    [0x00800000, 2 ** -126],
    [0x00000001, 2 ** -149],
    [0x00000000, 0],
  ])("pattern %d is %d, both ways", (pattern, value) => {
    const bytes = [0, 8, 16, 24].map((n) => (pattern >>> n) & 255);
    expect(read(oneInput({ type: "float32" }), [0, ...bytes])).toMatchObject({ x: value, x_health: 0n });
    expect(written(oneOutput({ type: "float32" }), value)).toEqual(bytes);
  });

  // IEEE 754.
  test.each([
    [0x3ff0000000000000n, 1],
    [0xc000000000000000n, -2],
    [0x3fb999999999999an, 0.1],
    [0x400921fb54442d18n, Math.PI],
    [0x0000000000000001n, 5e-324],
    [0x7fefffffffffffffn, Number.MAX_VALUE],
  ])("pattern %d is %d, both ways, in 64 bits", (pattern, value) => {
    const bytes = [0n, 8n, 16n, 24n, 32n, 40n, 48n, 56n].map((n) => Number((pattern >> n) & 255n));
    expect(read(oneInput({ type: "float64" }), [0, ...bytes]).x).toBe(value);
    expect(written(oneOutput({ type: "float64" }), value)).toEqual(bytes);
  });

  test.each([0x7f800000, 0xff800000, 0x7fc00001])("pattern %d is 0, and invalid", (pattern) => {
    const { x, x_health } = read(oneInput({ type: "float32" }), [
      0,
      ...[0, 8, 16, 24].map((n) => (pattern >>> n) & 255),
    ]);
    expect([Number(x) + 0, x_health]).toEqual([0, 5n]);
  });

  test("a NaN is written as 0, an infinity as the largest number", () => {
    expect(written(oneOutput({ type: "float32" }), Number.NaN)).toEqual([0, 0, 0, 0]);
    expect(written(oneOutput({ type: "float32" }), Number.POSITIVE_INFINITY)).toEqual([255, 255, 127, 127]);
  });
});

describe("codes and reports", () => {
  // The usual converter tables, 4 bits.
  test.each<[CountsCode, [pattern: number, counts: bigint][]]>([
    [
      "offsetBinary",
      [
        [0b1111, 7n],
        [0b1001, 1n],
        [0b1000, 0n],
        [0b0111, -1n],
        [0b0000, -8n],
      ],
    ],
    [
      "signMagnitude",
      [
        [0b0111, 7n],
        [0b0001, 1n],
        [0b0000, 0n],
        [0b1000, 0n],
        [0b1111, -7n],
      ],
    ],
  ])("%s", (code, rows) => {
    const layout = assemble({
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ word: 8, fields: [{ name: "x", bits: 4, shift: 2, code }] }] }],
    }) as Layout;
    for (const [pattern, counts] of rows) expect(read(layout, [pattern << 2]).x).toBe(counts);
  });

  test("BCD with a nibble above 9 is 0, and invalid", () => {
    expect(read(oneInput({ code: "bcd" }, "big"), [0, 0x03, 0x69])).toMatchObject({ x: 369n, x_health: 0n }); // IEC 61131-3, table 22
    expect(read(oneInput({ code: "bcd" }, "big"), [0, 0x03, 0x6a])).toMatchObject({ x: 0n, x_health: 5n });
  });

  test("counts that are a report are told as such, and never written for a value", () => {
    const report = {
      specialCounts: [
        { counts: 65535, health: "failedHigh" },
        { counts: 65534, health: "invalid" },
      ],
    };
    expect([65533, 65534, 65535].map((n) => read(oneInput(report), [0, n & 255, n >> 8]).x_health)).toEqual([
      0n,
      5n,
      4n,
    ]);
    expect(written(oneOutput(report), 65535n)).toEqual([0xfd, 0xff]);
  });

  // 4 to 20 mA on the counts -2 to 1: no counts that the point has are a failure by the signal.
  test("a signal judges counts of the point, not such as it cannot have", () => {
    const x = {
      name: "x",
      bits: 2,
      shift: 0,
      signed: true,
      scale: { counts: [-2, 1], signal: [4, 20], signalUnit: "mA" },
      specialCounts: [
        { counts: 0, health: "invalid" },
        { counts: 1, health: "invalid" },
      ],
    } as const;
    const layout = assemble({
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ word: 8, fields: [x] }] }],
    }) as Layout;
    const healthAt = (byte: number) => read(layout, [byte]).x_health;
    expect([0b10, 0b11, 0b00, 0b01].map(healthAt)).toEqual([0n, 0n, 5n, 5n]);
  });
});

describe("names and texts", () => {
  test("reserved words, case and length: every change is reported", () => {
    const inputs = [
      "end_if",
      "Limit",
      "BYTE_TO_UINT",
      "a__b",
      "a_b",
      "tail_",
      "x".repeat(64),
      `${"x".repeat(63)}y`,
    ].map((name) => ({ name, type: "bit" as const }));
    const layout = assemble({
      format: 1,
      name: "and",
      byteOrder: "little",
      modules: [{ name: "m", inputs }],
    }) as Layout;
    const { notes, files } = made(layout);
    expect([...load(files[0]!.text).structure("and_Inputs").keys()]).toEqual([
      "end_if_point",
      "limit_point",
      "byte_to_uint_point",
      "a_b",
      "a_b_2",
      "tail",
      "x".repeat(32),
      `${"x".repeat(30)}_2`,
    ]);
    expect(notes.map(({ code }) => code)).toEqual(Array(8).fill("name.changed"));
    expect(notes[3]).toEqual({
      code: "name.changed",
      path: "inputs › a__b",
      message: "is called a_b in Structured Text",
    });
  });

  test("a health gives way to a point of its name", () => {
    const inputs = [
      { name: "x", type: "float32" as const },
      { name: "x_health", type: "bit" as const },
    ];
    const layout = assemble({
      format: 1,
      name: "rig",
      byteOrder: "little",
      modules: [{ name: "m", inputs }],
    }) as Layout;
    expect([...load(textOf(layout)).structure("rig_Inputs").keys()]).toEqual(["x", "x_health_2", "x_health"]);
  });

  test.each(hostileLayouts().map((layout) => [layout.station.name, layout] as const))(
    "station %s: hostile names and texts still make a program",
    (_, layout) => {
      for (const [k, arithmetic] of modes.entries()) {
        const { blocks, structures } = load(textOf(layout, { ...exposures[2 * k]!, arithmetic }));
        expect([blocks.length, structures.length]).toEqual([2, 2]);
      }
    },
  );

  test("no title and no unit changes a token of the program", () => {
    fc.assert(
      fc.property(awkwardStations(), (station) => {
        const bare = assemble(decorated(station, ["plain"])) as Layout;
        expect(programOf(textOf(assemble(station) as Layout))).toEqual(programOf(textOf(bare)));
        load(textOf(assemble(station) as Layout));
      }),
      { numRuns: 60 },
    );
  });

  test("the same station gives the same text, which tells what made it and warns", () => {
    const layout = oneOutput({});
    const text = textOf(layout, { command: "byterail generate --to structured-text *) injected" });
    expect(text).toBe(textOf(layout, { command: "byterail generate --to structured-text *) injected" }));
    expect(text).toContain("Generated by `byterail generate --to structured-text * ) injected`; do not edit.");
    expect(text).toContain(
      "check it against the station as built. It is no safety function; site procedure comes first.",
    );
    load(text);
  });

  test("what cannot be is refused", () => {
    const codes = (options: object) =>
      problemsOf(() => made(oneInput({ scale: { counts: [0, 1], value: [0, 1] } }), options as GenerateOptions)).map(
        ({ code }) => code,
      );
    expect(codes({ elements: 12, elementOrder: "middle" })).toEqual(["option.elements", "option.elementOrder"]);
    expect(codes({ decimals: 7 })).toEqual(["option.decimals"]);
    expect(codes({ decimals: 1.5 })).toEqual(["option.decimals"]);
  });

  test("a direction without points has neither STRUCT nor block", () => {
    const { blocks, structures } = load(textOf(oneOutput({})));
    expect([blocks, structures]).toEqual([["rig_pack"], ["rig_outputs"]]);
  });
});

function programOf(text: string) {
  return tokensOf(text).map(({ kind, text, value }) => [kind, text, value]);
}
