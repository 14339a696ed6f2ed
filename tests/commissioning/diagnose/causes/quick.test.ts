import type { Station } from "byterail";
import { describe, test } from "vitest";
import { causes } from "../../../../packages/commissioning/src/diagnose/causes/index.js";
import { built, seenOn, withModules, withPoint } from "../station.js";
import { baseFor, expectQuickIsFull } from "../trial.js";

describe("every hypothesis is judged by its effect as the whole changed station would be", () => {
  test.each<[string, Station]>([
    ["as built", built],
    ["little", { ...built, byteOrder: "little" }],
    ["exchanged", withModules(([a, b, c, d]) => [a!, c!, b!, d!])],
    ["missing", withModules(([a, b, , d]) => [a!, b!, d!])],
    ["slots", withModules((modules) => [...modules].reverse().map((module, k) => ({ ...module, slot: 4 - k })))],
    [
      "words first",
      {
        ...withPoint("counters", "kegs", { byteOrder: "little" }),
        placement: { inputs: { order: "wordsFirst" } },
      },
    ],
    [
      "packed",
      { ...withPoint("counters", "kegs", { byteOrder: "little" }), placement: { inputs: { packing: "bit" } } },
    ],
    [
      "aligned",
      {
        ...withPoint("counters", "kegs", { byteOrder: "little" }),
        placement: { inputs: { alignment: 4, lengthMultiple: 8 } },
      },
    ],
  ])("%s", (_, station) => {
    const base = baseFor(station, seenOn(station));
    for (const cause of causes) expectQuickIsFull(cause, base);
  });
});
