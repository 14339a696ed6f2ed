// Columns of a capture: every cell is what decode gives for that frame; buffers, pieces and gaps of the capture's owner.

import { frame, station } from "@byterail/testkit";
import { assemble, decode, type Station } from "byterail";
import { columns, fromHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

const { inputs } = assemble({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    {
      name: "meter",
      inputs: [
        { name: "flow", type: "int16" },
        { name: "level", type: "uint16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
        { name: "full", type: "bit" },
        { name: "empty", type: "bit" },
        { spareBits: 6 },
        { name: "total", type: "uint32" },
        { name: "density", type: "float32" },
        { name: "litres", type: "uint64" },
      ],
    },
  ],
});
const frames = [
  "FF FE | 00 64 | 01 | 80 00 00 00 | 3F 80 00 00 | 00 00 00 00 00 00 00 01",
  "02 2B | 03 E8 | 02 | 00 00 00 07 | BF 00 00 00 | FF FF FF FF FF FF FF FF",
].map((hex) => fromHex(hex));
const capture = joined(frames);

describe("what stands in the columns", () => {
  test.each([
    ["float64", "flow", new Float64Array([-2, 555])],
    ["float64", "level", new Float64Array([10, 100])],
    ["float64", "full", new Uint8Array([1, 0])],
    ["float64", "empty", new Uint8Array([0, 1])],
    ["float64", "total", new Float64Array([2147483648, 7])],
    ["float64", "density", new Float64Array([1, -0.5])],
    ["float64", "litres", new BigUint64Array([1n, 2n ** 64n - 1n])],
    ["narrowest", "flow", new Int16Array([-2, 555])],
    ["narrowest", "level", new Float64Array([10, 100])],
    ["narrowest", "total", new Uint32Array([2147483648, 7])],
    ["narrowest", "density", new Float32Array([1, -0.5])],
  ] as const)("%s, %s", (storage, name, wanted) => {
    expect(columns(inputs, capture, { storage }).points[name]).toEqual(wanted);
  });

  // The value of 3 counts by hand; −3 in 32 bits is FFFFFFFDh, 80000003h in sign and magnitude, 7FFFFFFDh in offset binary.
  test.each([
    ["a line on unsigned counts", "uint32", {}, { counts: [0, 10], value: [3, 8] }, "00 00 00 03", 4.5],
    ["a line on signed counts", "int32", {}, { counts: [0, 10], value: [3, 8] }, "FF FF FF FD", 1.5],
    [
      "a line on offset binary",
      "int32",
      { code: "offsetBinary" },
      { counts: [0, 10], value: [3, 8] },
      "7F FF FF FD",
      1.5,
    ],
    [
      "a line on sign and magnitude",
      "int32",
      { code: "signMagnitude" },
      { counts: [0, 10], value: [3, 8] },
      "80 00 00 03",
      1.5,
    ],
    ["a square root", "uint32", {}, { counts: [0, 12], value: [0, 8], shape: "squareRoot" }, "00 00 00 03", 4],
    [
      "a curve",
      "uint32",
      {},
      {
        points: [
          [0, 1],
          [2, 3],
          [4, 7],
        ],
      },
      "00 00 00 03",
      5,
    ],
  ])("numbers of 32 bits, %s", (_, type, more, scale, hex, value) => {
    const station = {
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ name: "x", type, ...more, scale }] }],
    } as unknown as Station;
    const image = assemble(station).inputs;
    const other = fromHex("00 00 00 00");
    const { x } = columns(image, joined([fromHex(hex), other, fromHex(hex)])).points;
    expect(Array.from(x as Float64Array)).toEqual([value, decode(image, other).x, value]);
  });

  test.each(["float64", "narrowest"] as const)("random stations and frames, as %s: what decode gives", (storage) => {
    const samples = station().map((description) => assemble(description).inputs);
    const cases = samples.chain((image) =>
      fc.tuple(fc.constant(image), fc.array(frame(image), { minLength: 1, maxLength: 4 })),
    );
    fc.assert(
      fc.property(cases, ([image, taken]) => {
        if (image.byteLength === 0) return;
        const { points } = columns(image, joined(taken), { storage });
        const wanted = taken.map((bytes) => decode(image, bytes) as Record<string, unknown>);
        for (const { name } of image.points) {
          const column = points[name]!;
          // 64-bit integers have one zero.
          const zero = column instanceof BigInt64Array ? 0 : -0;
          expect(Array.from(column, Number), name).toEqual(wanted.map((values) => Number(values[name]) + zero));
        }
      }),
    );
  });
});

