// The builders return the very data that one would write as a literal.

import {
  analogInputs,
  analogOutputs,
  bit,
  busInterface,
  digitalInputs,
  digitalOutputs,
  field,
  flag,
  module,
  number,
  type Station,
  spare,
  spareBits,
  station,
  valveBank,
  word,
} from "byterail";
import { describe, expect, test } from "vitest";

const keys = { slot: 3, title: "As plugged" } as const;

describe("entries", () => {
  test.each<[built: object, literal: object]>([
    [bit("run"), { name: "run", type: "bit" }],
    [bit("run", { title: "Running" }), { name: "run", type: "bit", title: "Running" }],
    [number("speed", "int16"), { name: "speed", type: "int16" }],
    [number("speed", "int16", { unit: "1/min" }), { name: "speed", type: "int16", unit: "1/min" }],
    [word(16, [flag("fault", 0)]), { word: 16, fields: [{ name: "fault", bit: 0 }] }],
    [word(32, [], { byteOrder: "big" }), { word: 32, byteOrder: "big", fields: [] }],
    [field("level", 12, 4), { name: "level", bits: 12, shift: 4 }],
    [field("level", 12, 4, { signed: true }), { name: "level", bits: 12, shift: 4, signed: true }],
    [flag("fault", 1, { title: "No echo" }), { name: "fault", bit: 1, title: "No echo" }],
    [spare(2), { spare: 2 }],
    [spareBits(3), { spareBits: 3 }],
  ])("%o", (built, literal) => expect(built).toStrictEqual(literal));
});

describe("modules", () => {
  const bits = [{ name: "a", type: "bit" }, { spareBits: 1 }, { name: "b", type: "bit", title: "B" }];
  const items = ["a", spareBits(1), bit("b", { title: "B" })] as const;
  const words = [{ name: "n", type: "int16" }, { spare: 1 }];
  const channels = [number("n", "int16"), spare(1)] as const;

  test.each<[built: object, data: object]>([
    [digitalInputs("m", items), { inputs: bits }],
    [digitalOutputs("m", items), { outputs: bits }],
    [valveBank("m", items), { outputs: bits }],
    [analogInputs("m", channels), { inputs: words }],
    [analogOutputs("m", channels), { outputs: words }],
    [busInterface("m", channels), { inputs: words }],
  ])("%o", (built, data) => expect(built).toStrictEqual({ name: "m", ...data }));

  test.each<[built: object, data: object]>([
    [digitalInputs("m", items, keys), { inputs: bits }],
    [digitalOutputs("m", items, keys), { outputs: bits }],
    [valveBank("m", items, keys), { outputs: bits }],
    [analogInputs("m", channels, keys), { inputs: words }],
    [analogOutputs("m", channels, keys), { outputs: words }],
    [busInterface("m", channels, keys), { inputs: words }],
    [module("m", { ...keys, outputs: channels }), { outputs: words }],
  ])("%o, with more to say", (built, data) => expect(built).toStrictEqual({ name: "m", ...keys, ...data }));
});

test("a station is of format 1", () => {
  const built = station({ name: "rig", byteOrder: "big", modules: [] });
  expect(built).toStrictEqual({ format: 1, name: "rig", byteOrder: "big", modules: [] } satisfies Station);
});
