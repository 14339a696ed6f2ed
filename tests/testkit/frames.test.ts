// Random frames, values and counts of the kit, and frames with one thing wrong.

import {
  acceptedValues,
  assemble,
  type Direction,
  type Entry,
  decode,
  decodeRaw,
  encode,
  encodeRaw,
  type ImageLayout,
  type Layout,
  pointHandle,
} from "byterail";
import { inspect } from "byterail/map";
import { counts, type FrameFault, faultyFrame, frame, station, values } from "@byterail/testkit";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

/** An image of one module with these entries. */
function imageOf(entries: readonly Entry[], direction: Direction = "inputs"): ImageLayout {
  const modules = [{ name: "m", [direction]: entries }];
  return (assemble({ format: 1, name: "rig", byteOrder: "big", modules }) as Layout)[direction];
}

/** Holds for something random of both images of random stations. */
function holdsFor<T>(
  make: (image: ImageLayout) => fc.Arbitrary<T>,
  property: (image: ImageLayout, made: T) => void,
  numRuns = 60,
): void {
  const images = station().chain((description) => {
    const { inputs, outputs } = assemble(description) as Layout;
    return fc.tuple(...[inputs, outputs].map((image) => make(image).map((made) => ({ image, made }))));
  });
  fc.assert(
    fc.property(images, (both) => {
      for (const { image, made } of both) property(image, made);
    }),
    { numRuns },
  );
}

const supply = { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10] } as const;

describe("counts of a point", () => {
  const cases: readonly (readonly [point: string, entry: Entry, edges: readonly unknown[]])[] = [
    ["a bit", { name: "p", type: "bit" }, [true, false]],
    ["a byte", { name: "p", type: "uint8" }, [0, 1, 254, 255]],
    ["a signed word", { name: "p", type: "int16" }, [-32768, -32767, -1, 0, 1, 32767]],
    ["64 bits", { name: "p", type: "int64" }, [-(1n << 63n), 0n, (1n << 63n) - 1n]],
    ["decimal digits", { name: "p", type: "uint16", code: "bcd" }, [0, 9998, 9999]],
    ["the two zeros of sign-magnitude", { name: "p", type: "int8", code: "signMagnitude" }, [-127, -0, 0, 127]],
    ["the ends of a scale", { name: "p", type: "uint16", scale: supply }, [3999, 4000, 4001, 19999, 20000, 20001]],
    [
      "the bands of NE 43",
      { name: "p", type: "uint16", scale: supply },
      [3600, 3601, 3799, 3800, 20500, 20501, 20999, 21000],
    ],
    [
      "reports",
      { name: "p", type: "int16", specialCounts: [{ counts: 32000, health: "invalid" }] },
      [31999, 32000, 32001],
    ],
    ["a real", { name: "p", type: "float32" }, [0, 0x80000000, 0x7f800000, 0x7fc00000]],
  ];
  for (const [point, entry, edges] of cases)
    test(point, () => {
      const image = imageOf([entry]);
      const made = fc.sample(counts(pointHandle(image, "p").point), { numRuns: 1000, seed: 3 });
      expect(edges.filter((edge) => !made.some((raw) => Object.is(raw, edge)))).toEqual([]);
      for (const raw of made) expect(decodeRaw(image, encodeRaw(image, { p: raw })).p).toEqual(raw);
    });

  test("of any point are what it can carry", () => {
    const all = (image: ImageLayout) =>
      fc.record(Object.fromEntries(image.points.map((point) => [point.name, counts(point)])));
    holdsFor(all, (image, raw) => expect(decodeRaw(image, encodeRaw(image, raw))).toEqual(raw));
  });
});

describe("frames", () => {
  test("have the length of the image", () => {
    holdsFor(frame, (image, bytes) => expect(bytes).toHaveLength(image.byteLength));
  });

  test("reach the edges of their points", () => {
    const image = imageOf([{ name: "p", type: "uint32" }]);
    const made = fc.sample(frame(image), { numRuns: 200, seed: 3 }).map((bytes) => decode(image, bytes).p);
    expect(made).toEqual(expect.arrayContaining([0, 2 ** 32 - 1]));
  });

  test("shrink to zeros", () => {
    const image = imageOf([
      { name: "a", type: "uint16" },
      { name: "b", type: "float32" },
    ]);
    const { counterexample } = fc.check(
      fc.property(frame(image), () => false),
      { seed: 5 },
    );
    expect(counterexample).toEqual([new Uint8Array(6)]);
  });
});