describe("captures as they come", () => {
  test("frames with a header and a trailer: the image is found by offset and stride", () => {
    const framed = joined(frames.map((bytes) => joined([fromHex("AA BB"), bytes, fromHex("CC")])));
    const { points, frames: count } = columns(inputs, framed, { offset: 2, stride: inputs.byteLength + 3 });
    expect(count).toBe(2);
    expect(points.flow).toEqual(new Float64Array([-2, 555]));
  });

  test("the last frame needs its image alone, not what would follow it", () => {
    const stride = inputs.byteLength + 5;
    const cut = new Uint8Array(stride + inputs.byteLength);
    cut.set(frames[0]!, 0);
    cut.set(frames[1]!, stride);
    expect(columns(inputs, cut, { stride }).points.flow).toEqual(new Float64Array([-2, 555]));
  });

  test("a frame that is cut off is not taken; no frame gives no row", () => {
    expect(columns(inputs, capture.subarray(0, capture.length - 1)).frames).toBe(1);
    expect(columns(inputs, new Uint8Array(0)).points.flow).toEqual(new Float64Array(0));
  });

  test("only the points that are named", () => {
    expect(Object.keys(columns(inputs, capture, { names: ["level", "full"] }).points)).toEqual(["level", "full"]);
  });

  test("piece by piece, behind the rows there are, into the same buffers; times are handed through", () => {
    const time = [0, 20];
    const first = columns(inputs, frames[0]!, { names: ["flow"], capacity: 2, time });
    expect(first).toEqual({ frames: 1, points: { flow: new Float64Array([-2, 0]) }, time });
    const both = columns(inputs, frames[1]!, { into: first });
    expect(both).toEqual({ frames: 2, points: { flow: new Float64Array([-2, 555]) }, time });
    expect(both.points.flow).toBe(first.points.flow);
  });

  test("a long capture tells how far it is, can be stopped, and goes on where it stopped", () => {
    const count = 60_000;
    const long = joined(Array.from({ length: count }, (_, k) => frames[k % 2]!));
    const told: number[] = [];
    const part = columns(inputs, long, {
      names: ["flow"],
      progress: (done, of) => {
        told.push(done);
        expect(of).toBe(count);
        return told.length === 2 ? "stop" : undefined;
      },
    });
    expect(told).toHaveLength(2);
    expect(part.frames).toBe(told[1]);
    expect(part.frames).toBeLessThan(count);
    const rest = columns(inputs, long.subarray(part.frames * inputs.byteLength), { into: part });
    expect(rest.frames).toBe(count);
    expect(rest.points).toEqual(columns(inputs, long, { names: ["flow"] }).points);
  });
});

