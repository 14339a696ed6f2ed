import { generate } from "@byterail/generate";
import {
  type AnyValue,
  assemble,
  codeOfPoint,
  decode,
  decodeRaw,
  encode,
  type ImageLayout,
  type Layout,
  type NumberBase,
  patchRaw,
  type PlacedPoint,
  type Span,
  type Station,
} from "byterail";
import { inspect } from "byterail/map";
import { describe, expect, test } from "vitest";
import { stationsToCompare } from "../support/nightly.js";
import { problemsOf } from "../support/problems.js";
import { minus, onLine, type Rational, rational } from "../support/rational.js";
import { testWith } from "../support/tool.js";
import { driverFor, imagesOf, isSigned, tellings, valueKind } from "./support/c.js";
import { hostileLayouts } from "./support/hostile.js";
import { chunks, inFolder, output, together } from "./support/programs.js";
import { frameOf, randomFrom, richLayouts, valuesOf } from "./support/stations.js";
import { doubleToken, floatSteps, floatToken } from "./support/tokens.js";

const gcc = testWith("gcc");
const gxx = testWith("g++");

const strict = ["-Wall", "-Wextra", "-Werror", "-ffp-contract=off"];
const sanitized = ["-fsanitize=undefined", "-fno-sanitize-recover=undefined"];

const stationCount = stationsToCompare(200);
const stationsPerProgram = 20;
const framesEach = 6;
const statuses = ["OK", "image.length", "value.type", "value.limits", "value.range", "value.special"];
const healths = ["ok", "belowMeasuring", "aboveMeasuring", "failedLow", "failedHigh", "invalid", "none"];

describe("C agrees with the core", () => {
  gcc(
    `on ${2 * stationCount * framesEach} random frames of ${stationCount} random stations`,
    async ({ task }) => {
      const random = randomFrom(11);
      const count = { fixed: 0, refused: 0, accepted: 0, floats: 0, failed: 0 };
      let compared = 0;
      const programs = chunks(richLayouts(stationCount, 11), stationsPerProgram);
      await together(programs, 2, async (layouts) => {
        const { files, headers } = filesOf(layouts);
        const images = layouts.flatMap((layout) =>
          imagesOf(layout).map((image) => ({ image, station: layout.station.name })),
        );
        const cases = images.flatMap(({ image, station }, number) =>
          casesOf(image, station, number, headers.get(station)!, random, count),
        );
        const driver = { path: "driver.c", text: driverFor(layouts, headers) };
        const told = await inFolder([...files, driver], async (folder) => {
          const sources = [...files, driver].map(({ path }) => path).filter((path) => path.endsWith(".c"));
          await output(folder, "gcc", ["-std=c99", ...strict, ...sanitized, "-o", "driver", ...sources, "-lm"]);
          return output(folder, "./driver", [], cases.map(({ line }) => `${line}\n`).join(""));
        });
        const answers = told.split("\n").slice(0, -1);
        expect(answers).toHaveLength(cases.length);
        for (const [k, { line, judge }] of cases.entries()) judge(answers[k]!.trim().split(" ").filter(Boolean), line);
        compared += cases.length;
      });
      task.meta.compared = { stations: stationCount, cases: compared };
      // The run is only worth something when it meets every kind of answer often enough.
      expect(count.floats).toBeGreaterThan(1000);
      expect(count.fixed).toBeGreaterThan(1000);
      expect(count.failed).toBeGreaterThan(100);
      expect(count.refused).toBeGreaterThan(200);
      expect(count.accepted).toBeGreaterThan(200);
      // The compiler takes most of it, and longer on a busy machine.
    },
    1500 * stationCount,
  );
});

interface Case {
  readonly line: string;
  readonly judge: (answer: readonly string[], line: string) => void;
}

type Count = { fixed: number; refused: number; accepted: number; floats: number; failed: number };

function casesOf(
  image: ImageLayout,
  station: string,
  number: number,
  header: string,
  random: () => number,
  count: Count,
): Case[] {
  return Array.from({ length: framesEach }, () => [
    decodeCase(image, station, number, header, frameOf(image, random), count),
    writeCase(image, number, frameOf(image, random)),
    encodeCase(image, number, valuesOf(image, random), count),
  ]).flat();
}

