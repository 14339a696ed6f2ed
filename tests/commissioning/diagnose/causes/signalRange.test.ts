import type { NumberPoint, Scale, Span, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { signalRange } from "../../../../packages/commissioning/src/diagnose/causes/signalRange.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, said, told } from "../trial.js";

const stationOf = (scale: Scale | undefined, type: NumberPoint["type"] = "int32"): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [{ name: "ai", inputs: [{ name: "flow", type, ...(scale && { scale }) }] }],
});

// All bits are 0, and 7777 is wrong whatever the scale.
const zeros = (scale: Scale | undefined, type?: NumberPoint["type"]) =>
  baseFor(stationOf(scale, type), [{ inputs: type === "uint16" ? "00 00" : "00 00 00 00", known: { flow: 7777 } }]);

const scaleOf = ({ station }: { station: (() => Station) | null }) =>
  (station!().modules[0]!.inputs![0] as NumberPoint).scale;

const isSet = (range: string) => `The channel of flow is set to ${range}, so its counts stand for another signal.`;
const sends = (range: string) => `The instrument of flow sends ${range}, another signal than described.`;

const current = { counts: [4000, 20_000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" } as const;
const voltage = { counts: [0, 20_000], signal: [0, 10], signalUnit: "V", value: [0, 100] } as const;

describe("another standard range, set on the channel or sent by the instrument", () => {
  // 4 to 20 mA on 4000 to 20000 counts. Set to 0 to 20 mA, 16000 counts span 20 mA: 4 mA is 4000 + 16000 · 4/20 = 7200
  // counts, and 0 mA would be −2.5 bar. An instrument that sends 0 to 20 mA is at 0 mA with 0 counts, and at 4 mA has 2 bar.
  test("in milliamperes there is one other: as counts of the signal, then as values of the counts", () => {
    const base = zeros(current);
    const counts = (value: Span) => ({ op: "replace", path: "/modules/0/inputs/0/scale/counts", value });
    const signal = (value: Span) => ({ op: "replace", path: "/modules/0/inputs/0/scale/signal", value });
    const value = (value: Span) => ({ op: "replace", path: "/modules/0/inputs/0/scale/value", value });
    const row = (says: string, assumes: number, change: readonly object[]) => ({
      ...{ cause: "signalRange", at: "inputs ai flow", says, assumes, change },
    });
    expect([...signalRange(base)].map((each) => ({ ...told(each), change: changeOf(base, each) }))).toEqual([
      row(isSet("0-20 mA"), 3, [counts([7200, 20_000])]),
      row(isSet("0-20 mA"), 3, [signal([0, 20]), value([-2.5, 10])]),
      row(sends("0-20 mA"), 3.5, [counts([0, 20_000]), signal([0, 20])]),
      row(sends("0-20 mA"), 3.5, [value([2, 10])]),
    ]);
    expectQuickIsFull(signalRange, base);
  });

  // 0 to 10 V on 0 to 20000 counts, 0 to 100 %.
  // Channel: 20000 counts span another range; the instrument sends its 0 to 10 V there. Set to −10 to 10 V, 0 V is 10000.
  // Instrument: 2000 counts a volt; what it sends spans 0 to 100 %. 1 to 5 V: 25 % a volt, so −25 % at 0 V, 225 % at 10 V.
  test.each<[string, string, readonly Partial<Scale>[]]>([
    ["set to 1-5 V", isSet("1-5 V"), [{ counts: [-5000, 45_000] }, { signal: [1, 5], value: [10, 50] }]],
    ["set to 0-5 V", isSet("0-5 V"), [{ counts: [0, 40_000] }, { signal: [0, 5], value: [0, 50] }]],
    ["set to -10-10 V", isSet("-10-10 V"), [{ counts: [10_000, 20_000] }, { signal: [-10, 10], value: [-100, 100] }]],
    ["sends 1-5 V", sends("1-5 V"), [{ counts: [2000, 10_000], signal: [1, 5] }, { value: [-25, 225] }]],
    ["sends 0-5 V", sends("0-5 V"), [{ counts: [0, 10_000], signal: [0, 5] }, { value: [0, 200] }]],
    ["sends -10-10 V", sends("-10-10 V"), [{ counts: [-20_000, 20_000], signal: [-10, 10] }, { value: [50, 100] }]],
  ])("in volts: %s", (_, says, scales) => {
    const base = zeros(voltage);
    const found = [...signalRange(base)].filter((each) => each.says === says);
    expect(found.map(scaleOf)).toEqual(scales.map((scale) => ({ ...voltage, ...scale })));
  });

  test("each range in turn, first as set, then as sent; the one described is none of them", () => {
    const ranges = (scale: Scale) => said(signalRange, zeros(scale));
    const twice = (range: string) => [isSet(range), isSet(range), sends(range), sends(range)];
    expect(ranges(voltage)).toEqual(["1-5 V", "0-5 V", "-10-10 V"].flatMap(twice));
    // Equal at one end is not equal.
    expect(ranges({ ...voltage, signal: [0, 5] })).toEqual(["1-5 V", "0-10 V", "-10-10 V"].flatMap(twice));
    expect(ranges({ ...current, signal: [0, 20] })).toEqual(twice("4-20 mA"));
    // A signal that falls is another than one that rises.
    expect(ranges({ ...current, signal: [20, 4] })).toEqual(["4-20 mA", "0-20 mA"].flatMap(twice));
  });

  test("counts that are not whole are no counts: then the values at the ends of the counts tell it", () => {
    // 4095 counts: 4 mA of 0 to 20 mA would be 819; of 16 mA on 4095 counts, 0 mA would be −1023.75.
    const scale: Scale = { ...current, counts: [0, 4095] };
    expect([...signalRange(zeros(scale))].map(scaleOf)).toEqual([
      { ...scale, counts: [819, 4095] },
      { ...scale, signal: [0, 20], value: [-2.5, 10] },
      { ...scale, value: [2, 10] },
    ]);
    // 4094 counts: 4 mA of 0 to 20 mA would be 818.8.
    expect([...signalRange(zeros({ ...scale, counts: [0, 4094] }))].map(scaleOf)).toEqual([
      { ...scale, counts: [0, 4094], signal: [0, 20], value: [-2.5, 10] },
      { ...scale, counts: [0, 4094], value: [2, 10] },
    ]);
  });

  test("values that go on for ever are rounded to 12 digits", () => {
    // 0 to 3 V for 0 to 10: 5 V would be 16 2/3, 1 V 3 1/3.
    const scale: Scale = { ...voltage, signal: [0, 3], value: [0, 10] };
    const set = [...signalRange(zeros(scale))].filter(({ says }) => says === isSet("1-5 V")).map(scaleOf);
    expect(set.at(-1)).toEqual({ ...scale, signal: [1, 5], value: [3.33333333333, 16.6666666667] });
  });

  test("where the signal is the value, the channel alone can be set otherwise: an instrument sends what it sends", () => {
    const scale: Scale = { counts: [4000, 20_000], signal: [4, 20], signalUnit: "mA" };
    const found = [...signalRange(zeros(scale))];
    expect(found.map(({ says }) => says)).toEqual([isSet("0-20 mA")]);
    expect(found.map(scaleOf)).toEqual([{ ...scale, signal: [0, 20] }]);
  });

  test("of a root, whose values are no line, the counts alone are told, if they are whole", () => {
    const root: Scale = { ...current, shape: "squareRoot" };
    const found = [...signalRange(zeros(root))];
    expect(found.map(({ says }) => says)).toEqual([isSet("0-20 mA"), sends("0-20 mA")]);
    expect(found.map(scaleOf)).toEqual([
      { ...root, counts: [7200, 20_000] },
      { ...root, counts: [0, 20_000], signal: [0, 20] },
    ]);
    expect(said(signalRange, zeros({ ...root, counts: [0, 4094] }))).toEqual([]);
  });

  test("counts beyond the type cannot stand", () => {
    // Set to 1 to 5 V counts would be −5000 to 45000; sent as 1 to 5 V they are 2000 to 10000.
    const found = [...signalRange(zeros(voltage, "uint16"))];
    const stands = (sentence: string) =>
      found.filter(({ says }) => says === sentence).map((hypothesis) => hypothesis.stands!());
    expect(stands(isSet("1-5 V"))).toEqual([false, true]);
    expect(stands(sends("1-5 V"))).toEqual([true, true]);
    expect(stands(sends("-10-10 V"))).toEqual([false, true]);
  });
});

describe("where no signal is described, it may have a live zero or lack one", () => {
  const fifth = "The signal of flow starts at a fifth of its counts: 4 to 20 mA on a channel set to 0 to 20 mA.";
  const quarter =
    "The signal of flow starts a quarter of its span lower: the counts described begin at a live zero that it has not.";
  // 4 to 20 mA are the upper four fifths of 0 to 20 mA; 0 to 20 mA are 4 to 20 mA and a quarter of that below.
  test.each<[string, Span, Span, Span]>([
    ["from zero", [0, 20_000], [4000, 20_000], [-5000, 20_000]],
    ["from a live zero", [4000, 20_000], [7200, 20_000], [0, 20_000]],
    ["in whole counts", [0, 4094], [819, 4094], [-1023, 4094]],
    ["falling", [20_000, 0], [16_000, 0], [25_000, 0]],
  ])("%s", (_, counts, then, lower) => {
    const base = zeros({ counts, value: [0, 10], unit: "bar" });
    const change = (value: Span) => [{ op: "replace", path: "/modules/0/inputs/0/scale/counts", value }];
    expect([...signalRange(base)].map((each) => ({ ...told(each), change: changeOf(base, each) }))).toEqual([
      { cause: "signalRange", at: "inputs ai flow", says: fifth, assumes: 4, change: change(then) },
      { cause: "signalRange", at: "inputs ai flow", says: quarter, assumes: 4, change: change(lower) },
    ]);
    expectQuickIsFull(signalRange, base);
  });
});

test.each<[string, Scale | undefined]>([
  ["a number without a scale", undefined],
  [
    "a curve",
    {
      points: [
        [0, 0],
        [100, 10],
      ],
    },
  ],
  [
    "a curve with a signal",
    {
      counts: [0, 100],
      signal: [0, 10],
      signalUnit: "V",
      points: [
        [0, 0],
        [100, 10],
      ],
    },
  ],
  ["a signal without a unit", { counts: [4000, 20_000], signal: [4, 20], value: [0, 10] }],
])("nothing is said of %s", (_, scale) => {
  expect(said(signalRange, zeros(scale))).toEqual([]);
});

test("nothing is said of numbers that are right", () => {
  expect(said(signalRange, baseFor(stationOf(current), [{ inputs: "00 00 2E E0", known: { flow: 5 } }]))).toEqual([]);
});

describe("what the truth says of 12000 counts", () => {
  // 12000 counts are 2EE0h: 12 mA as described, 5 bar.
  test.each<[string, number, readonly string[]]>([
    // (12000 − 7200) / 12800 of 10 bar, or −2.5 + 12.5/2: 3.75 bar, told in two ways.
    ["channel set to 0 to 20 mA", 3.75, [isSet("0-20 mA"), isSet("0-20 mA")]],
    // 12 mA of 0 to 20 mA is 6 bar.
    ["instrument sends 0 to 20 mA", 6, [sends("0-20 mA"), sends("0-20 mA")]],
  ])("%s", (_, known, says) => {
    const base = baseFor(stationOf(current), [
      { inputs: "00 00 2E E0", known: { flow: { value: known, within: 0.001 } } },
    ]);
    const right = [...signalRange(base)].filter(({ effect }) => judge(base, effect));
    expect(right.map((each) => each.says)).toEqual(says);
    // Fact 0 is the length of the frame.
    expect(right.map(({ effect }) => judge(base, effect))).toEqual([1, 1].map((k) => ({ fixes: [k], breaks: [] })));
  });
});
