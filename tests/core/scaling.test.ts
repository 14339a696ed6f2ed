// Scaling: counts ↔ signal ↔ value. Exact where the description is exact; judged by fractions of bigints.

import {
  assemble,
  characteristicOf,
  decode,
  encode,
  type Health,
  linearScale,
  type NumberPoint,
  piecewiseScale,
  ratioOf,
  roundTiesToEven,
  type Scale,
  type SignalRangeName,
  type Span,
  signalOf,
  signalRanges,
  signalScale,
  squareRootScale,
} from "byterail";
import { healthOf, ne43 } from "byterail/map";
import { converterResolution, scaleResolution } from "byterail/map";
import { examine } from "byterail/schema";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";
import { compare, isNearest, onLine, rational } from "../support/rational.js";
import { curves, valueSpans } from "../support/stations.js";

const int16: Span = [-32768, 32767];
const countsSpans = ([min, max]: Span) =>
  fc.uniqueArray(fc.integer({ min, max }), { minLength: 2, maxLength: 2 }) as unknown as fc.Arbitrary<Span>;

describe("a linear scale is exact", () => {
  test("decode gives the double nearest to the exact rational, whatever the ends", () => {
    // Ends as integers over a power of ten, so that the exact line is known without asking the library.
    const ends = fc.uniqueArray(fc.integer({ min: -99_999, max: 99_999 }), { minLength: 2, maxLength: 2 });
    const decimals = fc.integer({ min: 0, max: 4 });
    fc.assert(
      fc.property(
        countsSpans(int16),
        ends,
        decimals,
        fc.integer({ min: int16[0], max: int16[1] }),
        (counts, v, d, n) => {
          const value = v.map((top) => Number(`${top}e-${d}`)) as unknown as Span;
          const [v0, v1] = v.map((top) => rational(BigInt(top), 10n ** BigInt(d))) as [
            ReturnType<typeof rational>,
            ReturnType<typeof rational>,
          ];
          const exact = onLine(BigInt(n), [BigInt(counts[0]), BigInt(counts[1])], [v0, v1]);
          expect(isNearest(linearScale(counts, value).toValue(n), exact)).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("its three integers are in lowest terms, c above 0, and pass through both ends", () => {
    fc.assert(
      fc.property(countsSpans(int16), valueSpans(), (counts, value) => {
        const { a, b, c } = ratioOf(counts, value);
        expect(c > 0n).toBe(true);
        expect(gcd(gcd(a, b), c)).toBe(1n);
        const { toValue, toCounts } = linearScale(counts, value);
        expect(counts.map(toValue)).toEqual(value.map((v) => v + 0));
        expect(value.map((v) => roundTiesToEven(toCounts(v)) + 0)).toEqual(counts.map((n) => n + 0));
      }),
    );
  });

  test.each<[counts: Span, value: Span, a: bigint, b: bigint, c: bigint]>([
    [[4000, 20000], [0, 10], 1n, -4000n, 1600n],
    [[0, 1500], [0, 150], 1n, 0n, 10n],
    [[0, 10], [0.1, 0.2], 1n, 10n, 100n],
    [[20000, 4000], [0, 10], -1n, 20000n, 1600n],
    [[-5, 5], [1e-7, 2e-7], 1n, 15n, 100_000_000n],
    [[0, 1], [0, 1e21], 10n ** 21n, 0n, 1n],
    [[0, 1], [-3e22, 1.5e22], 45n * 10n ** 21n, -3n * 10n ** 22n, 1n],
  ])("counts %j are value %j", (counts, value, a, b, c) => expect(ratioOf(counts, value)).toEqual({ a, b, c }));

  test("a float is plain real arithmetic, its counts need not be whole", () => {
    const { inputs, outputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        {
          name: "meter",
          inputs: [{ name: "flow", type: "float64", scale: { counts: [0.5, 1.5], value: [0, 10] } }],
          outputs: [{ name: "flow", type: "float64", scale: { counts: [0.5, 1.5], value: [0, 10] } }],
        },
      ],
    });
    const bytes = encode(outputs, { flow: 2.5 });
    expect(new DataView(bytes.buffer).getFloat64(0)).toBe(0.75);
    expect(decode(inputs, bytes)).toEqual({ flow: 2.5 });
  });
});

describe("standard signals (IEC 60381-1 and -2, ISA-50.00.01; from memory)", () => {
  const table = [
    // %, mA, V of 1–5 V, V of 0–10 V, psi of 3–15 psi
    [0, 4, 1, 0, 3],
    [25, 8, 2, 2.5, 6],
    [50, 12, 3, 5, 9],
    [75, 16, 4, 7.5, 12],
    [100, 20, 5, 10, 15],
  ] as const;
  test.each(table)("%i %% is %f mA, %f V of 1–5 V, %f V of 0–10 V, %f psi", (percent, mA, v5, v10, psi) => {
    const ends: Record<string, [SignalRangeName, number]> = {
      mA: ["4-20 mA", mA],
      v5: ["1-5 V", v5],
      v10: ["0-10 V", v10],
    };
    for (const [name, signal] of Object.values(ends)) {
      const scale = signalScale(name, [0, 16000], [0, 100], "%");
      const counts = 160 * percent;
      expect(signalOf(scale)!.toValue(counts)).toBe(signal);
      expect(characteristicOf(scale)!.toValue(counts)).toBe(percent);
      expect(characteristicOf(scale)!.toCounts(percent)).toBe(counts);
    }
    expect(linearScale([4, 20], [3, 15]).toValue(mA)).toBe(psi);
  });

  test("without a value the signal is the value", () => {
    expect(characteristicOf(signalScale("4-20 mA", [0, 16000]))!.toValue(8000)).toBe(12);
  });

  test("with 0.01 mA a count, 400–2000 counts, 1200 is exactly half (common practice)", () => {
    expect(characteristicOf(signalScale("4-20 mA", [400, 2000], [0, 100], "%"))!.toValue(1200)).toBe(50);
  });

  test("with 0.01 V a count 500 is 5 V (common practice)", () => {
    expect(signalOf(signalScale("0-10 V", [0, 1000]))!.toValue(500)).toBe(5);
  });
});

test.each([
  ["4-20 mA", [4, 20], "mA", "IEC 60381-1"],
  ["0-20 mA", [0, 20], "mA", "IEC 60381-1"],
  ["1-5 V", [1, 5], "V", "IEC 60381-2"],
  ["0-5 V", [0, 5], "V", "IEC 60381-2"],
  ["0-10 V", [0, 10], "V", "IEC 60381-2"],
  ["-10-10 V", [-10, 10], "V", "IEC 60381-2"],
] as const)("the standard signal %s and a scale on it", (name, signal, signalUnit, source) => {
  expect(signalRanges[name]).toEqual({ signal, signalUnit, source });
  const counts: Span = [0, 1000];
  expect(signalScale(name, counts)).toStrictEqual({ counts, signal, signalUnit });
  expect(signalScale(name, counts, [0, 10], "bar")).toStrictEqual({
    ...{ counts, signal, signalUnit, value: [0, 10], unit: "bar" },
  });
});

describe("the characteristic of a scale", () => {
  test("is a root where the scale says so, and its signal is a line all the same", () => {
    const scale: Scale = { ...signalScale("4-20 mA", [0, 10000], [0, 100], "L/min"), shape: "squareRoot" };
    expect(characteristicOf(scale)!.toValue(2500)).toBe(50);
    expect(characteristicOf(scale)!.toCounts(50)).toBe(2500);
    expect(signalOf(scale)!.toValue(2500)).toBe(8);
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "ai", inputs: [{ name: "flow", type: "int16", scale }] }],
    });
    expect(decode(inputs, new Uint8Array([0x09, 0xc4]))).toEqual({ flow: 50 });
  });

  test.each<[missing: string, scale: Scale]>([
    ["everything", {}],
    ["value and signal", { counts: [0, 100], unit: "bar" }],
    ["counts", { value: [0, 100] }],
    ["counts of the signal", { signal: [4, 20], signalUnit: "mA" }],
  ])("is not known without %s", (_, scale) => {
    expect(characteristicOf(scale)).toBeNull();
    expect(signalOf(scale)).toBeNull();
    expect(scaleResolution(scale)).toBeNull();
  });
});