describe("rows and blocks", () => {
  test("each row is that of its frame, in every column of a capture of many blocks", () => {
    const long = joined(Array.from({ length: 20_000 }, (_, k) => frames[k % 2]!));
    const told: number[] = [];
    const { points } = columns(inputs, long, { progress: (done) => told.push(done) });
    // Blocks, neither frame by frame nor all at once.
    expect(told.length).toBeGreaterThan(1);
    expect(told.length).toBeLessThan(10);
    expect(told.at(-1)).toBe(20_000);
    for (const [name, short] of Object.entries(columns(inputs, capture).points)) {
      const seen = new Set(Array.from<unknown, string>(points[name as "flow"], (value, k) => `${k % 2}: ${value}`));
      expect([name, ...seen]).toEqual([name, `0: ${short[0]}`, `1: ${short[1]}`]);
    }
  });

  test("a frame longer than a block is a block of its own", () => {
    const stride = 2 ** 18 + 1;
    const sparse = new Uint8Array(stride + inputs.byteLength);
    frames.forEach((bytes, k) => sparse.set(bytes, k * stride));
    const told: number[] = [];
    const { points } = columns(inputs, sparse, { stride, progress: (done) => told.push(done) });
    expect(told).toEqual([1, 2]);
    expect(points.flow).toEqual(new Float64Array([-2, 555]));
  });

  test("no other row of the caller's own arrays is touched", () => {
    const points = {
      flow: new Float64Array(4).fill(7),
      level: new Float32Array(4).fill(7),
      full: new Uint8Array(4).fill(7),
      empty: new Uint8Array(4).fill(7),
      total: new Float64Array(4).fill(7),
      density: new Float64Array(4).fill(7),
      litres: new BigUint64Array(4).fill(7n),
    };
    const { frames: filled } = columns(inputs, capture, { into: { frames: 1, points, time: undefined } });
    expect(filled).toBe(3);
    expect(points).toEqual({
      flow: new Float64Array([7, -2, 555, 7]),
      level: new Float32Array([7, 10, 100, 7]),
      full: new Uint8Array([7, 1, 0, 7]),
      empty: new Uint8Array([7, 0, 1, 7]),
      total: new Float64Array([7, 2147483648, 7, 7]),
      density: new Float64Array([7, 1, -0.5, 7]),
      litres: new BigUint64Array([7n, 1n, 2n ** 64n - 1n, 7n]),
    });
  });

  test.each([
    [new Float64Array(3), new Float64Array([1, 0, 0])],
    [new Int8Array(3), new Int8Array([1, 0, 0])],
    [new BigInt64Array(3), new BigInt64Array([1n, 0n, 0n])],
  ])("a flag goes into whatever array the caller has: %o", (full, wanted) => {
    columns(inputs, capture, { into: { frames: 0, points: { full } as never, time: undefined } });
    expect(full).toEqual(wanted);
  });

  test("rows kept for what follows are 0", () => {
    const { points } = columns(inputs, capture, { names: ["flow", "total", "full"], capacity: 3 });
    expect(points).toMatchObject({
      flow: new Float64Array([-2, 555, 0]),
      total: new Float64Array([2147483648, 7, 0]),
      full: new Uint8Array([1, 0, 0]),
    });
  });

  test("a header alone says where the next frame begins; the last frame ends with its image", () => {
    const headed = joined(frames.map((bytes) => joined([fromHex("AA BB CC"), bytes])));
    const { frames: found, points } = columns(inputs, headed, { offset: 3 });
    expect(found).toBe(2);
    expect(points.total).toEqual(new Float64Array([2147483648, 7]));
    expect(columns(inputs, headed.subarray(0, -1), { offset: 3 }).frames).toBe(1);
    expect(columns(inputs, headed.subarray(0, inputs.byteLength + 2), { offset: 3 }).frames).toBe(0);
  });

  test("an image of one byte: its frames are the bytes", () => {
    const { inputs: byte } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "meter", inputs: [{ name: "step", type: "int8" }] }],
    });
    expect(columns(byte, fromHex("01 FF 80")).points.step).toEqual(new Float64Array([1, -1, -128]));
  });
});

describe("what does not fit is refused", () => {
  const own = { flow: new Float64Array(1) } as never;
  const { inputs: nothing } = assemble({ format: 1, name: "rig", byteOrder: "big", modules: [] });

  test.each<readonly [string, object, string]>([
    [
      "a point that there is not",
      { names: ["flwo"] },
      "value.unknown flwo: is no point of the inputs (case counts here)",
    ],
    ["a stride below the image", { stride: 20 }, "columns.stride inputs: must be at least 21 bytes, not 20"],
    [
      "one below offset and image",
      { offset: 2, stride: 22 },
      "columns.stride inputs: must be at least 23 bytes, not 22",
    ],
    ["half a byte", { stride: 21.5 }, "columns.stride inputs: must be at least 21 bytes, not 21.5"],
    [
      "an offset before the capture",
      { offset: -1 },
      "columns.offset inputs: must be a whole number of bytes, 0 or more, not -1",
    ],
    [
      "an offset within a byte",
      { offset: 0.5 },
      "columns.offset inputs: must be a whole number of bytes, 0 or more, not 0.5",
    ],
    [
      "more frames than rows",
      { into: { frames: 0, points: own, time: undefined } },
      "columns.room flow: needs 2 rows and has 1; give capacity",
    ],
    [
      "more frames than rows are left",
      { into: { frames: 3, points: { ...columns(inputs, capture, { capacity: 4 }).points }, time: undefined } },
      "columns.room flow: needs 5 rows and has 4; give capacity",
    ],
  ])("%s", (_, options, message) => {
    expect(toldOf(() => columns(inputs, capture, options))).toBe(message);
  });

  test("an image without a byte has no frames to count, unless a stride says where they are", () => {
    expect(toldOf(() => columns(nothing, capture))).toBe("columns.stride inputs: must be at least 1 bytes, not 0");
    expect(columns(nothing, capture, { stride: 1 }).points).toEqual({});
  });

  test("what is no bytes", () => {
    expect(toldOf(() => columns(inputs, "FF FE" as never))).toBe(
      "image.bytes inputs: must be a Uint8Array (a Node Buffer is one)",
    );
  });
});

/** What the caller reads: code, place and message. */
function toldOf(action: () => unknown): string {
  return problemsOf(action)
    .map(({ code, path, message }) => `${code} ${path}: ${message}`)
    .join("\n");
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
