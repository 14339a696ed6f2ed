// What a user reads when a value is not accepted: what was given, and what would be right.

import { assemble, decode, encode, encodeByModule, encodeRaw, patch, patchRaw, pointHandle, view } from "byterail";
import { fromHex, toHex } from "byterail/frames";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

const { outputs } = assemble({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    {
      name: "drives",
      outputs: [
        { name: "run", type: "bit" },
        { name: "speed", type: "int16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
        { name: "step", type: "int8" },
        { name: "dose", type: "uint16", code: "bcd" },
        { name: "ratio", type: "float32" },
        { name: "total", type: "int64", limits: [-1000, 1000] },
        { name: "far", type: "int16", scale: { counts: [0, 10], value: [0, 1] }, limits: [-9999, 9999] },
        { name: "level", type: "uint16", specialCounts: [{ counts: 65535, health: "failedHigh" }] },
        { name: "wide", type: "uint24" },
      ],
    },
  ],
});
const sound = { run: true, speed: 50, step: -1, dose: 42, ratio: 0.5, total: 7n, far: 1, level: 3, wide: 70000 };

describe("values", () => {
  test.each<readonly [string, unknown, string, string]>([
    ["run", 1, "value.type", "must be true or false, not 1"],
    ["run", "on", "value.type", 'must be true or false, not "on"'],
    ["speed", "50", "value.type", 'must be a finite number, not "50"'],
    ["speed", Number.NaN, "value.type", "must be a finite number, not NaN"],
    ["total", 7, "value.type", "must be a bigint, not 7"],
    ["speed", 100.5, "value.limits", "must be 0 to 100, not 100.5"],
    ["total", 1001n, "value.limits", "must be -1000 to 1000, not 1001"],
    ["step", 128, "value.range", "must be a whole number from -128 to 127, not 128"],
    ["step", 0.5, "value.range", "must be a whole number from -128 to 127, not 0.5"],
    ["dose", 10000, "value.range", "must be a whole number from 0 to 9999, not 10000"],
    ["wide", 2 ** 24, "value.range", "must be a whole number from 0 to 16777215, not 16777216"],
    ["far", 5000, "value.range", "5000 stands for counts that must be a whole number from -32768 to 32767, not 50000"],
    ["level", 65535, "value.special", "65535 stands for 65535 counts, which are a report; encode them raw"],
    ["speed", undefined, "value.missing", "of module drives is missing"],
  ])("%s: %s", (name, value, code, message) => {
    const values = { ...sound, [name]: value } as typeof sound;
    expect(problemsOf(() => encode(outputs, values))).toEqual([{ code, path: name, message }]);
  });

  test("no object of values", () => {
    for (const given of [null, undefined, 5, "run", [true]])
      for (const call of [encode, encodeRaw])
        expect(problemsOf(() => (call as typeof encode)(outputs, given as never))).toEqual([
          { code: "value.type", path: "outputs", message: "must be an object of values by name" },
        ]);
    for (const given of [null, undefined, 5, "run", [true]])
      for (const call of [patch, patchRaw])
        expect(problemsOf(() => (call as typeof patch)(outputs, encode(outputs, sound), given as never))).toEqual([
          { code: "value.type", path: "outputs", message: "must be an object of values by name" },
        ]);
  });

  test("counts that are missing", () => {
    const { step, ...others } = sound;
    expect(step).toBe(-1);
    expect(problemsOf(() => encodeRaw(outputs, others as never))).toContainEqual({
      ...{ code: "value.missing", path: "step", message: "of module drives is missing" },
    });
  });

  test("names that there are not, beside values that are not accepted: all at once, in the order of the call", () => {
    const problems = problemsOf(() => encode(outputs, { ...sound, Run: true, step: 200, speed: -1 } as never));
    expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual([
      "value.unknown Run",
      "value.limits speed",
      "value.range step",
    ]);
    expect(problems[0]!.message).toBe("is no point of the outputs (case counts here)");
  });

  test("a point under another module than its own", () => {
    const problems = problemsOf(() => encodeByModule(outputs, { drives: sound, pumps: { run: true } } as never));
    expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual(["value.unknown pumps.run"]);
  });
});

