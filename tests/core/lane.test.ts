// The fast lane: which points have one, and that it reads, accepts, refuses and writes exactly what the general way does.
// No user sees it, as the general way takes what it leaves; so these tests look at the sources.

import { frame, station } from "@byterail/testkit";
import {
  assemble,
  type Direction,
  type Entry,
  type FlagField,
  type NumberField,
  pattern,
  type PlacedPoint,
  type Scale,
} from "byterail";
import { fromHex, toHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Access, accessTo, isRefusal } from "../../packages/core/src/image/access.js";
import { fastLane, lineOf } from "../../packages/core/src/image/lane.js";
import { planOf } from "../../packages/core/src/image/plan.js";

const x = "x";
const field = (word: number, what: Omit<FlagField, "name"> | Omit<NumberField, "name">): Entry => ({
  word,
  fields: [{ name: x, ...what }],
});
const imageOf = (entry: Entry, direction: Direction = "inputs") =>
  assemble({ format: 1, name: "rig", byteOrder: "big", modules: [{ name: "m", [direction]: [entry] }] })[direction];
const pointOf = (entry: Entry, direction?: Direction) => imageOf(entry, direction).points[0]!;
const fastOf = (entry: Entry) => {
  const point = pointOf(entry);
  return fastLane(point, [-Infinity, Infinity], pattern(point.positions, point.low, point.bits));
};
const laneOf = (point: PlacedPoint, direction: Direction) => accessTo(point, direction).lane;

const tenths = { counts: [0, 1000], value: [0, 100] } as const;
const current = { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA" } as const;
const curve: Scale = {
  points: [
    [0, 0],
    [100, 1],
    [200, 5],
  ],
};
const root = { counts: [0, 1000], value: [0, 100], shape: "squareRoot" } as const;

/** Points on the lane. */
const fast: readonly (readonly [what: string, entry: Entry])[] = [
  ["a bit", { name: x, type: "bit" }],
  ["a flag of a word", field(16, { bit: 11 })],
  ["a flag of a wide word", field(256, { bit: 200 })],
  ["uint8", { name: x, type: "uint8" }],
  ["int8", { name: x, type: "int8" }],
  ["uint16", { name: x, type: "uint16" }],
  ["int16", { name: x, type: "int16" }],
  ["uint16, low byte first", { name: x, type: "uint16", byteOrder: "little" }],
  ["offset binary", { name: x, type: "int16", code: "offsetBinary" }],
  ["4 bits", field(8, { bits: 4, shift: 2 })],
  ["9 bits across two bytes", field(16, { bits: 9, shift: 4 })],
  ["12 bits, signed, of a wide word", field(64, { bits: 12, shift: 36, signed: true })],
  ["a straight line", { name: x, type: "int16", scale: tenths }],
  ["a rising line with three units a count", { name: x, type: "uint8", scale: { counts: [0, 100], value: [5, 305] } }],
  ["a falling line", { name: x, type: "uint16", scale: { counts: [0, 25000], value: [100, -20] } }],
  [
    "a line in offset binary",
    { name: x, type: "int8", code: "offsetBinary", scale: { counts: [-100, 100], value: [-1, 1] } },
  ],
  ["a signal alone", { name: x, type: "uint16", scale: current }],
  ["limits", { name: x, type: "uint8", limits: [10, 20] }],
  ["10 bits across three bytes", field(24, { bits: 10, shift: 7 })],
  ["uint24", { name: x, type: "uint24" }],
  ["int32", { name: x, type: "int32" }],
  ["uint32, low byte first", { name: x, type: "uint32", byteOrder: "little" }],
  ["offset binary of 32 bits", { name: x, type: "int32", code: "offsetBinary" }],
  ["a line of 32 bits", { name: x, type: "int32", scale: { counts: [0, 1_000_000], value: [0, 300] } }],
  ["float32", { name: x, type: "float32" }],
  ["limits of a float32", { name: x, type: "float32", limits: [-1.5, 2] }],
  ["limits of a line", { name: x, type: "int16", scale: tenths, limits: [-5.5, 105] }],
];

describe("which points have a lane", () => {
  test.each(fast)("%s", (_, entry) => expect(fastOf(entry)?.name).toBe(x));

  test.each<readonly [what: string, entry: Entry]>([
    ["a root", { name: x, type: "int16", scale: root }],
    ["a curve", { name: x, type: "int16", scale: curve }],
    ["counts that are a report", { name: x, type: "int16", specialCounts: [{ counts: 99, health: "invalid" }] }],
    ["BCD", { name: x, type: "uint8", code: "bcd" }],
    ["sign and magnitude", { name: x, type: "int16", code: "signMagnitude" }],
    ["sign and magnitude of 32 bits", { name: x, type: "int32", code: "signMagnitude" }],
    ["33 bits", field(40, { bits: 33, shift: 0 })],
    ["uint64", { name: x, type: "uint64" }],
    ["a scaled float32", { name: x, type: "float32", scale: tenths }],
    ["float32 with a report", { name: x, type: "float32", specialCounts: [{ counts: 99, health: "invalid" }] }],
    ["float64", { name: x, type: "float64" }],
  ])("not %s", (_, entry) => expect(fastOf(entry)).toBeNull());

  test("a real is on no line of counts, with a scale or without", () => {
    expect(lineOf(pointOf({ name: x, type: "float32" }))).toBeNull();
    expect(lineOf(pointOf({ name: x, type: "float64", scale: tenths }))).toBeNull();
  });

  test("every point of an image is read once: as a flag, as a number, or the general way", () => {
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        {
          name: "m",
          inputs: [
            { name: "flow", type: "int16" },
            { name: "open", type: "bit" },
            { name: "total", type: "uint32" },
            { name: "level", type: "uint16", scale: tenths },
            { name: "density", type: "float32" },
            { name: "shut", type: "bit" },
          ],
        },
      ],
    });
    const { flags, numbers, others } = planOf(inputs).whole;
    expect(flags.map(({ name }) => name)).toEqual(["open", "shut"]);
    expect(numbers.map(({ name }) => name)).toEqual(["flow", "level"]);
    expect(others.map(({ name }) => name)).toEqual(["total", "density"]);
  });
});

