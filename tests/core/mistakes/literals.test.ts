// Literals that the compiler accepts and that are wrong all the same.

import { assemble, type Entry, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import { codesOf, problemsOf } from "../../support/problems.js";

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
  test("a mistyped key of a point", () => {
    const point = { name: "n", type: "int16", scael: { counts: [0, 1], value: [0, 1] } } as const;
    expect(codesOf(() => assemble({ ...head, modules: [{ name: "m", inputs: [point] }] }))).toEqual(["key.unknown"]);
  });

  test("a mistyped key of a module", () => {
    expect(codesOf(() => assemble({ ...head, modules: [{ name: "m", inputs: [n], inputOfset: 4 }] }))).toEqual([
      "key.unknown",
    ]);
  });
});