function decodeCase(
  image: ImageLayout,
  station: string,
  number: number,
  header: string,
  frame: Uint8Array,
  count: Count,
): Case {
  return {
    line: `${number} d ${hex(frame)}`,
    judge: (answer, line) => {
      const raw = decodeRaw(image, frame);
      const values = decode(image, frame);
      const health = new Map(inspect(image, frame).map((row) => [row.name, row.health]));
      let k = 0;
      for (const point of image.points)
        for (const { what } of tellings(point, image.direction, station, header)) {
          const got = answer[k++]!;
          const value = Number(values[point.name]!);
          const where = `${point.name} ${what} of ${line}`;
          if (what === "raw") expect([where, got]).toEqual([where, rawText(point, raw[point.name]!)]);
          if (what === "bits") expect([where, got]).toEqual([where, String(patternOf(image, point, frame))]);
          if (what === "value")
            expect([where, got]).toEqual([where, doubleToken(point.code === "signMagnitude" ? value + 0 : value)]);
          if (what === "valuef") {
            expect([where, got, floatSteps(got, floatToken(value))]).toSatisfy(
              () => floatSteps(got, floatToken(value)) <= 1,
            );
            count.floats++;
          }
          if (what === "fixed") {
            const decimals = Number(new RegExp(`_DECIMALS_${point.name} (\\d+)\\n`).exec(header)![1]);
            expect([where, got]).toEqual([where, fixedText(point, raw[point.name]!, decimals)]);
            count.fixed++;
          }
          if (what === "health") {
            expect([where, healths[Number(got)]]).toEqual([where, health.get(point.name)]);
            if (got === "3" || got === "4") count.failed++;
          } else if (!tellings(point, image.direction, station, header).some((telling) => telling.what === "health"))
            expect(health.get(point.name)).toBe("none");
        }
      expect(answer).toHaveLength(k);
    },
  };
}

// Every point of a frame is set in its complement: all other bits stay.
function writeCase(image: ImageLayout, number: number, frame: Uint8Array): Case {
  const inverse = frame.map((byte) => ~byte);
  return {
    line: `${number} w ${hex(frame)} ${hex(inverse)}`,
    judge: (answer) => expect(answer).toEqual([hex(patchRaw(image, inverse.slice(), decodeRaw(image, frame)))]),
  };
}

function encodeCase(image: ImageLayout, number: number, wanted: Record<string, AnyValue>, count: Count): Case {
  // What the C types cannot say: NaN and -0 of integers, and reals that no float is.
  const values = Object.fromEntries(image.points.map((point) => [point.name, sayable(point, wanted[point.name]!)]));
  const before = Uint8Array.from({ length: image.byteLength }, (_, k) => (37 * k) & 255);
  const problems = problemsOf(() => encode(image, values));
  const after = problems.length > 0 ? before : encode(image, values);
  const each = image.points.map(({ name }) => problems.find(({ path }) => path === name)?.code ?? "OK");
  const again = decode(image, after);
  return {
    line: `${number} e ${hex(before)} ${image.points.map((point) => valueToken(point, values[point.name]!)).join(" ")}`,
    judge: (answer, line) => {
      const names = answer.slice(1, 2 + each.length).map((status) => statuses[Number(status)]);
      expect([line, answer[0], names]).toEqual([line, hex(after), [problems[0]?.code ?? "OK", ...each]]);
      const decoded = image.points.map((point) => valueToken(point, again[point.name]!));
      expect([line, answer.slice(2 + each.length)]).toEqual([line, decoded]);
      if (problems.length > 0) count.refused++;
      else count.accepted++;
    },
  };
}

function sayable(point: PlacedPoint, value: AnyValue): AnyValue {
  if (point.kind === "boolean") return value;
  const kind = valueKind(point);
  if (kind === "float") return Math.fround(value as number);
  if (kind === "double" || typeof value === "bigint") return value;
  return wide(point, Number.isFinite(value) ? BigInt(value) : 0n);
}

