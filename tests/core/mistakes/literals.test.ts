// Literals that the compiler accepts and that are wrong all the same.

import { assemble, type Entry, type Field, type Module, type Placement, type Scale, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../../support/problems.js";

describe("a literal that compiles is checked all the same", () => {
  // Numbers that no type can rule out; each would put points where nobody looks for them, or nowhere.
  const data = (entry: Entry): Station => ({
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [{ name: "m", outputs: [entry] }],
  });
  const n = { name: "n", type: "int16" } as const;
  test.each<[title: string, station: Station]>([
    ["negative spare bytes", data({ spare: -1 })],
    ["half a spare byte", data({ spare: 0.5 })],
    ["negative spare bits", data({ spareBits: -3 })],
    ["a word of 12 bits", data({ word: 12, fields: [] })],
    ["a word of NaN bits", data({ word: Number.NaN, fields: [] })],
    ["a word of 264 bits", data({ word: 264, fields: [] })],
    ["a field of 65 bits", data({ word: 128, fields: [{ name: "n", bits: 65, shift: 0 }] })],
    ["a field of no bits", data({ word: 16, fields: [{ name: "n", bits: 0, shift: 0 }] })],
    ["a negative shift", data({ word: 16, fields: [{ name: "n", bits: 4, shift: -1 }] })],
    ["a negative bit", data({ word: 16, fields: [{ name: "n", bit: -1 }] })],
    ["counts that are NaN", data({ ...n, scale: { counts: [0, Number.NaN], value: [0, 1] } })],
    ["a value that is infinite", data({ ...n, scale: { counts: [0, 1], value: [0, Infinity] } })],
    ["limits that are NaN", data({ ...n, limits: [Number.NaN, 1] })],
    ["a negative deadband", data({ ...n, deadband: -1 })],
    ["special counts that are NaN", data({ ...n, specialCounts: [{ counts: Number.NaN, health: "invalid" }] })],
    ["an illegal name", data({ name: "1st", type: "bit" })],
    ["a negative reserve", { ...data({ spare: 1 }), modules: [{ name: "m", outputBytes: -4 }] }],
    ["a pin at half a byte", { ...data({ spare: 1 }), modules: [{ name: "m", outputs: [n], outputOffset: 0.5 }] }],
    ["a negative pin", { ...data({ spare: 1 }), modules: [{ name: "m", outputs: [n], outputOffset: -2 }] }],
    ["half a slot", { ...data({ spare: 1 }), modules: [{ name: "m", outputs: [n], slot: 0.5 }] }],
    ["a length of half a byte", { ...data({ spare: 1 }), placement: { outputs: { length: 2.5 } } }],
    ["a limit that is NaN", { ...data({ spare: 1 }), limits: { outputs: Number.NaN } }],
  ])("%s", (_, station) => expect(problemsOf(() => assemble(station))).not.toEqual([]));

  // A literal that a generic function takes is not searched for extra keys by the compiler.
  const head = { format: 1, name: "rig", byteOrder: "big" } as const;
  const [counts, value] = [[0, 1] as const, [0, 1] as const];
  test.each<[title: string, station: Station, path: string, key: string]>([
    ["the station", { ...head, modules: [], titel: "Rig" } as Station, "station", "titel"],
    [
      "a placement rule",
      { ...head, modules: [], placement: { inputs: { lenght: 4 } as Placement } },
      "placement.inputs",
      "lenght",
    ],
    [
      "a module",
      { ...head, modules: [{ name: "m", inputs: [n], inputOfset: 4 } as object as Module] },
      "modules[0] m",
      "inputOfset",
    ],
    ["a point", data({ ...n, limts: [0, 1] } as Entry), "modules[0] m › outputs[0] n", "limts"],
    [
      "a scale",
      data({ ...n, scale: { counts, value, shap: "linear" } as Scale }),
      "modules[0] m › outputs[0] n › scale",
      "shap",
    ],
    [
      "a field",
      data({ word: 8, fields: [{ name: "f", bits: 4, shift: 0, limts: [0, 1] } as Field] }),
      "modules[0] m › outputs[0] › fields[0] f",
      "limts",
    ],
  ])("a mistyped key of %s", (_, station, path, key) => {
    expect(problemsOf(() => assemble(station))).toEqual([
      { code: "key.unknown", path, message: `unknown key "${key}"` },
    ]);
  });

  test.each<[title: string, entry: Entry, path: string, message: RegExp]>([
    ["spare bytes", { spare: -1 }, "modules[0] m › outputs[0] › spare", /from 1 to 65535, not -1$/],
    [
      "a width",
      { word: 12, fields: [{ name: "f", bits: 4, shift: 9 }] },
      "modules[0] m › outputs[0] › word",
      /, a multiple of 8, not 12$/,
    ],
    [
      "a shift",
      { word: 8, fields: [{ name: "f", bits: 4, shift: -1 }] },
      "modules[0] m › outputs[0] › fields[0] f › shift",
      /from 0 to 255, not -1$/,
    ],
  ])("%s out of range: the one problem, with what would be right", (_, entry, path, message) => {
    expect(problemsOf(() => assemble(data(entry)))).toEqual([
      { code: "type.integer", path, message: expect.stringMatching(message) },
    ]);
  });

  test("a deadband below 0, limits that fall, values further apart than a number can say", () => {
    const point = "modules[0] m › outputs[0] n";
    expect(problemsOf(() => assemble(data({ ...n, deadband: -1 })))).toEqual([
      { code: "type.number", path: `${point} › deadband`, message: "must be 0 or more, not -1" },
    ]);
    expect(problemsOf(() => assemble(data({ ...n, limits: [2, 1] })))).toMatchObject([{ code: "limits.order" }]);
    expect(assemble(data({ ...n, limits: [1, 1] })).warnings).toEqual([]);
    expect(problemsOf(() => assemble(data({ ...n, scale: { counts, value: [-1e308, 1e308] } })))).toMatchObject([
      { code: "scale.span", path: `${point} › scale.value` },
    ]);
  });

  test("a key that is there but undefined counts as absent", () => {
    const nothing = { byteOrder: undefined, wordOrder: undefined, scale: undefined, limits: undefined } as object;
    const module = { slot: undefined, outputOffset: undefined, bitOrder: undefined } as object;
    const station: Station = { ...head, modules: [{ name: "m", ...module, outputs: [{ ...n, ...nothing }] }] };
    expect(assemble(station).outputs.byteLength).toBe(2);
  });
});
