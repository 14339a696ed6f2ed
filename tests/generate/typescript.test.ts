import { generate } from "@byterail/generate";
import {
  assemble,
  type Direction,
  decode,
  decodeByModule,
  encode,
  encodeInto,
  type ImageLayout,
  type Layout,
  type Problem,
  type Station,
} from "byterail";
import { byteMap } from "byterail/map";
import { beforeAll, describe, expect, test } from "vitest";
import { frameOf, randomFrom, richLayouts, valuesOf } from "./support/stations.js";
import { type Compiled, compileTypescript, type StationModule, strippedTypescript } from "./support/typescript.js";

/** Frames of each random station, in each direction. */
const framesEach = 6;
const directions: readonly Direction[] = ["inputs", "outputs"];

// A station with one of everything that a random one may lack, written by hand.
const plant: Station = {
  format: 1,
  name: "plant",
  title: 'Plant */ "2" @deprecated',
  byteOrder: "big",
  modules: [
    {
      name: "meters",
      inputs: [
        { name: "flow", type: "uint16", unit: "L/h" },
        { name: "spread", type: "uint16" },
        { name: "level", type: "uint16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
      ],
    },
    {
      name: "drives",
      outputs: [
        { name: "dose", type: "uint16", code: "bcd" },
        { name: "ratio", type: "float32" },
        {
          name: "speed",
          type: "int16",
          scale: { counts: [0, 1000], value: [0, 100], unit: "%" },
          specialCounts: [{ counts: 7, health: "failedLow" }],
        },
        { name: "run", type: "bit" },
        { name: "far", type: "int16", scale: { counts: [0, 10], value: [0, 1] }, limits: [-9999, 9999] },
        { name: "total", type: "int64" },
        { name: "batch", type: "int64", code: "signMagnitude" },
        { name: "serial", type: "uint64", code: "bcd" },
        { word: 72, fields: [{ name: "stamp", bits: 60, shift: 5, signed: true }] },
      ],
    },
  ],
};

// More points than an object literal should have, and more than a class should.
const [wide, widest] = [stationOf(200), stationOf(400)];

function stationOf(count: number): Station {
  const inputs = Array.from({ length: count }, (_, k) => ({ name: `p${k}`, type: k % 2 ? "bit" : "int64" }) as const);
  return { format: 1, name: "bank", byteOrder: "little", modules: [{ name: "bank", inputs }] };
}

const layouts: Layout[] = [
  ...[plant, wide, widest].map((station) => assemble(station) as Layout),
  ...richLayouts(200, 20),
];
/** So many of the modules go through the strict compiler, which takes its time; the others are only stripped of their types. */
const strictOnes = 30;

let strict: Compiled;
const modules: StationModule[] = [];

beforeAll(async () => {
  const files = layouts.map((layout, k) => [`s${k}.ts`, generate(layout, ["typescript"]).files[0]!.text] as const);
  strict = compileTypescript("random", new Map(files.slice(0, strictOnes)));
  const stripped = strippedTypescript("stripped", new Map(files.slice(strictOnes)));
  for (const [k, [file]] of files.entries()) modules.push(await (k < strictOnes ? strict : stripped).load(file));
}, 120_000);

test(`the strict compiler accepts ${strictOnes} modules`, () => {
  expect(strict.messages).toEqual([]);
});

describe("values of published examples", () => {
  test("Modbus Application Protocol V1.1b3, FC03: registers 02 2B, 00 00, 00 64 are 555, 0 and 100", () => {
    const [module] = modules;
    const bytes = new Uint8Array([0x02, 0x2b, 0x00, 0x00, 0x00, 0x64]);
    expect(module!.decodeInputs(bytes)).toEqual({ flow: 555, spread: 0, level: 10 });
    expect(module!.encodeInputs({ flow: 555, spread: 0, level: 10 })).toEqual(bytes);
    expect(module!.decodeInputsByModule(bytes)).toEqual({ meters: { flow: 555, spread: 0, level: 10 } });
  });

  test("IEC 61131-3 table 22: BCD 0369h is 369; IEEE 754: binary32 of 12.375 is 41460000h", () => {
    const values = { ...rest, dose: 369, ratio: 12.375 };
    const bytes = modules[0]!.encodeOutputs(values);
    expect([...bytes.slice(0, 6)]).toEqual([0x03, 0x69, 0x41, 0x46, 0x00, 0x00]);
    expect(modules[0]!.decodeOutputs(bytes)).toEqual(values);
  });

  test("IEC 61131-3 table 22, REAL to INT: 1.5 and 2.5 counts both are 2, as ties go to the even number", () => {
    const counts = (speed: number) => modules[0]!.encodeOutputs({ ...rest, speed })[7];
    expect([0.15, 0.25, 0.14].map(counts)).toEqual([2, 2, 1]);
  });
});

const rest = { dose: 0, ratio: 0, speed: 0, run: false, far: 0, total: 0n, batch: 0n, serial: 0n, stamp: 0n };

test.each([
  ["a value beyond its limits", { speed: 100.1 }, "value.limits"],
  ["counts that report a fault", { speed: 0.7 }, "value.special"],
  ["counts beyond the type", { far: 5000 }, "value.range"],
  ["a fraction where counts are whole", { dose: 1.5 }, "value.range"],
  ["a number too large for a binary32", { ratio: 1e39 }, "value.range"],
  ["no number", { ratio: Number.NaN }, "value.type"],
  ["a text", { dose: "5" }, "value.type"],
  ["a bigint where a number belongs", { speed: 5n }, "value.type"],
  ["a number where a bigint belongs", { total: 5 }, "value.type"],
  ["−0 where no code has one", { total: -0 }, "value.range"],
  ["a number for a bit", { run: 1 }, "value.type"],
  ["nothing", { run: undefined }, "value.missing"],
  ["an unknown name", { Run: true }, "value.unknown"],
])("%s is refused as the library refuses it", (_, wrong, code) => {
  const { outputs } = layouts[0]!;
  const [module] = modules;
  const values = { ...rest, ...wrong };
  const refusal = outcome(() => module!.encodeOutputs(values));
  expect(refusal).toEqual(outcome(() => encode(outputs, values as never)));
  expect((refusal as Problem[]).map((problem) => problem.code)).toEqual([code]);
});

test("every problem is told at once, in the class of the module, and the bytes stay untouched", () => {
  const [module] = modules;
  const bytes = new Uint8Array(module!.outputsLength).fill(0xa5);
  let caught: unknown;
  try {
    module!.encodeOutputsInto(bytes, { ...rest, speed: 101, run: 1, extra: 1, dose: undefined });
  } catch (error) {
    caught = error;
  }
  expect(caught).toBeInstanceOf(module!.ProcessImageError);
  expect((caught as { problems: Problem[] }).problems.map(({ code, path }) => `${code} ${path}`)).toEqual([
    ...["value.unknown extra", "value.missing dose", "value.limits speed", "value.type run"],
  ]);
  expect(bytes.every((byte) => byte === 0xa5)).toBe(true);
});

test("the constants say where each point stands", () => {
  for (const [k, layout] of layouts.entries())
    for (const direction of directions) {
      const constants = modules[k]![`${direction}Layout`];
      const map = byteMap(layout[direction]).points.filter(({ name }) => name !== null);
      expect(Object.keys(constants)).toEqual(map.map(({ name }) => name));
      for (const { name, type, byte, bit, bits, word, shift } of map)
        expect({ bit: null, word: null, shift: null, ...constants[name!] }).toMatchObject({
          type,
          byte,
          bit,
          bits,
          word,
          shift,
        });
      expect(modules[k]![`${direction}Length`]).toBe(layout[direction].byteLength);
    }
});

describe(`on ${framesEach} random frames of each of ${layouts.length} stations it agrees with the library`, () => {
  test.each(directions)("%s: values, and the bytes or the refusals of encoding them", (direction) => {
    const randomOfValues = randomFrom(11);
    let accepted = 0;
    each(direction, (image, module, frame) => {
      const values = module.decode(frame);
      expect(flat(values)).toEqual(flat(decode(image, frame)));
      expect(grouped(module.decodeByModule(frame))).toEqual(grouped(decodeByModule(image, frame)));
      expect(outcome(() => module.encode(values))).toEqual(outcome(() => encode(image, values)));
      // Others, half of them made to be accepted.
      const more = valuesOf(image, randomOfValues);
      const bytes = outcome(() => module.encode(more));
      expect(bytes).toEqual(outcome(() => encode(image, more)));
      accepted += bytes instanceof Uint8Array ? 1 : 0;
      const [ours, theirs] = [frame.slice(), frame.slice()];
      const results = [outcome(() => module.encodeInto(ours, more)), outcome(() => encodeInto(image, theirs, more))];
      expect(results[0]).toEqual(results[1]);
      expect(ours).toEqual(theirs);
    });
    expect(accepted).toBeGreaterThan(layouts.length);
  });

  test.each(directions)("%s: refusals of values that are wrong in every way", (direction) => {
    const odd = [
      undefined,
      null,
      "5",
      Number.NaN,
      Infinity,
      -0,
      0.5,
      1.5,
      -1,
      1n,
      -1n,
      2n ** 64n,
      1e39,
      2 ** 40,
      true,
      {},
      [],
      Symbol("s"),
    ];
    const random = randomFrom(99);
    const pick = (bound: number) => Math.floor(random() * bound);
    each(direction, (image, module, frame) => {
      const values: Record<string, unknown> = { ...(decode(image, frame) as object) };
      const names = Object.keys(values);
      for (let n = 0; n < 3 && names.length > 0; n++) values[names[pick(names.length)]!] = odd[pick(odd.length)];
      if (pick(4) === 0) values["a\u2028name"] = 1;
      if (pick(4) === 0) delete values[names[0] ?? ""];
      expect(outcome(() => module.encode(values))).toEqual(outcome(() => encode(image, values as never)));
    });
  });

  test.each(directions)("%s: bytes of a wrong length, or none at all", (direction) => {
    each(direction, (image, module, frame) => {
      for (const bytes of [new Uint8Array(frame.length + 2), [...frame] as never, null as never])
        expect(outcome(() => module.decode(bytes))).toEqual(outcome(() => decode(image, bytes)));
    });
  });
});

test.each([null, undefined, 5, "text", [], [1, 2]])(
  "what is no object of values is refused as the library refuses it: %s",
  (given) => {
    expect(outcome(() => modules[0]!.encodeOutputs(given))).toEqual(
      outcome(() => encode(layouts[0]!.outputs, given as never)),
    );
  },
);

test("a view into a larger buffer is read at its own place", () => {
  const buffer = new Uint8Array([9, 9, 0x02, 0x2b, 0, 0, 0, 0x64, 9]);
  expect(modules[0]!.decodeInputs(buffer.subarray(2, 8))).toEqual({ flow: 555, spread: 0, level: 10 });
});

test("the module imports nothing, tells its origin, and is the same every time", () => {
  const make = () => generate(layouts[0]!, ["typescript"], { command: "byterail generate plant.json --to typescript" });
  const { files, notes } = make();
  expect(notes).toEqual([]);
  expect(files.map(({ path }) => path)).toEqual(["plant.ts"]);
  const { text } = files[0]!;
  expect(text).toBe(make().files[0]!.text);
  expect(text).toMatch(
    /^\/\/ Generated by `byterail generate plant\.json --to typescript`; do not edit\.\n\/\/ Station plant, /,
  );
  expect(text).toContain("no safety function");
  expect(text).not.toMatch(/\bimport\b|\brequire\b/);
});

interface OneDirection {
  readonly decode: (bytes: Uint8Array) => Record<string, never>;
  readonly decodeByModule: (bytes: Uint8Array) => unknown;
  readonly encode: (values: unknown) => Uint8Array;
  readonly encodeInto: (bytes: Uint8Array, values: unknown) => Uint8Array;
}

function each(
  direction: Direction,
  check: (image: ImageLayout, module: OneDirection, frame: Uint8Array) => void,
): void {
  const random = randomFrom(7);
  for (const [k, layout] of layouts.entries()) {
    const image: ImageLayout = layout[direction];
    const module = modules[k]!;
    const one = (
      direction === "inputs"
        ? {
            decode: module.decodeInputs,
            decodeByModule: module.decodeInputsByModule,
            encode: module.encodeInputs,
            encodeInto: module.encodeInputsInto,
          }
        : {
            decode: module.decodeOutputs,
            decodeByModule: module.decodeOutputsByModule,
            encode: module.encodeOutputs,
            encodeInto: module.encodeOutputsInto,
          }
    ) as OneDirection;
    for (let n = 0; n < framesEach; n++) check(image, one, frameOf(image, random));
  }
}

// What a call gave: bytes, values, or the problems it was refused for.
function outcome(action: () => unknown): unknown {
  try {
    return action();
  } catch (error) {
    if (!Array.isArray((error as { problems?: unknown }).problems)) throw error;
    return (error as { problems: unknown }).problems;
  }
}

// Entries in order: names, their order and −0 count, the class of the object does not.
function flat(values: unknown): [string, unknown][] {
  return Object.entries(values as object);
}

function grouped(groups: unknown): [string, [string, unknown][]][] {
  return flat(groups).map(([name, group]) => [name, flat(group)]);
}
