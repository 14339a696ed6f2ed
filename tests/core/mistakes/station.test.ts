// Mistakes at the top of a description.

import { ByterailError } from "byterail";
import { examine, parseStation } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { expectAnswers, input, station, withInput, withModule, withModules } from "./answers.js";

describe("the station itself", () => {
  expectAnswers([
    ["no object", "kegWasher", "type.record", "station", "must be an object"],
    ["a list", [], "type.record", "station", "must be an object, not a list"],
    ["nothing", null, "type.record", "station", "must be an object"],
    ["format of the future", station({ format: 2, somethingNew: [] }), "format.newer", "format", "2 is newer than"],
    ["format 0", station({ format: 0 }), "type.oneOf", "format", "must be 1"],
    ["a format of the future as text", station({ format: "2" }), "type.oneOf", "format", 'must be 1, not "2"'],
    ["format as text", station({ format: "1" }), "type.oneOf", "format", "must be 1"],
    ["no format", { name: "rig", byteOrder: "big", modules: [] }, "key.missing", "station", '"format" is missing'],
    ["no name", { format: 1, byteOrder: "big", modules: [] }, "key.missing", "station", '"name" is missing'],
    ["no modules", { format: 1, name: "rig", byteOrder: "big" }, "key.missing", "station", '"modules" is missing'],
    ["modules as an object", station({ modules: {} }), "type.list", "modules", "must be a list"],
    [
      "no byte order and no network",
      { format: 1, name: "rig", modules: [] },
      "byteOrder.missing",
      "byteOrder",
      'say "big" or "little"',
    ],
    ["a byte order of the host", station({ byteOrder: "native" }), "type.oneOf", "byteOrder", '"big" or "little"'],
    ["a byte order mistyped", station({ byteOrder: "litle" }), "type.oneOf", "byteOrder", 'did you mean "little"?'],
    ["an unknown network", station({ network: "profinett" }), "type.oneOf", "network", 'did you mean "profinet"?'],
    [
      "an unknown key",
      station({ modulse: [] }),
      "key.unknown",
      "station",
      'unknown key "modulse"; did you mean "modules"?',
    ],
    [
      "an unknown key like no other",
      station({ zzzzzzzz: 1 }),
      "key.unknown",
      "station",
      "known: format, name, modules",
    ],
    [
      "a key __proto__",
      JSON.parse('{ "format": 1, "name": "rig", "byteOrder": "big", "modules": [], "__proto__": {} }'),
      "key.unknown",
      "station",
      "__proto__",
    ],
    ["a title that is no text", station({ title: 7 }), "type.text", "title", "must be text, not 7"],
    ["a negative limit", station({ limits: { inputs: -1 } }), "type.integer", "limits.inputs", "from 0 to 65535"],
    ["a module that is null", withModules(null), "type.record", "modules[0]", "must be an object, not null"],
    [
      "too many modules",
      withModules(...Array.from({ length: 10_000 }, (_, k) => ({ name: `m${k}` }))),
      "type.list",
      "modules",
      "not 10000",
    ],
  ]);
});

describe("free keys", () => {
  test("x- keys and $schema pass at every level", () => {
    const free = { "x-own": { any: ["thing"] }, $schema: "https://example.org/schema" };
    const data = station({
      ...free,
      placement: { inputs: free },
      modules: [
        {
          name: "m",
          ...free,
          inputs: [{ name: "n", type: "int16", ...free, scale: { counts: [0, 1], value: [0, 1], ...free } }],
        },
      ],
    });
    expect(examine(data).problems).toEqual([]);
  });
});

describe("all problems come at once", () => {
  test("whatever their kind, each with its place", () => {
    const { problems } = examine({
      format: 1,
      name: "rig",
      modules: [
        {
          name: "a",
          inputs: [
            { name: "x", type: "int16", scale: { counts: [1, 1], value: [0, 1] } },
            { name: "y", type: "bitt" },
          ],
        },
        { name: "a", outputs: [{ name: "z", type: "int16", wordOrder: "lowFirst", code: "bcd" }], slott: 3 },
      ],
    });
    expect(problems.map(({ code, path }) => [code, path]).sort()).toEqual(
      [
        ["type.oneOf", "modules[0] a › inputs[1] y › type"],
        ["key.unknown", "modules[1] a"],
        ["scale.span", "modules[0] a › inputs[0] x › scale.counts"],
        ["name.duplicate", "modules[1] a"],
        ["wordOrder.width", "modules[1] a › outputs[0] z › wordOrder"],
        ["code.type", "modules[1] a › outputs[0] z › code"],
      ].sort(),
    );
  });

  test("one error carries them, each on a line `code path: message`", () => {
    const wrong = station({ name: "1", title: 2 });
    expect(() => parseStation(wrong)).toThrow(/^name\.illegal name: ./m);
    expect(() => parseStation(wrong)).toThrow(/^type\.text title: must be text, not 2$/m);
    const error = new ByterailError([
      { code: "a.b", path: "here", message: "is wrong" },
      { code: "c.d", path: "there", message: "is wrong too" },
    ]);
    expect([error.name, error.message]).toEqual(["ByterailError", "a.b here: is wrong\nc.d there: is wrong too"]);
    expect(error.problems.map(({ code }) => code)).toEqual(["a.b", "c.d"]);
  });
});

