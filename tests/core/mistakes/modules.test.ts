// Mistakes in modules and in the placement rules.

import { describe } from "vitest";
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
      "exclusive of one",
      withModule({ outputs: [{ name: "a", type: "bit" }], exclusive: [["a"]] }),
      "type.list",
      "modules[0] m › exclusive[0]",
      "entries, not 1",
    ],
  ]);
});
