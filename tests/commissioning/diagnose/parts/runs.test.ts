import type { Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { bareOf } from "../../../../packages/commissioning/src/diagnose/reduce.js";
import { bareRun, type Run, runsOf } from "../../../../packages/commissioning/src/diagnose/runs.js";
import { baseFor } from "../trial.js";

const bytes = (name: string, inputs: number, outputs = 0, keys: Partial<Module> = {}): Module => ({
  name,
  ...keys,
  ...(inputs > 0 && { inputs: [{ spare: inputs }] }),
  ...(outputs > 0 && { outputs: [{ spare: outputs }] }),
});

// Inputs: a 0 to 1, b none, c 2 to 4, d 5. Outputs: b 0, d 1 to 4.
const [a, b, c, d] = [bytes("a", 2), bytes("b", 0, 1), bytes("c", 3), bytes("d", 1, 4)] as const;

const rack: Station = { format: 1, name: "rack", byteOrder: "big", modules: [a, b, c, d] };

const baseOn = (station: Station) => baseFor(station, [{ inputs: "00", known: {} }]);

/** Runs as the names of their first and last module, modules that changed as their name. */
function told(station: Station, changed: Station, anew: "changed" | "all" = "changed"): string {
  const { modules } = station;
  const name = (part: Run | Module) =>
    "first" in part ? `${modules[part.first]!.name}-${modules[part.last]!.name}` : part.name;
  return runsOf(baseOn(station), changed, anew).map(name).join(" ");
}

describe("modules that follow one another as they did are one run", () => {
  const extra = bytes("e", 1);
  const other = { ...b, byteOrder: "little" } as const;
  test.each<[string, readonly Module[], string]>([
    ["nothing changed", [a, b, c, d], "a-d"],
    ["one more in front", [extra, a, b, c, d], "e a-d"],
    ["one more between", [a, b, extra, c, d], "a-b e c-d"],
    ["one more behind", [a, b, c, d, extra], "a-d e"],
    ["one taken out", [a, c, d], "a-a c-d"],
    ["two exchanged", [a, c, b, d], "a-a c-c b-b d-d"],
    ["the halves exchanged", [c, d, a, b], "c-d a-b"],
    ["turned round", [d, c, b, a], "d-d c-c b-b a-a"],
    ["one changed", [a, other, c, d], "a-a b c-d"],
    ["the first changed", [{ ...a, byteOrder: "little" }, b, c, d], "a b-d"],
    ["one that is like it, but not the same", [a, { ...b }, c, d], "a-a b c-d"],
    ["one under another name", [a, { ...b, name: "z" }, c, d], "a-a z c-d"],
  ])("%s", (_, modules, runs) => {
    expect(told(rack, { ...rack, modules })).toBe(runs);
  });

  test("where all are placed anew there is no run", () => {
    expect(told(rack, rack, "all")).toBe("a b c d");
    expect(runsOf(baseOn(rack), rack, "all")).toEqual([a, b, c, d]);
  });
});

describe("one by one, where the end of a module does not tell the start of the next", () => {
  const each = "a-a b-b c-c d-d";
  const last = (keys: Partial<Module>) => ({ ...rack, modules: [a, b, c, { ...d, ...keys }] });
  test.each<[string, Station, string]>([
    ["a slot told", last({ slot: 3 }), each],
    ["a pin in the inputs", last({ inputOffset: 5 }), each],
    ["a pin in the outputs", last({ outputOffset: 1 }), each],
    ["a pin on the first byte", { ...rack, modules: [{ ...a, inputOffset: 0 }, b, c, d] }, each],
    ["inputs with words first", { ...rack, placement: { inputs: { order: "wordsFirst" } } }, each],
    ["outputs with words first", { ...rack, placement: { outputs: { order: "wordsFirst" } } }, each],
    ["inputs packed", { ...rack, placement: { inputs: { packing: "bit" } } }, each],
    ["outputs packed", { ...rack, placement: { outputs: { packing: "bit" } } }, each],
    ["reserved bytes do not matter", last({ inputBytes: 4 }), "a-d"],
    ["alignment does not", { ...rack, placement: { inputs: { alignment: 2 }, outputs: { length: 8 } } }, "a-d"],
    [
      "nor the rules by their usual names",
      { ...rack, placement: { inputs: { order: "slot" }, outputs: { packing: "byte" } } },
      "a-d",
    ],
  ])("%s", (_, station, runs) => {
    expect(told(station, station)).toBe(runs);
  });

  test("what counts are the rules of the changed station", () => {
    expect(told(rack, { ...rack, placement: { inputs: { packing: "bit" } } })).toBe(each);
  });
});

describe("one module stands for a run", () => {
  test.each<[string, Station, Run, Module]>([
    ["its size in each direction", rack, { first: 0, last: 3 }, bytes("a", 6, 5)],
    ["from the first byte to the last", rack, { first: 1, last: 2 }, bytes("b", 3, 1)],
    ["what has no data in a direction is left out of it", rack, { first: 2, last: 3 }, bytes("c", 4, 4)],
    ["no outputs at all", { ...rack, modules: [a, c] }, { first: 0, last: 1 }, bytes("a", 5)],
    ["no inputs at all", { ...rack, modules: [b, bytes("f", 0, 2)] }, { first: 0, last: 1 }, bytes("b", 0, 3)],
    // a 0 to 1, c 4 to 6, d 8: from 4 to 9.
    [
      "gaps of alignment included",
      { ...rack, placement: { inputs: { alignment: 4 } } },
      { first: 2, last: 3 },
      bytes("c", 5, 4),
    ],
  ])("%s", (_, station, run, expected) => {
    expect(bareRun(baseOn(station), run)).toStrictEqual(expected);
  });

  test("of a single module it is that module without its points, with all that places it", () => {
    const bits: Module = { name: "bits", slot: 1, inputs: [{ spareBits: 3 }], "x-note": "kept" };
    const base = baseOn({ ...rack, modules: [a, bits] });
    expect(bareRun(base, { first: 1, last: 1 })).toStrictEqual({ ...bits, inputs: [{ spareBits: 8 }] });
    expect(bareRun(base, { first: 1, last: 1 })).toBe(bareOf(base, bits));
  });
});