describe("health by NAMUR NE 43: measuring from 3.8 to 20.5 mA, failure at 3.6 or less and 21 mA or more", () => {
  const health = (counts: Span, signal: Span, n: number) =>
    healthOf({ name: "x", scale: { counts, signal, signalUnit: "mA" } })(n);

  test("the limits in percent of span are −2.5, −1.25, 103.125, 106.25 (computed)", () => {
    const { toValue } = linearScale([4, 20], [0, 100]);
    const { failedLow, measuringLow, measuringHigh, failedHigh } = ne43;
    expect([failedLow, measuringLow, measuringHigh, failedHigh]).toEqual([3.6, 3.8, 20.5, 21]);
    expect([failedLow, measuringHigh, failedHigh].map(toValue)).toEqual([-2.5, 103.125, 106.25]);
    expect(toValue(measuringLow)).toBeCloseTo(-1.25, 12); // counts are whole in a station; 3.8 as a double is not
    expect(linearScale([400, 2000], [0, 100]).toValue(380)).toBe(-1.25);
  });

  type Edges = [last: number, first: number, between: Health, and: Health][];
  const table: [title: string, counts: Span, signal: Span, edges: Edges][] = [
    ["1000 counts a mA", [4000, 20000], [4, 20], edges([3600, 3601], [3799, 3800], [20500, 20501], [20999, 21000])],
    ["100 counts a mA", [400, 2000], [4, 20], edges([360, 361], [379, 380], [2050, 2051], [2099, 2100])],
    // −409.6, −204.8, 16896, 17408 counts: limits between two counts fall to the inner side.
    [
      "live zero at 0, 1024 counts a mA",
      [0, 16384],
      [4, 20],
      edges([-410, -409], [-205, -204], [16896, 16897], [17407, 17408]),
    ],
    // 10312.5 counts are 20.5 mA.
    [
      "live zero at 0, 625 counts a mA",
      [0, 10000],
      [4, 20],
      edges([-250, -249], [-126, -125], [10312, 10313], [10624, 10625]),
    ],
    ["counts that fall", [20000, 4000], [4, 20], edges([20400, 20399], [20201, 20200], [3500, 3499], [3001, 3000])],
    ["a signal that falls", [4000, 20000], [20, 4], edges([20400, 20399], [20201, 20200], [3500, 3499], [3001, 3000])],
  ];
  test.each(table)("%s", (_, counts, signal, limits) => {
    for (const [last, first, before, after] of limits)
      expect([last, first].map((n) => [n, health(counts, signal, n)])).toEqual([
        [last, before],
        [first, after],
      ]);
  });

  test("any span: each count is judged as its exact current is", () => {
    const limits = [rational(36n, 10n), rational(38n, 10n), rational(205n, 10n), rational(21n)] as const;
    const judged = (mA: ReturnType<typeof rational>): Health => {
      if (compare(mA, limits[0]) <= 0) return "failedLow";
      if (compare(mA, limits[1]) < 0) return "belowMeasuring";
      if (compare(mA, limits[2]) <= 0) return "ok";
      return compare(mA, limits[3]) < 0 ? "aboveMeasuring" : "failedHigh";
    };
    fc.assert(
      fc.property(countsSpans([-20000, 20000]), fc.boolean(), (counts, falls) => {
        const signal: Span = falls ? [20, 4] : [4, 20];
        const judge = healthOf({ name: "x", scale: { counts, signal, signalUnit: "mA" } });
        const [s0, s1] = signal.map((mA) => rational(BigInt(mA))) as [
          ReturnType<typeof rational>,
          ReturnType<typeof rational>,
        ];
        // Around every limit, where a slip would show.
        for (const mA of [3.6, 3.8, 20.5, 21])
          for (let n = Math.round(linearScale(counts, signal).toCounts(mA)) - 2, k = 0; k < 5; k++, n++)
            expect([n, judge(n)]).toEqual([
              n,
              judged(onLine(BigInt(n), [BigInt(counts[0]), BigInt(counts[1])], [s0, s1])),
            ]);
      }),
    );
  });

  test("other signals have no such bands, and special counts come first", () => {
    const judge = (point: Partial<NumberPoint>) => healthOf({ name: "x", ...point });
    expect(judge({ scale: signalScale("0-20 mA", [0, 20000]) })(21500)).toBe("none");
    expect(judge({ scale: signalScale("1-5 V", [0, 20000]) })(-5000)).toBe("none");
    expect(judge({})(0)).toBe("none");
    const counts: Span = [0, 16000];
    expect(judge({ scale: { counts, signal: [4, 20], signalUnit: "V" } })(32000)).toBe("none");
    expect(judge({ scale: { counts, signal: [4, 24], signalUnit: "mA" } })(32000)).toBe("none");
    expect(judge({ scale: { counts, value: [4, 20], signalUnit: "mA" } })(32000)).toBe("none");
    expect(judge({ scale: { signal: [4, 20], signalUnit: "mA" } })(32000)).toBe("none");
    const special = { specialCounts: [{ counts: 32767, health: "failedHigh" as const }] };
    expect([32767, 32766].map(judge(special))).toEqual(["failedHigh", "ok"]);
    const both = judge({
      scale: signalScale("4-20 mA", [0, 16000]),
      specialCounts: [{ counts: 100, health: "invalid" }],
    });
    expect([100, 101, 32767].map(both)).toEqual(["invalid", "ok", "failedHigh"]);
  });
});