describe("warnings", () => {
  const warned = (data: unknown) => examine(data).warnings.map(({ code, path, message }) => [code, path, message]);
  const scaled = (scale: object, type = "int16") => withInput({ name: "n", type, scale });
  const fine = 0.1234567890123456; // digits that take the integers of a scale beyond 2^49
  const inexact = ["scale.inexact", `${input} › scale`, expect.stringMatching(/pass 2\^49.*give fewer digits/)];
  const spare = { spare: 1 };

  test.each<[title: string, data: unknown, warnings: unknown[]]>([
    [
      "a word at an odd byte",
      withModule({ inputs: [spare, { name: "n", type: "int16" }] }),
      [["placement.oddByte", "inputs › m › n", expect.stringMatching(/odd byte 1\b.*alignment 2/)]],
    ],
    ["a single byte at an odd byte", withModule({ inputs: [spare, { name: "n", type: "int8" }] }), []],
    [
      "a packed word at an odd byte, once for all of its fields",
      withModule({ inputs: [spare, { word: 16, fields: [flag("a", 0), flag("b", 1)] }] }),
      [["placement.oddByte", "inputs › m › a", expect.stringMatching(/odd byte 1\b/)]],
    ],
    [
      "a field of 16 bits across two registers",
      withInput({ word: 32, fields: [{ name: "n", bits: 16, shift: 8 }] }),
      [["placement.straddle", "inputs › m › n", expect.stringMatching(/16 bits lie across two.*in one request/)]],
    ],
    [
      "a field of 2 bits across two registers",
      withInput({ word: 32, fields: [{ name: "n", bits: 2, shift: 15 }] }),
      [["placement.straddle", "inputs › m › n", expect.stringMatching(/2 bits/)]],
    ],
    ["a field that no register could hold", withInput({ word: 32, fields: [{ name: "n", bits: 17, shift: 8 }] }), []],
    ["a field within one register", withInput({ word: 32, fields: [{ name: "n", bits: 8, shift: 4 }] }), []],
    [
      "a signal without unit",
      scaled({ counts: [0, 1], signal: [4, 20] }),
      [["scale.signalUnit", `${input} › scale.signal`, expect.stringMatching(/no signalUnit, "mA" or "V"/)]],
    ],
    [
      "a pin of a module that has nothing there",
      withModule({ inputOffset: 4 }),
      [["placement.idlePin", "modules[0] m › inputOffset", "has no effect: the module has no inputs"]],
    ],
    ["a value of many digits", scaled({ counts: [0, 1000], value: [0, fine] }), [inexact]],
    [
      "a value of many digits beside a plain signal",
      scaled({ counts: [0, 1000], value: [0, fine], signal: [4, 20], signalUnit: "mA" }),
      [inexact],
    ],
    [
      "a signal of many digits",
      scaled({ counts: [0, 1000], value: [0, 1], signal: [0, fine], signalUnit: "V" }),
      [inexact],
    ],
    [
      "a curve of many digits",
      scaled({
        points: [
          [0, 0],
          [500, 1],
          [1000, 1 + fine],
        ],
      }),
      [inexact],
    ],
    // A root is real arithmetic whatever its ends are.
    ["a root of many digits", scaled({ counts: [0, 1000], value: [0, fine], shape: "squareRoot" }), []],
    ["a real of many digits", scaled({ counts: [0, 1000], value: [0, fine] }, "float32"), []],
  ])("%s", (_, data, warnings) => {
    expect(examine(data).problems).toEqual([]);
    expect(warned(data)).toEqual(warnings);
  });

  test("a scale that is wrong otherwise is not warned of", () => {
    expect(warned(scaled({ counts: [0, 1000], value: [0, fine] }, "int64"))).toEqual([]);
  });
});

function flag(name: string, bit: number) {
  return { name, bit };
}