function wide(point: PlacedPoint, whole: bigint): AnyValue {
  const { min, max } = codeOfPoint(point)!;
  const width = point.bits <= 8 ? 8 : point.bits <= 16 ? 16 : point.bits <= 32 ? 32 : 64;
  const held = isSigned(point) ? BigInt.asIntN(width, whole) : BigInt.asUintN(width, whole);
  return typeof min === "bigint" || typeof max === "bigint" ? held : Number(held);
}

function valueToken(point: PlacedPoint, value: AnyValue): string {
  if (point.kind === "boolean") return String(Number(value));
  const kind = valueKind(point);
  if (kind === "float") return floatToken(value as number);
  if (kind === "double") return doubleToken(value as number);
  // BCD that is no decimal number is all ones; -0 is 0.
  return Number.isNaN(value) ? allOnes(point) : String(BigInt(value));
}

function rawText(point: PlacedPoint, raw: AnyValue | string): string {
  return typeof raw === "string" ? allOnes(point) : String(BigInt(raw));
}

function allOnes({ bits }: PlacedPoint): string {
  return String((1n << (bits <= 8 ? 8n : bits <= 16 ? 16n : bits <= 32 ? 32n : 64n)) - 1n);
}

function patternOf({ byteLength }: ImageLayout, { positions, low, bits }: PlacedPoint, frame: Uint8Array): bigint {
  expect(frame).toHaveLength(byteLength);
  const whole = positions.reduce((sum, position, k) => sum + (BigInt(frame[position]!) << BigInt(8 * k)), 0n);
  return (whole >> BigInt(low)) & ((1n << BigInt(bits)) - 1n);
}

// The exact value in fractions of whole numbers, from the ends in the description, then rounded once.
function fixedText(point: PlacedPoint, raw: AnyValue | string, decimals: number): string {
  if (typeof raw === "string") return String(-(1n << 63n));
  const { scale } = point.description as NumberBase;
  const counts = BigInt(raw);
  const sorted = scale!.points && [...scale!.points].sort(([a], [b]) => a - b);
  const k = sorted ? Math.max(0, sorted.slice(1, -1).filter(([n]) => counts >= BigInt(n)).length) : 0;
  const ends: readonly [Span, Span] = sorted
    ? [
        [sorted[k]![0], sorted[k + 1]![0]],
        [sorted[k]![1], sorted[k + 1]![1]],
      ]
    : [scale!.counts!, (scale!.value ?? scale!.signal)!];
  const exact = onLine(counts, [BigInt(ends[0][0]), BigInt(ends[0][1])], [decimal(ends[1][0]), decimal(ends[1][1])]);
  return String(roundedEven({ top: exact.top * 10n ** BigInt(decimals), over: exact.over }));
}

function decimal(value: number): Rational {
  const [whole, part = ""] = String(value).split(".") as [string, string?];
  return rational(BigInt(whole + part), 10n ** BigInt(part.length));
}

function roundedEven(exact: Rational): bigint {
  const down = exact.top / exact.over - (exact.top % exact.over < 0n ? 1n : 0n);
  const { top, over } = minus(exact, rational(down));
  return 2n * top > over || (2n * top === over && down % 2n !== 0n) ? down + 1n : down;
}