describe("REAL → INT rounds ties to even (IEC 61131-3, table 22)", () => {
  test.each([
    [1.5, 2],
    [2.5, 2],
    [-1.5, -2],
    [-2.5, -2],
    [1.4, 1],
    [-1.6, -2],
    // by the same rule
    [0.5, 0],
    [-0.5, 0],
    [3.5, 4],
    [0.49999999999999994, 0],
    [-7, -7],
    // from 2^51 to 2^52 a fraction can only be a half, beyond there is none
    [2251799813685247.5, 2251799813685248],
    [2251799813685248.5, 2251799813685248],
    [2251799813685249, 2251799813685249],
    [2251799813685249.5, 2251799813685250],
    [-2251799813685248.5, -2251799813685248],
    [-2251799813685249.5, -2251799813685250],
    [4503599627370495.5, 4503599627370496],
    [9007199254740991, 9007199254740991],
  ])("%f → %i", (real, integer) => expect(roundTiesToEven(real) + 0).toBe(integer));

  test("encode rounds so, where Math.round would not", () => {
    const { outputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        { name: "ao", outputs: [{ name: "valve", type: "int16", scale: { counts: [-100, 100], value: [-50, 50] } }] },
      ],
    });
    expect(Math.round(2.5)).toBe(3);
    expect(encode(outputs, { valve: 1.25 })).toEqual(new Uint8Array([0, 2]));
    expect(encode(outputs, { valve: -0.75 })).toEqual(new Uint8Array([0xff, 0xfe]));
  });
});

