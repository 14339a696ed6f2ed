import { assemble, type ImageLayout, type Module, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Base } from "../../../../packages/commissioning/src/diagnose/base.js";
import { type Anew, rearranged } from "../../../../packages/commissioning/src/diagnose/rearrange.js";
import { baseFor } from "../trial.js";

// Inputs: weigh 0 to 3 (net 0, gross 2), doors byte 4 (bits 0 and 1), levels 5 to 6. Outputs: doors byte 0, levels byte 1.
const weigh: Module = {
  name: "weigh",
  inputs: [
    { name: "net", type: "int16", scale: { counts: [0, 1000], value: [0, 10], unit: "kg" } },
    { name: "gross", type: "uint16" },
  ],
};
const doors: Module = {
  name: "doors",
  inputs: [
    { name: "front", type: "bit" },
    { name: "back", type: "bit" },
  ],
  outputs: [{ name: "unlock", type: "bit" }],
};
const levels: Module = {
  name: "levels",
  inputs: [{ name: "tank", type: "uint16" }],
  outputs: [{ name: "setpoint", type: "uint8" }],
};
const coupling: Module = { name: "coupling" };

const line: Station = { format: 1, name: "line", byteOrder: "big", modules: [weigh, doors, coupling, levels] };

// Of net, back, tank and setpoint something is known.
const baseOn = (station: Station) =>
  baseFor(station, [
    { inputs: "00 00 00 00 00 00 00", known: { net: 0, back: false, tank: 0 } },
    { outputs: "00 00", known: { setpoint: 0 } },
  ]);

/** An effect as it is read: bytes by which each module is moved, points placed anew with their bytes, lengths. */
function told(base: Base, changed: Station, anew?: Anew) {
  const effect = rearranged(base, changed, anew);
  if (!effect) return null;
  const moved = (direction: "inputs" | "outputs") =>
    base.station.modules.map((_, module) => effect.moved!(direction, module) ?? "-").join(" ");
  return {
    inputs: moved("inputs"),
    outputs: moved("outputs"),
    points: Object.fromEntries(
      [...effect.points!].map(([key, point]) => [key, `${point!.positions.join(" ")}, bit ${point!.low}`]),
    ),
    lengths: effect.lengths,
  };
}

describe("what a change of the modules moves, by module in the order described; - where it has no data", () => {
  const withModules = (...modules: Module[]): Station => ({ ...line, modules });
  test.each<[string, Station, ReturnType<typeof told>]>([
    [
      "nothing changed",
      withModules(weigh, doors, coupling, levels),
      { inputs: "0 0 - 0", outputs: "- 0 - 0", points: {}, lengths: { inputs: 7, outputs: 2 } },
    ],
    [
      "three bytes in front of the inputs",
      withModules({ name: "header", inputs: [{ spare: 3 }] }, weigh, doors, coupling, levels),
      { inputs: "3 3 - 3", outputs: "- 0 - 0", points: {}, lengths: { inputs: 10, outputs: 2 } },
    ],
    [
      "a module taken out: it is nowhere, the next comes earlier in both directions",
      withModules(weigh, coupling, levels),
      { inputs: "0 - - -1", outputs: "- - - -1", points: {}, lengths: { inputs: 6, outputs: 1 } },
    ],
    [
      "first and last exchanged",
      withModules(levels, doors, coupling, weigh),
      { inputs: "3 -2 - -5", outputs: "- 1 - -1", points: {}, lengths: { inputs: 7, outputs: 2 } },
    ],
    [
      "a module with another byte order: its points that have facts are placed anew, from the least significant byte",
      withModules({ ...weigh, byteOrder: "little" }, doors, coupling, levels),
      {
        inputs: "- 0 - 0",
        outputs: "- 0 - 0",
        points: { "inputs net": "0 1, bit 0" },
        lengths: { inputs: 7, outputs: 2 },
      },
    ],
    [
      "a module with a byte more: its points in both directions",
      withModules(weigh, { ...doors, inputs: [{ spareBits: 8 }, ...doors.inputs!] }, coupling, {
        ...levels,
        outputs: [{ spare: 1 }, ...levels.outputs!],
      }),
      {
        inputs: "0 - - -",
        outputs: "- - - -",
        points: { "inputs back": "5, bit 1", "inputs tank": "7 6, bit 0", "outputs setpoint": "2, bit 0" },
        lengths: { inputs: 8, outputs: 3 },
      },
    ],
    [
      "a length configured moves nothing",
      { ...line, placement: { inputs: { length: 20 } } },
      { inputs: "0 0 - 0", outputs: "- 0 - 0", points: {}, lengths: { inputs: 20, outputs: 2 } },
    ],
    ["what cannot be assembled has no effect", { ...line, placement: { inputs: { length: 6 } } }, null],
    ["nor has an image beyond its limit", { ...line, limits: { outputs: 1 } }, null],
  ])("%s", (_, changed, expected) => {
    expect(told(baseOn(line), changed)).toEqual(expected);
  });

  test("all placed anew: every point that has facts, and no module is moved", () => {
    expect(told(baseOn(line), { ...line, byteOrder: "little" }, "all")).toEqual({
      inputs: "- - - -",
      outputs: "- - - -",
      points: {
        "inputs net": "0 1, bit 0",
        "inputs back": "4, bit 1",
        "inputs tank": "5 6, bit 0",
        "outputs setpoint": "1, bit 0",
      },
      lengths: { inputs: 7, outputs: 2 },
    });
  });
});