describe("what is read", () => {
  test.each(fast)("%s: for every pattern, what the general way reads", (_, entry) => {
    const { byteLength, points } = imageOf(entry);
    const { lane, bits, toValue } = accessTo(points[0]!, "inputs");
    for (const background of [0x00, 0xff]) {
      const bytes = new Uint8Array(byteLength).fill(background);
      const different = patternsOf(points[0]!).filter((pattern) => {
        bits.write(bytes, 0, pattern);
        return !Object.is(lane.read(bytes), toValue(pattern));
      });
      expect(different).toEqual([]);
    }
  });
});

describe("what is accepted", () => {
  const step = { name: x, type: "int8" } as const;
  const dose = { name: x, type: "uint8", limits: [10, 20] } as const;
  const speed = { name: x, type: "int16", scale: tenths } as const;
  const tilt = { name: x, type: "int8", code: "offsetBinary" } as const;
  const triple = { name: x, type: "uint8", scale: { counts: [0, 100], value: [5, 305] } } as const;

  test.each<readonly [what: string, direction: Direction, entry: Entry, value: unknown, before: string, after: string]>(
    [
      ["on", "outputs", field(8, { bit: 3 }), true, "F0", "F8"],
      ["off", "outputs", field(8, { bit: 3 }), false, "0F", "07"],
      ["the largest counts", "outputs", step, 127, "00", "7F"],
      ["the smallest counts", "outputs", step, -128, "00", "80"],
      ["the largest of 9 bits, and no other bit", "inputs", field(16, { bits: 9, shift: 4 }), 511, "A0 05", "BF F5"],
      ["zero in 9 bits, and no other bit", "inputs", field(16, { bits: 9, shift: 4 }), 0, "FF FF", "E0 0F"],
      ["the largest in offset binary", "inputs", tilt, 127, "00", "FF"],
      ["the smallest in offset binary", "inputs", tilt, -128, "FF", "00"],
      ["the lower limit", "outputs", dose, 10, "00", "0A"],
      ["the upper limit", "outputs", dose, 20, "00", "14"],
      ["the lower end of a scaled output", "outputs", speed, 0, "FF FF", "00 00"],
      ["the upper end of a scaled output", "outputs", speed, 100, "00 00", "03 E8"],
      ["an input below its scale, down to its smallest counts", "inputs", speed, -3276.8, "00 00", "80 00"],
      ["an input above its scale, up to its largest counts", "inputs", speed, 3276.7, "00 00", "7F FF"],
      ["three units a count", "inputs", triple, 35, "00", "0A"],
      ["a value between two counts goes to the nearest", "inputs", triple, 36, "00", "0A"],
      ["halfway between, to the even one", "inputs", speed, 0.25, "00 00", "00 02"],
    ],
  )("%s", (_, direction, entry, value, before, after) => {
    const bytes = fromHex(before);
    expect(laneOf(pointOf(entry, direction), direction).write(bytes, value)).toBe(true);
    expect(toHex(bytes)).toBe(after);
  });

  test.each<readonly [what: string, direction: Direction, entry: Entry, values: readonly unknown[]]>([
    ["what is no boolean", "outputs", { name: x, type: "bit" }, [0, 1, "true", null, undefined, 1n]],
    ["what is no number", "inputs", step, ["1", true, null, undefined, 1n, Number.NaN, Infinity, -Infinity]],
    ["counts just outside", "inputs", step, [128, -129, 127.5, -128.5]],
    ["a fraction without a scale", "inputs", step, [0.5, -0.25, 1e-9]],
    ["values just outside the limits", "outputs", dose, [9, 21, 20.5]],
    ["values just outside the ends of a scaled output", "outputs", speed, [-0.001, 100.001]],
    ["values that stand for counts just outside", "inputs", speed, [-3276.9, 3276.8]],
  ])("not %s: nothing is written", (_, direction, entry, values) => {
    const { points, byteLength } = imageOf(entry, direction);
    for (const value of values) {
      const bytes = new Uint8Array(byteLength).fill(0xa5);
      expect([value, laneOf(points[0]!, direction).write(bytes, value)]).toEqual([value, false]);
      expect(bytes).toEqual(new Uint8Array(byteLength).fill(0xa5));
    }
  });

  test.each(fast.flatMap(([what, entry]) => [[what, "inputs", entry] as const, [what, "outputs", entry] as const]))(
    "%s of %s: at every end, what the general way accepts and writes",
    (_, direction, entry) => {
      const { byteLength, points } = imageOf(entry, direction);
      const access = accessTo(points[0]!, direction);
      for (const background of [0x00, 0xff]) {
        const before = new Uint8Array(byteLength).fill(background);
        const outcomes = endsOf(points[0]!).map((value) => [value, ...bothWays(access, value, before)]);
        expect(outcomes.map(([value, lane]) => [value, lane])).toEqual(
          outcomes.map(([value, , general]) => [value, general]),
        );
      }
    },
  );
});