describe("square root extraction, mA in → mA out (computed: flow = √)", () => {
  test.each([
    [4, 4],
    [5, 8],
    [6, 9.66],
    [8, 12],
    [9, 12.94],
    [13, 16],
    [16, 17.86],
    [20, 20],
  ])("%f → %f", (pressure, flow) => {
    const scale = squareRootScale([4, 20], [4, 20]);
    expect(Math.round(100 * scale.toValue(pressure)) / 100).toBe(flow);
    expect(scale.toCounts(scale.toValue(pressure))).toBeCloseTo(pressure, 10);
  });

  test("is mirrored below zero, so that it has an inverse there too", () => {
    const scale = squareRootScale([0, 10000], [0, 100]);
    expect(scale.toValue(-2500)).toBe(-50);
    expect(scale.toCounts(-50)).toBe(-2500);
  });
});

describe("resolution (computed: one step = span / 2^n)", () => {
  test.each([
    // bits, % of full scale, mV of 10 V, µA of 16 mA
    [8, 0.390625, 39.0625, 62.5],
    [12, 0.0244140625, 2.44140625, 3.90625],
    [16, 0.00152587890625, 0.152587890625, 0.244140625],
  ])("%i bits", (bits, percent, mV, µA) => {
    expect(converterResolution(bits, 100).step).toBe(percent);
    expect(1000 * converterResolution(bits, 10).step).toBeCloseTo(mV, 12);
    expect(1000 * converterResolution(bits, 16).step).toBe(µA);
  });

  test("rounding is off by half a step at most, by step/√12 as a root mean square (JCGM 100:2008, 4.3.7)", () => {
    const { step, largestError, rmsError } = converterResolution(12, 10);
    expect(largestError).toBe(step / 2);
    expect(rmsError).toBeCloseTo(step / 2 / Math.sqrt(3), 15);
  });

  test("of a point: one count in value, in signal and in percent of the span", () => {
    const resolution = scaleResolution(signalScale("4-20 mA", [4000, 20000], [0, 8], "bar"))!;
    expect(resolution.value.step).toBe(0.0005);
    expect(resolution.signal!.step).toBe(0.001);
    expect(resolution.percentOfSpan).toBe(0.00625);
    expect(scaleResolution({ counts: [20000, 4000], value: [0, 8] })!.value.step).toBe(0.0005);
    // A root is steepest at its lower end: √(1/10000) of 100 units, wherever that end lies.
    for (const counts of [[0, 10000] as const, [10000, 0] as const])
      expect(scaleResolution({ counts, value: [0, 100], shape: "squareRoot" })).toMatchObject({
        value: { step: 1 },
        signal: null,
        percentOfSpan: 0.01,
      });
    // Steepest piece: 10 units in 100 counts, from whichever end it is listed.
    expect(
      scaleResolution({
        points: [
          [1100, 20],
          [1000, 10],
          [0, 0],
        ],
      }),
    ).toMatchObject({ value: { step: expect.closeTo(0.1, 12) }, percentOfSpan: expect.closeTo(100 / 1100, 12) });
    expect(
      scaleResolution({
        points: [
          [0, 0],
          [1000, 10],
          [1100, 20],
        ],
      })!.value.step,
    ).toBeCloseTo(0.1, 12);
  });
});

