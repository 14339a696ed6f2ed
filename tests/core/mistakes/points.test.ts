// Mistakes in single points and spares.

import { examine } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { expectAnswers, input, withInput, withModule, withOutput } from "./answers.js";

describe("points", () => {
  expectAnswers([
    [
      "a point that is text",
      withModule({ inputs: ["run"] }),
      "type.choice",
      "modules[0] m › inputs[0]",
      'must be an object, not "run"',
    ],
    [
      "an unknown type",
      withInput({ name: "n", type: "int17" }),
      "type.oneOf",
      `${input} › type`,
      'did you mean "int16"?',
    ],
    [
      "a type of a programming language",
      withInput({ name: "n", type: "boolean" }),
      "type.oneOf",
      `${input} › type`,
      '"bit" or "int8"',
    ],
    [
      "an unknown key, with the nearest",
      withInput({ name: "n", type: "int16", scael: {} }),
      "key.unknown",
      input,
      'did you mean "scale"?',
    ],
    [
      "a scale on a bit",
      withInput({ name: "n", type: "bit", scale: { counts: [0, 1], value: [0, 1] } }),
      "key.unknown",
      input,
      '"scale"',
    ],
    [
      "no spare bytes",
      withModule({ inputs: [{ spare: 0 }] }),
      "type.integer",
      "modules[0] m › inputs[0] › spare",
      "from 1 to 65535, not 0",
    ],
    [
      "half a spare byte",
      withModule({ inputs: [{ spare: 0.5 }] }),
      "type.integer",
      "modules[0] m › inputs[0] › spare",
      "whole number",
    ],
    [
      "negative spare bits",
      withModule({ inputs: [{ spareBits: -3 }] }),
      "type.integer",
      "modules[0] m › inputs[0] › spareBits",
      "not -3",
    ],
    [
      "a word order on 16 bits",
      withInput({ name: "n", type: "int16", wordOrder: "highFirst" }),
      "wordOrder.width",
      `${input} › wordOrder`,
      /whole 16-bit words.*16 bits/,
    ],
    [
      "a word order on a word of 24 bits",
      withInput({ word: 24, fields: [], wordOrder: "lowFirst" }),
      "wordOrder.width",
      "modules[0] m › inputs[0] › wordOrder",
      "24 bits",
    ],
    [
      "offset binary on an unsigned type",
      withInput({ name: "n", type: "uint16", code: "offsetBinary" }),
      "code.type",
      `${input} › code`,
      /is for int.*, not uint16/,
    ],
    [
      "sign-magnitude on an unsigned type",
      withInput({ name: "n", type: "uint8", code: "signMagnitude" }),
      "code.type",
      `${input} › code`,
      /is for int.*, not uint8/,
    ],
    [
      "BCD on a signed type",
      withInput({ name: "n", type: "int16", code: "bcd" }),
      "code.type",
      `${input} › code`,
      /is for uint.*, not int16/,
    ],
    [
      "a code on a real",
      withInput({ name: "n", type: "float32", code: "bcd" }),
      "code.type",
      `${input} › code`,
      /is for .*, not float32/,
    ],
    [
      "an unknown code",
      withInput({ name: "n", type: "uint16", code: "gray" }),
      "type.oneOf",
      `${input} › code`,
      '"offsetBinary" or "signMagnitude" or "bcd"',
    ],
    [
      "limits that fall",
      withInput({ name: "n", type: "int16", limits: [5, 1] }),
      "limits.order",
      `${input} › limits`,
      "5, is above 1",
    ],
    [
      "one limit",
      withInput({ name: "n", type: "int16", limits: [5] }),
      "type.list",
      `${input} › limits`,
      "must have 2 entries, not 1",
    ],
    [
      "special counts beyond the type",
      withInput({ name: "n", type: "int16", specialCounts: [{ counts: 40000, health: "invalid" }] }),
      "specialCounts.range",
      `${input} › specialCounts[0].counts`,
      "-32768 to 32767, not 40000",
    ],
    [
      "a health that is none",
      withInput({ name: "n", type: "int16", specialCounts: [{ counts: 1, health: "none" }] }),
      "type.oneOf",
      `${input} › specialCounts[0].health`,
      '"failedLow"',
    ],
    [
      "a negative deadband",
      withInput({ name: "n", type: "int16", deadband: -1 }),
      "type.number",
      `${input} › deadband`,
      "0 or more, not -1",
    ],
    [
      "a unit beside a scale",
      withInput({ name: "n", type: "int16", unit: "bar", scale: { counts: [0, 1], value: [0, 1] } }),
      "unit.twice",
      `${input} › unit`,
      "scale.unit",
    ],
    [
      "onNetworkLoss on an input",
      withInput({ name: "n", type: "bit", onNetworkLoss: "off" }),
      "onNetworkLoss.input",
      `${input} › onNetworkLoss`,
      "is for outputs",
    ],
    [
      "onNetworkLoss of a bit as a number",
      withOutput({ name: "n", type: "bit", onNetworkLoss: 1 }),
      "onNetworkLoss.type",
      "modules[0] m › outputs[0] n › onNetworkLoss",
      /"off", "hold" or true or false/,
    ],
    [
      "onNetworkLoss of a number as a boolean",
      withOutput({ name: "n", type: "int16", onNetworkLoss: true }),
      "onNetworkLoss.type",
      "modules[0] m › outputs[0] n › onNetworkLoss",
      /"off", "hold" or a number/,
    ],
    [
      "onNetworkLoss mistyped",
      withOutput({ name: "n", type: "int16", onNetworkLoss: "hodl" }),
      "type.state",
      "modules[0] m › outputs[0] n › onNetworkLoss",
      '"off" or "hold"',
    ],
    ["an accuracy of nothing", withModule({ accuracy: {} }), "key.missing", "modules[0] m › accuracy", "is missing"],
  ]);

  test("special counts of 53 bits are a number, beyond that they are still written as one", () => {
    for (const bits of [53, 54]) {
      const field = { name: "n", bits, shift: 0, specialCounts: [{ counts: 7, health: "invalid" }] };
      expect(examine(withInput({ word: 64, fields: [field] })).problems).toEqual([]);
    }
  });
});