describe("counts", () => {
  test.each<readonly [string, unknown, string]>([
    ["run", 1, "must be true or false, not 1"],
    ["speed", 40000, "counts must be a whole number from -32768 to 32767, not 40000"],
    ["speed", 0.5, "counts must be a whole number from -32768 to 32767, not 0.5"],
    ["ratio", -1, "the bit pattern must be a whole number from 0 to 4294967295, not -1"],
    ["dose", "16#1A2B3", "counts must be a whole number from 0 to 65535, not 107187"],
    ["dose", "x16#1A", 'counts must be a whole number from 0 to 9999, not "x16#1A"'],
    ["dose", "16#1A ", 'counts must be a whole number from 0 to 9999, not "16#1A "'],
    ["dose", ["16#1A"], "counts must be a whole number from 0 to 9999, not a list"],
    ["speed", "16#1A", 'counts must be a whole number from -32768 to 32767, not "16#1A"'],
  ])("%s: %s", (name, raw, message) => {
    const bytes = encode(outputs, sound);
    const [problem] = problemsOf(() => patchRaw(outputs, bytes, { [name]: raw } as never));
    expect(problem!.path).toBe(name);
    expect(problem!.message).toBe(message);
    expect(bytes).toEqual(encode(outputs, sound));
  });
});

describe("clamping, asked for by name", () => {
  test.each<readonly [string, unknown, unknown]>([
    ["speed", 150, 100],
    ["speed", -150, 0],
    ["step", 200, 127],
    ["step", -200, -128],
    ["far", 9000, 3276.7],
    ["far", -9000, -3276.8],
    ["total", 5000n, 1000n],
    ["total", -5000n, -1000n],
  ])("%s: %s goes to %s", (name, given, wanted) => {
    const clamped = encode(outputs, { ...sound, [name]: given } as never, { outOfRange: "clamp" });
    expect(clamped).toEqual(encode(outputs, { ...sound, [name]: wanted } as never));
    const handled = encode(outputs, sound);
    pointHandle(outputs, name as "step").write(handled, given as never, { outOfRange: "clamp" });
    expect(handled).toEqual(clamped);
  });

  test("what is no number is refused all the same", () => {
    expect(problemsOf(() => encode(outputs, { ...sound, step: Number.NaN }, { outOfRange: "clamp" }))).toHaveLength(1);
  });
});

test("the −0 of a 64-bit sign and magnitude is the one number that such a point accepts", () => {
  const { inputs } = assemble({
    ...{ format: 1, name: "rig", byteOrder: "big" },
    modules: [{ name: "m", inputs: [{ name: "total", type: "int64", code: "signMagnitude" }] }],
  });
  const minusZero = decode(inputs, fromHex("80 00 00 00 00 00 00 00"));
  expect(minusZero).toEqual({ total: -0 });
  expect(toHex(encode(inputs, minusZero))).toBe("80 00 00 00 00 00 00 00");
  expect(problemsOf(() => encode(inputs, { total: 0 as never }))).toEqual([
    { code: "value.type", path: "total", message: "must be a bigint, not 0" },
  ]);
});

test.each([
  ["patch", (bytes: Uint8Array) => patch(outputs, bytes, { step: 300 })],
  ["patch of several", (bytes: Uint8Array) => patch(outputs, bytes, { speed: 1, step: 300 })],
  ["a handle", (bytes: Uint8Array) => pointHandle(outputs, "step").write(bytes, 300)],
  ["a view", (bytes: Uint8Array) => Object.assign(view(outputs, bytes), { step: 300 })],
])("%s that is refused changes no byte", (_, change) => {
  const bytes = encode(outputs, sound);
  expect(problemsOf(() => change(bytes))).toEqual([
    { code: "value.range", path: "step", message: "must be a whole number from -128 to 127, not 300" },
  ]);
  expect(bytes).toEqual(encode(outputs, sound));
});