describe("counts → value → counts is the identity", () => {
  const every16 = (expectation: (n: number) => number, [min, max] = int16) => {
    for (let n = min; n <= max; n++) if (roundTiesToEven(expectation(n)) !== n) return n;
    return null;
  };

  test("for every 16-bit count of random scales", () => {
    fc.assert(
      fc.property(countsSpans(int16), valueSpans(), (counts, value) => {
        const { toValue, toCounts } = linearScale(counts, value);
        expect(every16((n) => toCounts(toValue(n)))).toBeNull();
      }),
      { numRuns: 30 },
    );
  });

  test("for every 16-bit count of random characteristics of several pieces", () => {
    fc.assert(
      fc.property(curves(int16), ({ points }) => {
        const { toValue, toCounts } = piecewiseScale(points);
        expect(every16((n) => toCounts(toValue(n)))).toBeNull();
      }),
      { numRuns: 8 },
    );
  });

  test("a value of 0 is never −0 counts, where the code has both", () => {
    const { inputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [
        {
          name: "ai",
          inputs: [
            { name: "x", type: "int16", code: "signMagnitude", scale: { counts: [-100, 100], value: [10, -10] } },
          ],
        },
      ],
    });
    expect(encode(inputs, decode(inputs, new Uint8Array(2)))).toEqual(new Uint8Array(2));
  });

  test("through bytes: what decodes, encodes to the same bytes", () => {
    fc.assert(
      fc.property(
        countsSpans(int16),
        valueSpans(),
        fc.uint8Array({ minLength: 2, maxLength: 2 }),
        (counts, value, bytes) => {
          const { inputs } = assemble({
            ...{ format: 1, name: "rig", byteOrder: "big" },
            modules: [{ name: "ai", inputs: [{ name: "x", type: "int16", scale: { counts, value } }] }],
          });
          expect(encode(inputs, decode(inputs, bytes))).toEqual(bytes);
        },
      ),
    );
  });
});