describe("scales in whole numbers", () => {
  const header = (scale: object, type = "int16", options = {}) => {
    const station = {
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ name: "x", type, scale }] }],
    };
    return generate(assemble(station as unknown as Station), ["c"], options).files[0]!.text;
  };

  test.each([
    ["whole values have no decimals", { counts: [0, 10], value: [0, 20] }, "int16", 0],
    ["tenths have one", { counts: [0, 1500], value: [0, 150] }, "int16", 1],
    ["what needs more than three is rounded to three", { counts: [0, 4095], value: [0, 100] }, "int16", 3],
    [
      "a broken line needs what each of its pieces needs",
      {
        points: [
          [0, 0],
          [10, 10],
          [20, 15],
        ],
      },
      "int16",
      1,
    ],
  ] as const)("%s", (_, scale, type, decimals) => {
    expect(header(scale, type)).toContain(`#define RIG_IN_DECIMALS_x ${decimals}\n`);
  });

  test("the decimals can be asked for", () => {
    expect(header({ counts: [0, 10], value: [0, 20] }, "int16", { decimals: 2 })).toContain(
      "#define RIG_IN_DECIMALS_x 2\n",
    );
  });

  test.each([
    [
      "terms that may pass 64 bits",
      { counts: [0, 4000000007], value: [0, 12345678.901] },
      "uint32",
      "its terms pass 64 bits with 3 decimals",
    ],
    [
      "a square root",
      { counts: [0, 100], value: [0, 10], shape: "squareRoot" },
      "int16",
      "a square root is no fraction of whole numbers",
    ],
    ["a real", { counts: [0, 100], value: [0, 10] }, "float32", "its counts are a real"],
  ] as const)("%s: left out, and the comment says why", (_, scale, type, why) => {
    const text = header(scale, type);
    expect(text).not.toContain("_fixed_");
    expect(text).toContain(` * No fixed-point form: ${why}.\n`);
  });
});

describe("hostile descriptions", () => {
  const made = hostileLayouts().map((layout) => generate(layout, ["c"]));
  const files = made.flatMap((one) => one.files);
  const sources = files.map(({ path }) => path).filter((path) => path.endsWith(".c"));
  // All headers together, after every header of the library that could define a macro of the same name.
  const all = {
    path: "all.c",
    text: [
      ..."assert complex ctype errno fenv float inttypes iso646 limits locale math setjmp signal stdarg stdio stdlib string time wchar wctype"
        .split(" ")
        .map((name) => `#include <${name}.h>`),
      ...files.filter(({ path }) => path.endsWith(".h")).map(({ path }) => `#include "${path}"`),
      "int main(void) { return 0; }",
      "",
    ].join("\n"),
  };

  gcc("compile as C99 without a warning", () =>
    inFolder([...files, all], (folder) =>
      output(folder, "gcc", ["-std=c99", "-pedantic", ...strict, "-o", "all", ...sources, "all.c", "-lm"]),
    ),
  );

  gxx("compile as C++ without a warning", () => {
    const plain = { ...all, text: all.text.replace(/#include <(complex|iso646)\.h>\n/g, "") };
    return inFolder([...files, plain], (folder) =>
      output(folder, "g++", ["-x", "c++", "-std=c++20", "-fsyntax-only", "-pedantic", ...strict, ...sources, "all.c"]),
    );
  });

  test("tell which names they changed", () => {
    const changed = made.flatMap(({ notes }) => notes.map(({ path, message }) => `${path} ${message}`));
    expect(changed).toContain("inputs › class is called class_point in C");
    expect(changed).toContain("outputs › stderr is called stderr_point in C");
    expect(changed).toContain("inputs › a__b is called a_b in C");
    expect(changed).toContain("inputs › a_b is called a_b_2 in C");
    expect(changed).toContain("station › Math is called Math_station in C");
    expect(changed).not.toContain("inputs › Volatile is called Volatile_point in C");
  });

  test("every name has at most 63 characters, the same in every run", () => {
    for (const { text } of files) {
      const code = text.replace(/\/\*[\s\S]*?\*\//g, "");
      expect((code.match(/[A-Za-z_]\w*/g) ?? []).filter((word) => word.length > 63)).toEqual([]);
      expect(code).not.toMatch(/__(?!cplusplus)/);
    }
    expect(hostileLayouts().map((layout) => generate(layout, ["c"]))).toEqual(made);
  });
});

function filesOf(layouts: readonly Layout[]) {
  const made = layouts.map((layout) => ({ name: layout.station.name, files: generate(layout, ["c"]).files }));
  return {
    files: made.flatMap(({ files }) => files),
    headers: new Map(made.map(({ name, files }) => [name, files.find(({ path }) => path.endsWith(".h"))!.text])),
  };
}

// A full stop ends an image, so that an empty one can be told.
function hex(bytes: Uint8Array): string {
  return `${Buffer.from(bytes).toString("hex")}.`;
}
