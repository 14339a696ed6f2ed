// Columns of a capture: every cell is what decode gives for that frame; buffers, pieces and gaps of the capture's owner.

import { frame, station } from "@byterail/testkit";
import { assemble, decode } from "byterail";
import { columns, fromHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";

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
    const count = 20_000;
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

describe("what does not fit is refused", () => {
  const own = { flow: new Float64Array(1) } as never;
  test.each([
    ["a point that there is not", { names: ["flwo"] }, "value.unknown"],
    ["a stride below the image", { stride: inputs.byteLength - 1 }, "columns.stride"],
    ["a stride below offset and image", { offset: 2, stride: inputs.byteLength + 1 }, "columns.stride"],
    ["half a byte", { stride: inputs.byteLength + 0.5 }, "columns.stride"],
    ["an offset before the capture", { offset: -1 }, "columns.offset"],
    ["more frames than rows", { into: { frames: 0, points: own, time: undefined } }, "columns.room"],
  ])("%s", (_, options, code) => {
    expect(() => columns(inputs, capture, options as never)).toThrow(
      expect.objectContaining({ problems: [expect.objectContaining({ code })] }),
    );
  });

  test("what is no bytes", () => {
    expect(() => columns(inputs, "FF FE" as never)).toThrow(/must be a Uint8Array/);
  });
});

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