test("random stations, frames and values: the lane and the general way are one", () => {
  let count = 0;
  const cases = station().chain((description) => {
    const { inputs, outputs } = assemble(description);
    return fc.record({
      images: fc.constant([inputs, outputs] as const),
      frames: fc.tuple(frame(inputs), frame(outputs)),
      value: fc.oneof(fc.integer({ min: -70_000, max: 70_000 }), fc.double(), fc.boolean()),
    });
  });
  fc.assert(
    fc.property(cases, ({ images, frames, value }) => {
      images.forEach(({ points, direction }, k) => {
        for (const point of points) {
          const access = accessTo(point, direction);
          const { lane, bits, toValue } = access;
          const bytes = frames[k]!;
          const read = lane.read(bytes);
          expect([point.name, read]).toEqual([point.name, toValue(bits.read(bytes, 0))]);
          for (const given of [read, value]) {
            const [short, long] = bothWays(access, given, inverse(bytes));
            expect([point.name, given, short]).toEqual([point.name, given, long]);
          }
          count++;
        }
      });
    }),
    { numRuns: 30 },
  );
  expect(count).toBeGreaterThan(50);
});

/** What becomes of the bytes as a value is written on the lane, and the general way; `refused` where it is not accepted. */
function bothWays({ lane, bits, fromValue }: Access, value: unknown, before: Uint8Array): readonly [string, string] {
  const [short, long] = [before.slice(), before.slice()];
  const accepted = lane.write(short, value);
  const pattern = fromValue(value, "reject");
  const refused = isRefusal(pattern);
  if (!refused) bits.write(long, 0, pattern);
  return [(accepted ? "" : "refused ") + toHex(short), (refused ? "refused " : "") + toHex(long)];
}

function inverse(bytes: Uint8Array): Uint8Array {
  return bytes.map((byte) => ~byte);
}

/** Every pattern of a narrow point; of a wide one the ends, the middle and some between. */
function patternsOf({ bits }: PlacedPoint): number[] {
  const full = 2 ** bits;
  if (bits <= 8) return Array.from({ length: full }, (_, u) => u);
  const between = Array.from({ length: 101 }, (_, k) => Math.floor((k * full) / 101));
  return [...between, 1, full / 2 - 1, full / 2, full / 2 + 1, full - 1];
}

/** Values at, between and just beyond the ends of what a point holds and accepts, and what is no value of it at all. */
function endsOf(point: PlacedPoint): unknown[] {
  const others = [true, false, 0, 1, -0, "1", null, undefined, 1n, Number.NaN, Infinity, -Infinity];
  if (point.kind === "boolean") return others;
  const { a, b, c } = lineOf(point) ?? { a: 1, b: 0, c: 1 };
  const { limits = [], scale } = point.description as NumberField;
  const half = 2 ** (point.bits - 1);
  const counts = [-half, 0, half, 2 * half].flatMap((end) => [-1, -0.5, 0, 0.5, 1].map((more) => end + more));
  const ends = [...limits, ...(scale?.value ?? scale?.signal ?? [])];
  return [
    ...others,
    ...[0.1, 3.4028234e38, 3.4028235e38, 3.4028236e38, -3.4028236e38],
    ...counts.map((n) => (a * n + b) / c),
    ...ends.flatMap((end) => [end, end - 1e-9, end + 1e-9, end - 1, end + 1]),
  ];
}