describe("a piecewise characteristic", () => {
  test("passes through its points and goes on beyond them", () => {
    const { toValue, toCounts } = piecewiseScale([
      [0, 0],
      [100, 10],
      [200, 40],
    ]);
    expect([-100, 0, 50, 100, 150, 200, 300].map(toValue)).toEqual([-10, 0, 5, 10, 25, 40, 70]);
    expect([-10, 0, 5, 10, 25, 40, 70].map(toCounts)).toEqual([-100, 0, 50, 100, 150, 200, 300]);
  });

  test("may fall, and may be listed from either end", () => {
    const falling = piecewiseScale([
      [0, 40],
      [100, 10],
      [200, 0],
    ]);
    expect([0, 50, 150, 200].map(falling.toValue)).toEqual([40, 25, 5, 0]);
    expect([40, 25, 5, 0].map((v) => falling.toCounts(v) + 0)).toEqual([0, 50, 150, 200]);
    const backwards = piecewiseScale([
      [200, 0],
      [100, 10],
      [0, 40],
    ]);
    expect([0, 50, 150, 200].map(backwards.toValue)).toEqual([40, 25, 5, 0]);
    expect([40, 25, 5, 0].map((v) => backwards.toCounts(v) + 0)).toEqual([0, 50, 150, 200]);
  });

  test("keeps one direction over its whole range", () => {
    fc.assert(
      fc.property(curves([-2000, 2000]), ({ points }) => {
        const { toValue } = piecewiseScale(points);
        const direction = Math.sign(points[1]![1] - points[0]![1]);
        const turns = Array.from({ length: 4200 }, (_, k) => k - 2100).filter(
          (n) => Math.sign(toValue(n + 1) - toValue(n)) !== direction,
        );
        expect(turns).toEqual([]);
      }),
      { numRuns: 20 },
    );
  });

  test.each<[title: string, points: Span[]]>([
    [
      "counts that turn back",
      [
        [0, 0],
        [100, 10],
        [50, 20],
      ],
    ],
    [
      "values that turn back",
      [
        [0, 0],
        [100, 10],
        [200, 5],
      ],
    ],
    [
      "a value that stands still",
      [
        [0, 0],
        [100, 10],
        [200, 10],
      ],
    ],
    [
      "values that never move",
      [
        [0, 5],
        [100, 5],
        [200, 5],
      ],
    ],
    [
      "a repeated count",
      [
        [0, 0],
        [100, 10],
        [100, 20],
      ],
    ],
  ])("refuses %s", (_, points) => {
    expect(problemsOf(() => piecewiseScale(points))).toEqual([
      { code: "scale.monotone", path: "scale.points", message: "counts and values must each rise or fall strictly" },
    ]);
    expect(examineScale({ points }).problems.map(({ code }) => code)).toEqual(["scale.monotone"]);
  });
});

describe("spans", () => {
  test.each<[title: string, scale: Scale, path: RegExp]>([
    ["counts", { counts: [5, 5], value: [0, 1] }, /scale\.counts$/],
    ["value", { counts: [0, 5], value: [1, 1] }, /scale\.value$/],
    ["signal", { counts: [0, 5], signal: [4, 4], signalUnit: "mA" }, /scale\.signal$/],
  ])("a zero span of %s is an error", (_, scale, path) => {
    const { problems } = examineScale(scale);
    expect(problems.map(({ code }) => code)).toEqual(["scale.span"]);
    expect(problems[0]!.path).toMatch(path);
  });

  test.each<[title: string, counts: Span, value: Span, message: RegExp]>([
    ["equal counts", [5, 5], [0, 1], /ends of a span must differ/],
    ["equal values", [0, 5], [1, 1], /ends of a span must differ/],
    ["an infinite count", [0, Infinity], [0, 1], /Infinity is no end of a span/],
    ["a value that is no number", [0, 5], [0, Number.NaN], /NaN is no end of a span/],
  ])("no line goes through %s", (_, counts, value, message) => {
    expect(problemsOf(() => linearScale(counts, value))).toEqual([
      { code: "scale.span", path: "scale", message: expect.stringMatching(message) },
    ]);
  });

  test("reversed spans work, on either side", () => {
    expect([4000, 12000, 20000].map(linearScale([20000, 4000], [0, 10]).toValue)).toEqual([10, 5, 0]);
    expect([4000, 12000, 20000].map(linearScale([4000, 20000], [10, 0]).toValue)).toEqual([10, 5, 0]);
    expect(linearScale([20000, 4000], [0, 10]).toCounts(10)).toBe(4000);
  });
});