describe("under every rule, in every order of the modules, what is known stands where the whole changed station has it", () => {
  const orders = permutations([weigh, doors, levels]);
  // Two bits more, so that they share a byte with those of the doors where bits are packed.
  const lights: Module = {
    name: "lights",
    inputs: [{ spareBits: 1 }, { name: "lit", type: "bit" }],
  };
  test.each<[string, Station]>([
    ["in the order of the list", line],
    ["aligned", { ...line, placement: { inputs: { alignment: 4, lengthMultiple: 8 }, outputs: { alignment: 2 } } }],
    ["words first", { ...line, placement: { inputs: { order: "wordsFirst" } } }],
    ["bits packed", { ...line, placement: { inputs: { packing: "bit" }, outputs: { packing: "bit" } } }],
  ])("%s", (_, rules) => {
    const described: Station = { ...rules, modules: [weigh, lights, doors, coupling, levels] };
    const base = baseFor(described, [
      { inputs: "00", known: { net: 0, gross: 0, lit: false, front: false, back: false, tank: 0 } },
      { outputs: "00", known: { unlock: false, setpoint: 0 } },
    ]);
    for (const modules of permutations([weigh, lights, doors, levels])) expectAsInFull(base, { ...rules, modules });
    // One taken out, one put in.
    for (const modules of orders)
      expectAsInFull(base, { ...rules, modules: [{ name: "new", inputs: [{ spareBits: 3 }] }, ...modules] });
  });

  test("in the order of slots, which is not that of the list", () => {
    const slotted = (modules: readonly Module[]) => modules.map((module, k) => ({ ...module, slot: 4 - k }));
    const base = baseOn({ ...line, modules: slotted(line.modules) });
    for (const modules of orders) expectAsInFull(base, { ...line, modules: slotted(modules) });
  });
});

test("a point placed anew means what it meant: with its scale, type and code, in the module that has it now", () => {
  const base = baseOn(line);
  const renamed: Station = {
    ...line,
    modules: [
      { name: "spacer", inputs: [{ spare: 1 }] },
      { ...weigh, name: "scales" },
    ],
  };
  const net = rearranged(base, renamed)!.points!.get("inputs net");
  expect(net).toEqual({ ...base.points.get("inputs net"), module: "scales", byte: 1, positions: [2, 1] });
  expect(net!.description).toBe(weigh.inputs![0]);
});

function expectAsInFull(base: Base, changed: Station): void {
  const effect = rearranged(base, changed)!;
  const full = assemble(changed);
  for (const image of [full.inputs, full.outputs] as ImageLayout[]) {
    const { direction, byteLength, points } = image;
    expect(effect.lengths![direction]).toBe(byteLength);
    const there = new Map(points.map((point) => [`${direction} ${point.name}`, point]));
    for (const key of base.factsAt.keys()) {
      const old = base.points.get(key)!;
      if (!key.startsWith(direction)) continue;
      const by = effect.moved!(direction, base.indices.get(old.module)!);
      const placed = effect.points!.get(key);
      const positions = placed ? placed.positions : by === null ? null : old.positions.map((byte) => byte + by);
      const what = `${key} of ${changed.modules.map(({ name }) => name).join(" ")}`;
      expect(positions, what).toEqual(there.get(key)?.positions ?? null);
      expect((placed ?? old).low, what).toBe((there.get(key) ?? placed ?? old).low);
    }
  }
}

function permutations<T>(list: readonly T[]): (readonly T[])[] {
  if (list.length === 0) return [[]];
  return list.flatMap((item, k) => permutations(list.filter((_, at) => at !== k)).map((rest) => [item, ...rest]));
}