describe("values", () => {
  test("are accepted, and those of bits and integers come back as they were", () => {
    let compared = 0;
    holdsFor(
      values,
      (image, given) => {
        const back = decode(image, encode(image, given));
        for (const { name, kind, description } of image.points) {
          if (kind === "real" && "scale" in description) continue;
          if (kind === "real" && "limits" in description) continue; // an end may lie between two numbers of a float32
          expect(back[name] === given[name], `${name}: ${given[name]} came back as ${back[name]}`).toBe(true);
          compared++;
        }
      },
      150,
    );
    expect(compared).toBeGreaterThan(500);
  });

  test("keep within what the point accepts, and reach both ends", () => {
    const outputs = imageOf([{ name: "p", type: "uint16", scale: supply }], "outputs");
    const made = fc.sample(values(outputs), { numRuns: 300, seed: 3 }).map(({ p }) => p);
    expect([Math.min(...(made as number[])), Math.max(...(made as number[]))]).toEqual(
      acceptedValues(outputs.points[0]!, "outputs"),
    );
  });

  test("leave out counts that are a report", () => {
    const specialCounts = [{ counts: 1, health: "invalid" as const }];
    const image = imageOf([{ word: 8, fields: [{ name: "p", bits: 2, shift: 0, specialCounts }] }]);
    expect(new Set(fc.sample(values(image), { numRuns: 100, seed: 3 }).map(({ p }) => p))).toEqual(new Set([0, 2, 3]));
  });

  test("that limits leave no room for are an error, not an endless search", () => {
    expect(() => values(imageOf([{ name: "p", type: "int16", limits: [0.2, 0.8] }]))).toThrow(/no value of point p/);
    expect(() => values(imageOf([{ name: "p", type: "int16", limits: [40000, 50000] }]))).toThrow(RangeError);
  });

  test("have the types of the station", () => {
    const modules = [
      {
        name: "m",
        inputs: [
          { name: "low", type: "bit" },
          { name: "kegs", type: "uint64" },
        ],
      },
    ] as const;
    const { inputs } = assemble({ format: 1, name: "rig", byteOrder: "big", modules });
    fc.assert(
      fc.property(values(inputs), ({ low, kegs }) => {
        const both: readonly [boolean, bigint] = [low, kegs];
        expect(both.map((value) => typeof value)).toEqual(["boolean", "bigint"]);
      }),
    );
  });
});

describe("a faulty frame", () => {
  const entries: readonly Entry[] = [
    { name: "low", type: "bit" },
    { name: "weight", type: "uint16", code: "bcd" },
    { name: "flow", type: "float32" },
    { name: "supply", type: "uint16", scale: supply, limits: [0, 10] },
    { name: "probe", type: "int16", specialCounts: [{ counts: 32767, health: "failedHigh" }] },
  ];
  const cases: readonly (readonly [
    fault: FrameFault,
    point: string | null,
    health: readonly unknown[],
    codes: readonly string[],
  ])[] = [
    ["length", null, [null], ["image.length"]],
    ["code", "weight", ["invalid"], ["value.type"]],
    ["notFinite", "flow", ["invalid"], ["value.type"]],
    ["report", "probe", ["failedHigh"], ["value.special"]],
    ["signal", "supply", ["failedLow", "belowMeasuring", "aboveMeasuring", "failedHigh"], ["value.limits"]],
    ["limits", "supply", ["failedLow", "belowMeasuring", "aboveMeasuring", "failedHigh", "ok"], ["value.limits"]],
  ];
  for (const [fault, point, health, codes] of cases)
    test(fault, () => {
      const image = imageOf(entries);
      const made = fc.sample(faultyFrame(image, { faults: [fault] }), { numRuns: 200, seed: 3 });
      expect(new Set(made.map((each) => each.fault))).toEqual(new Set([fault]));
      expect(new Set(made.map((each) => each.point))).toEqual(new Set([point]));
      expect(new Set(made.map((each) => each.health))).toEqual(new Set(health));
      expect(new Set(made.flatMap(({ problems }) => problems.map(({ code }) => code)))).toEqual(new Set(codes));
    });

  test("carries what core reports of it", () => {
    holdsFor(faultyFrame, (image, { bytes, point, health, problems, fault }) => {
      if (fault === "length") return expect(problems).toEqual(problemsOf(() => decode(image, bytes)));
      expect(inspect(image, bytes).find(({ name }) => name === point)!.health).toBe(health);
    });
  });

  test("that no point can have is an error", () => {
    expect(() => faultyFrame(imageOf([{ name: "p", type: "bit" }]), { faults: ["code", "limits"] })).toThrow(
      RangeError,
    );
  });
});
