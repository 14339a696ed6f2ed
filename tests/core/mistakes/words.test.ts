// Mistakes in packed words and their fields.

import { describe } from "vitest";
import { expectAnswers, withInput } from "./answers.js";

describe("packed words", () => {
  const field = "modules[0] m › inputs[0] › fields";
  expectAnswers([
    [
      "a field outside its word",
      withFields({ name: "n", bits: 12, shift: 5 }),
      "field.outside",
      `${field}[0] n`,
      "bits 5 to 16 of a word of 16",
    ],
    [
      "a flag outside its word",
      withFields({ name: "n", bit: 16 }),
      "field.outside",
      `${field}[0] n`,
      "of a word of 16",
    ],
    [
      "fields that overlap",
      withFields({ name: "a", bits: 8, shift: 0 }, { name: "b", bits: 8, shift: 7 }),
      "field.overlap",
      `${field}[1] b`,
      "that field a has already",
    ],
    [
      "a flag in a field",
      withFields({ name: "a", bits: 8, shift: 4 }, { name: "b", bit: 4 }),
      "field.overlap",
      `${field}[1] b`,
      "that field a has already",
    ],
    [
      "a word of 12 bits",
      withInput({ word: 12, fields: [] }),
      "type.integer",
      "modules[0] m › inputs[0] › word",
      "a multiple of 8, not 12",
    ],
    [
      "a word of 264 bits",
      withInput({ word: 264, fields: [] }),
      "type.integer",
      "modules[0] m › inputs[0] › word",
      "from 8 to 256",
    ],
    [
      "a field of 65 bits",
      withInput({ word: 128, fields: [{ name: "n", bits: 65, shift: 0 }] }),
      "type.integer",
      `${field}[0] n › bits`,
      "from 1 to 64",
    ],
    [
      "a negative shift",
      withFields({ name: "n", bits: 4, shift: -1 }),
      "type.integer",
      `${field}[0] n › shift`,
      "not -1",
    ],
    ["a field without shift", withFields({ name: "n", bits: 4 }), "key.missing", `${field}[0] n`, '"shift" is missing'],
    [
      "a code with signed",
      withFields({ name: "n", bits: 4, shift: 0, signed: true, code: "bcd" }),
      "code.type",
      `${field}[0] n › code`,
      'leave out "signed"',
    ],
    [
      "a word without fields",
      withInput({ word: 16 }),
      "key.missing",
      "modules[0] m › inputs[0]",
      '"fields" is missing',
    ],
  ]);
});

function withFields(...fields: unknown[]) {
  return withInput({ word: 16, fields });
}
