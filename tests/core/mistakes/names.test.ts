// Names: what may be one, and which may not meet.

import { examine } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { expectAnswers, station, withInput, withModule, withModules } from "./answers.js";

describe("names", () => {
  const illegal: [title: string, name: string, remedy: string][] = [
    ["empty", "", "a letter, then letters, digits or _"],
    ["a digit first", "1st", "a letter, then letters"],
    ["a space", "steam valve", "a letter, then letters"],
    ["a letter of no tool", "Größe", "a letter, then letters"],
    ["300 characters", "a".repeat(300), "at most 64"],
    ["65 characters", "a".repeat(65), "at most 64"],
    ["a control character", "a\u0007", "\\u0007"],
    ["a line break at its end", "a\n", "\\u000a"],
    ["64 characters, the first a digit", `1${"a".repeat(63)}`, `"1${"a".repeat(63)}" is no name`],
    ["a character without width", "a\u200b", '"a\\u200b" is no name'],
    ["a line separator", "a\u2028", '"a\\u2028" is no name'],
    ["a paragraph separator", "a\u2029", '"a\\u2029" is no name'],
    ["half a character", "a\ud800", '"a\\ud800" is no name'],
    ["code", 'a"; process.exit()//', "a letter, then letters"],
    ["__proto__", "__proto__", "a letter, then letters"],
    ["constructor", "constructor", "every JavaScript object"],
    ["toString", "toString", "choose another"],
    ["hasOwnProperty", "hasOwnProperty", "choose another"],
  ];
  for (const [title, name, remedy] of illegal)
    expectAnswers([
      [`of a station: ${title}`, station({ name }), "name.illegal", "name", remedy],
      [
        `of a point: ${title}`,
        withInput({ name, type: "bit" }),
        "name.illegal",
        `modules[0] m › inputs[0]${shown(name)}`,
        remedy,
      ],
    ]);

  expectAnswers([
    ["no text", station({ name: 5 }), "type.name", "name", "must be a name in text, not 5"],
    [
      "the same module twice",
      withModules({ name: "a" }, { name: "a" }),
      "name.duplicate",
      "modules[1] a",
      'is named like another, "a"',
    ],
    [
      "modules that case alone tells apart",
      withModules({ name: "valve" }, { name: "Valve" }),
      "name.duplicate",
      "modules[1] Valve",
      'like another, "valve" (case does not count)',
    ],
    [
      "the same input in two modules",
      withModules(
        { name: "a", inputs: [{ name: "x", type: "bit" }] },
        { name: "b", inputs: [{ name: "X", type: "int8" }] },
      ),
      ...(["name.duplicate", "modules[1] b › inputs[0] X", 'is named like another, "x"'] as const),
    ],
    [
      "a field named as a point",
      withModule({
        outputs: [
          { name: "x", type: "bit" },
          { word: 8, fields: [{ name: "x", bit: 0 }] },
        ],
      }),
      ...(["name.duplicate", "modules[0] m › outputs[1] › fields[0] x", 'is named like another, "x"'] as const),
    ],
  ]);

  test("64 characters, and a command with the name of its feedback, are fine", () => {
    const bit = (name: string) => [{ name, type: "bit" }];
    expect(examine(station({ name: "a".repeat(64) })).problems).toEqual([]);
    expect(examine(withModule({ inputs: bit("run"), outputs: bit("run") })).problems).toEqual([]);
    expect(examine(withModules({ name: "run", inputs: bit("run") })).problems).toEqual([]);
  });
});

// How a path shows a name, be it legal or not: cut, with its controls written out.
function shown(name: string): string {
  const cut = name.length > 64 ? `${name.slice(0, 64)}…` : name;
  const odd = ["\u0007", "\n", "\u200b", "\u2028", "\u2029", "\ud800"];
  return cut && ` ${odd.reduce((text, char) => text.replace(char, escaped(char)), cut)}`;
}

function escaped(char: string): string {
  return `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