describe("the warning scale.inexact", () => {
  const warned = (scale: Scale, type: ScaledType = "int16") =>
    examineScale(scale, type).warnings.map(({ code }) => code);

  test("comes where the integers pass 2^49 over the type", () => {
    expect(warned({ counts: [0, 1000], value: [0, 100] })).toEqual([]);
    expect(warned({ counts: [0, 1000], value: [0, 0.1234567890123456] })).toEqual(["scale.inexact"]);
    // a = 2^18 + 1 and counts to −2^31: just above 2^49; a = 2^18: just there.
    expect(warned({ counts: [0, 1], value: [0, 2 ** 18] }, "int32")).toEqual([]);
    expect(warned({ counts: [0, 1], value: [0, 2 ** 18 + 1] }, "int32")).toEqual(["scale.inexact"]);
    // The same at the upper end, 2^32 − 1 counts: 2^49 − 2^17, and 2^49 + 2^32 − 2^17 − 1.
    expect(warned({ counts: [0, 1], value: [0, 2 ** 17] }, "uint32")).toEqual([]);
    expect(warned({ counts: [0, 1], value: [0, 2 ** 17 + 1] }, "uint32")).toEqual(["scale.inexact"]);
    // b = ±2^48 beside them: the sum counts, not its parts.
    expect(warned({ counts: [0, 1], value: [-(2 ** 48), 2 ** 17 - 2 ** 48] }, "uint32")).toEqual([]);
    expect(warned({ counts: [0, 1], value: [2 ** 48, 2 ** 48 + 2 ** 17] }, "uint32")).toEqual(["scale.inexact"]);
  });

  test("where it does not come, every 32-bit count survives", () => {
    const range: Span = [-(2 ** 31), 2 ** 31 - 1];
    const value = fc
      .tuple(
        fc.uniqueArray(fc.integer({ min: -(10 ** 6), max: 10 ** 6 }), { minLength: 2, maxLength: 2 }),
        fc.integer({ min: 0, max: 9 }),
      )
      .map(([ends, d]) => ends.map((n) => Number(`${n}e-${d}`)) as unknown as Span);
    const round = fc.constantFrom(1, 10, 1000, 100_000, 2 ** 20);
    const counts = fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: 1, max: 1000 }), round);
    let kept = 0;
    fc.assert(
      fc.property(
        counts,
        value,
        fc.array(fc.integer({ min: range[0], max: range[1] })),
        ([n0, width, step], v, some) => {
          const scale: Scale = { counts: [n0 * step, (n0 + width) * step], value: v };
          if (warned(scale, "int32").length > 0) return;
          kept++;
          const { toValue, toCounts } = characteristicOf(scale)!;
          for (const n of [...range, ...some]) expect(roundTiesToEven(toCounts(toValue(n))) + 0).toBe(n);
        },
      ),
      { numRuns: 300 },
    );
    expect(kept).toBeGreaterThan(10);
  });
});

type ScaledType = "int16" | "int32" | "uint32";

function examineScale(scale: Scale, type: ScaledType = "int16") {
  return examine({
    ...{ format: 1, name: "rig", byteOrder: "big" },
    modules: [{ name: "ai", inputs: [{ name: "x", type, scale }] }],
  });
}

// From one band into the next, in counts: the last of the band before and the first of the band after.
function edges(...limits: [failed: number, below: number][]): [number, number, Health, Health][] {
  const bands: Health[] = ["failedLow", "belowMeasuring", "ok", "aboveMeasuring", "failedHigh"];
  return limits.map(([last, first], k) => [last, first, bands[k]!, bands[k + 1]!]);
}

function gcd(a: bigint, b: bigint): bigint {
  return b === 0n ? (a < 0n ? -a : a) : gcd(b, a % b);
}
