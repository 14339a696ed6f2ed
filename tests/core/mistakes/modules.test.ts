// Mistakes in modules and in the placement rules.

import { examine } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { expectAnswers, station, withModule, withModules } from "./answers.js";

describe("modules and placement", () => {
  expectAnswers([
    ["a negative slot", withModule({ slot: -1 }), "type.integer", "modules[0] m › slot", "from 0 to 65535, not -1"],
    ["a slot and a half", withModule({ slot: 1.5 }), "type.integer", "modules[0] m › slot", "a whole number"],
    ["a negative reserve", withModule({ outputBytes: -4 }), "type.integer", "modules[0] m › outputBytes", "not -4"],
    ["a reserve as text", withModule({ outputBytes: "4" }), "type.integer", "modules[0] m › outputBytes", 'not "4"'],
    [
      "a reserve too small",
      withModule({ outputBytes: 1, outputs: [{ spareBits: 9 }] }),
      "placement.reserve",
      "modules[0] m › outputBytes",
      "the points take 2",
    ],
    [
      "overlapping pins",
      withModules({ name: "a", inputs: [{ spare: 4 }] }, { name: "b", inputOffset: 2, inputs: [{ spare: 4 }] }),
      ...(["placement.overlap", "modules[1] b", /2 to 3.*module a/] as const),
    ],
    ["a mistyped group", withModule({ group: "word" }), "type.oneOf", "modules[0] m › group", 'did you mean "words"?'],
    [
      "an alignment of 3",
      station({ placement: { inputs: { alignment: 3 } } }),
      "type.oneOf",
      "placement.inputs.alignment",
      "1 or 2 or 4",
    ],
    [
      "a placement key mistyped",
      station({ placement: { inputs: { lengthMultipel: 2 } } }),
      "key.unknown",
      "placement.inputs",
      'did you mean "lengthMultiple"?',
    ],
    [
      "a direction mistyped",
      station({ placement: { input: {} } }),
      "key.unknown",
      "placement",
      'did you mean "inputs"?',
    ],
    [
      "an image too long for its network",
      { format: 1, name: "rig", network: "canopen", modules: [{ name: "m", inputs: [{ spare: 9 }] }] },
      ...(["network.limit", "inputs", "take 9 bytes, but at most 8 fit (CiA 301"] as const),
    ],
    [
      "exclusive of an unknown output",
      withModule({ outputs: [{ name: "extend", type: "bit" }], exclusive: [["extend", "retrct"]] }),
      ...([
        "exclusive.unknown",
        "modules[0] m › exclusive[0][1]",
        /retrct.* is no boolean output of this module/,
      ] as const),
    ],
    [
      "exclusive of a number",
      withModule({
        outputs: [
          { name: "extend", type: "bit" },
          { name: "speed", type: "int16" },
        ],
        exclusive: [["extend", "speed"]],
      }),
      ...(["exclusive.unknown", "modules[0] m › exclusive[0][1]", "no boolean output"] as const),
    ],
    [
      "exclusive of an output with itself",
      withModule({ outputs: [{ name: "extend", type: "bit" }], exclusive: [["extend", "extend"]] }),
      ...(["exclusive.twice", "modules[0] m › exclusive[0][1]", "stands twice"] as const),
    ],
    [
      "exclusive of an input",
      withModule({
        inputs: [{ name: "isOut", type: "bit" }],
        outputs: [{ name: "extend", type: "bit" }],
        exclusive: [["extend", "isOut"]],
      }),
      ...(["exclusive.unknown", "modules[0] m › exclusive[0][1]", /isOut.* no boolean output/] as const),
    ],
    [
      "exclusive of a field of several bits",
      withModule({
        outputs: [
          {
            word: 8,
            fields: [
              { name: "extend", bit: 0 },
              { name: "mode", bits: 3, shift: 1 },
            ],
          },
        ],
        exclusive: [["extend", "mode"]],
      }),
      ...(["exclusive.unknown", "modules[0] m › exclusive[0][1]", /mode.* no boolean output/] as const),
    ],
    [
      "exclusive of an output that is wrong itself: that comes first",
      withModule({
        outputs: [
          { name: "extend", type: "bit" },
          { name: "retract", type: "bitt" },
        ],
        exclusive: [["extend", "retract"]],
      }),
      ...(["type.oneOf", "modules[0] m › outputs[1] retract › type", 'did you mean "bit"?'] as const),
    ],
    [
      "exclusive of one",
      withModule({ outputs: [{ name: "a", type: "bit" }], exclusive: [["a"]] }),
      "type.list",
      "modules[0] m › exclusive[0]",
      "entries, not 1",
    ],
  ]);

  test("flags of a word may be exclusive as bits may", () => {
    const fields = [
      { name: "up", bit: 0 },
      { name: "down", bit: 1 },
    ];
    const outputs = [
      { word: 8, fields },
      { name: "stop", type: "bit" },
    ];
    expect(examine(withModule({ outputs, exclusive: [["up", "down", "stop"]] })).problems).toEqual([]);
  });
});
