// The comparison of two revisions of a station.

import { compare, type PointChange } from "@byterail/commissioning";
import { assemble, decodeRaw, type Entry, encodeRaw, type Layout, type Module, type Station } from "byterail";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stations } from "../support/stations.js";
import { kegStation } from "./kegStation.js";

function rig(inputs: readonly Entry[], module: Partial<Module> = {}, station: Partial<Station> = {}): Layout {
  return assemble({
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [{ name: "m", inputs, ...module }],
    ...station,
  } as Station) as Layout;
}

const pressure = { name: "p", type: "uint16", scale: { counts: [0, 1000], value: [0, 10], unit: "bar" } } as const;
const scale = pressure.scale;

describe("one point", () => {
  test.each<{ name: string; old: Entry[]; new: Entry[]; changes: string[] }>([
    { name: "as it was", old: [pressure], new: [pressure], changes: ["unchanged"] },
    { name: "behind a new spare byte", old: [pressure], new: [{ spare: 1 }, pressure], changes: ["moved"] },
    {
      name: "of another type in its place",
      old: [pressure],
      new: [{ ...pressure, type: "int16" }],
      changes: ["retyped"],
    },
    { name: "of another width", old: [pressure], new: [{ ...pressure, type: "uint32" }], changes: ["retyped"] },
    { name: "of another code", old: [pressure], new: [{ ...pressure, code: "bcd" }], changes: ["retyped"] },
    {
      name: "as a real",
      old: [{ name: "p", type: "uint32" }],
      new: [{ name: "p", type: "float32" }],
      changes: ["retyped"],
    },
    {
      name: "with its bytes turned round",
      old: [pressure],
      new: [{ ...pressure, byteOrder: "little" }],
      changes: ["reordered"],
    },
    {
      name: "with its words turned round",
      old: [{ name: "p", type: "int32" }],
      new: [{ name: "p", type: "int32", wordOrder: "lowFirst" }],
      changes: ["reordered"],
    },
    {
      name: "with another span",
      old: [pressure],
      new: [{ ...pressure, scale: { ...scale, value: [0, 16] } }],
      changes: ["rescaled"],
    },
    {
      name: "in another unit",
      old: [pressure],
      new: [{ ...pressure, scale: { ...scale, unit: "psi" } }],
      changes: ["rescaled"],
    },
    {
      name: "with special counts",
      old: [pressure],
      new: [{ ...pressure, specialCounts: [{ counts: 9, health: "invalid" }] }],
      changes: ["rescaled"],
    },
    { name: "with another title", old: [pressure], new: [{ ...pressure, title: "Supply" }], changes: ["redescribed"] },
    {
      name: "of another accuracy",
      old: [pressure],
      new: [{ ...pressure, scale: { ...scale, accuracy: { absolute: 1 } } }],
      changes: ["redescribed"],
    },
    {
      name: "moved and rescaled",
      old: [pressure],
      new: [{ spare: 2 }, { ...pressure, scale: { ...scale, value: [0, 6] } }],
      changes: ["moved", "rescaled"],
    },
    {
      name: "with another name in its place",
      old: [pressure],
      new: [{ ...pressure, name: "q" }],
      changes: ["renamed"],
    },
    {
      name: "with its name in other case",
      old: [pressure],
      new: [{ spare: 1 }, { ...pressure, name: "P" }],
      changes: ["moved", "renamed"],
    },
    {
      name: "a bit in the next place",
      old: [{ name: "a", type: "bit" }],
      new: [{ spareBits: 1 }, { name: "a", type: "bit" }],
      changes: ["moved"],
    },
    {
      name: "a field at another shift",
      old: [{ word: 16, fields: [{ name: "f", bits: 4, shift: 0 }] }],
      new: [{ word: 16, fields: [{ name: "f", bits: 4, shift: 1 }] }],
      changes: ["moved"],
    },
    {
      name: "a field whose word is turned round goes to the other byte",
      old: [{ word: 16, fields: [{ name: "f", bits: 4, shift: 0 }] }],
      new: [{ word: 16, byteOrder: "little", fields: [{ name: "f", bits: 4, shift: 0 }] }],
      changes: ["moved"],
    },
    {
      name: "moved, and with its bytes turned round",
      old: [pressure],
      new: [{ spare: 2 }, { ...pressure, byteOrder: "little" }],
      changes: ["moved", "reordered"],
    },
    {
      // Big, bits 8 to 31: bytes 2 1 0, with the low word first 0 3 2.
      name: "a field whose words are turned round goes to other bytes",
      old: [{ word: 32, fields: [{ name: "f", bits: 24, shift: 8 }] }],
      new: [{ word: 32, wordOrder: "lowFirst", fields: [{ name: "f", bits: 24, shift: 8 }] }],
      changes: ["moved"],
    },
    {
      name: "a bit that becomes a flag of a word in the same place",
      old: [{ name: "a", type: "bit" }],
      new: [{ word: 8, fields: [{ name: "a", bit: 0 }] }],
      changes: ["unchanged"],
    },
  ])("$name: $changes", ({ old, new: now, changes }) => {
    const { points } = compare(rig(old), rig(now));
    expect(points.map((point) => point.changes)).toEqual([changes]);
  });

  test("in another module but the same place is only described otherwise", () => {
    const [point] = compare(rig([pressure]), rig([pressure], { name: "n" })).points;
    expect(point).toMatchObject({ changes: ["redescribed"], details: ['module: "m" → "n"'] });
  });

  test("tells the keys that differ", () => {
    const now = { ...pressure, title: "Supply", scale: { ...scale, value: [0, 16] as const } };
    expect(compare(rig([pressure]), rig([now])).points[0]!.details).toEqual([
      "scale.value: [0,10] → [0,16]",
      'title: none → "Supply"',
    ]);
  });
});

test("a rename is a guess from the same bits and type; other types are one point gone and another come", () => {
  const kinds = (now: Entry) =>
    compare(rig([pressure]), rig([now])).points.map(({ name, changes, renamedBy }) => [name, changes, renamedBy]);
  expect(kinds({ ...pressure, name: "q" })).toEqual([["q", ["renamed"], "guess"]]);
  expect(kinds({ ...pressure, name: "P" })).toEqual([["P", ["renamed"], "case"]]);
  expect(kinds({ name: "q", type: "int16" })).toEqual([
    ["q", ["added"], null],
    ["p", ["removed"], null],
  ]);
});

describe("with the old map", () => {
  const [a, b] = [
    { name: "a", type: "uint16" },
    { name: "b", type: "uint16" },
  ] as const;

  test("two points that changed places read each other, and nothing tells", () => {
    const { stale, sizes } = compare(rig([a, b]), rig([b, a]));
    expect(stale).toEqual([
      {
        direction: "inputs",
        name: "b",
        effect: "anotherPoint",
        overlaps: [{ name: "a", bits: 16 }],
        unused: 0,
        beyond: 0,
      },
      {
        direction: "inputs",
        name: "a",
        effect: "anotherPoint",
        overlaps: [{ name: "b", bits: 16 }],
        unused: 0,
        beyond: 0,
      },
    ]);
    expect(sizes.inputs).toEqual({ old: 4, new: 4, toldBy: "nothing" });
  });

  test.each<{ name: string; old: Entry[]; new: Entry[]; effect: string }>([
    { name: "a spare where it was", old: [a], new: [{ spare: 2 }, a], effect: "nothing" },
    { name: "a shorter image", old: [a, b], new: [a], effect: "beyondEnd" },
    { name: "the same bits, turned round", old: [a], new: [{ ...a, byteOrder: "little" }], effect: "sameBits" },
    {
      name: "the same bits on another scale",
      old: [pressure],
      new: [{ ...pressure, scale: { ...scale, value: [0, 1] } }],
      effect: "sameBits",
    },
  ])("$name: $effect", ({ old, new: now, effect }) => {
    expect(compare(rig(old), rig(now)).stale.map((point) => point.effect)).toEqual([effect]);
  });

  test("a renamed or retitled point is read as before", () => {
    expect(compare(rig([a]), rig([{ ...a, name: "z", title: "Z" }])).stale).toEqual([]);
  });
});

test("modules are compared by name, slot and bytes", () => {
  const station = (modules: Module[]) => assemble({ format: 1, name: "rig", byteOrder: "big", modules }) as Layout;
  const [bits, word] = [
    { name: "bits", inputs: [{ name: "a", type: "bit" }] },
    { name: "word", inputs: [{ name: "w", type: "uint16" }] },
  ] as const;
  const kinds = (old: Module[], now: Module[]) =>
    compare(station(old), station(now)).modules.map(({ name, changes }) => [name, ...changes]);
  expect(kinds([bits, word], [word, bits])).toEqual([
    ["word", "moved", "reslotted"],
    ["bits", "moved", "reslotted"],
  ]);
  expect(kinds([bits, word], [{ ...bits, inputBytes: 2 }, word])).toEqual([
    ["bits", "resized"],
    ["word", "moved"],
  ]);
  expect(kinds([bits], [{ ...bits, name: "flags" }])).toEqual([["flags", "renamed"]]);
  expect(kinds([bits], [word])).toEqual([
    ["word", "added"],
    ["bits", "removed"],
  ]);
});

test("what has to be made anew follows from what changed", () => {
  const artefacts = (now: Entry[]) => compare(rig([pressure]), rig(now)).artefacts.map(({ artefact }) => artefact);
  expect(artefacts([pressure])).toEqual([]);
  expect(artefacts([{ ...pressure, title: "Supply" }])).toEqual(["code", "tables", "checkSheet"]);
  expect(artefacts([{ ...pressure, scale: { ...scale, value: [0, 6] } }])).toEqual([
    "code",
    "controllerScaling",
    "tables",
    "drawing",
    "checkSheet",
  ]);
  expect(artefacts([{ spare: 1 }, pressure])).toEqual([
    ...["connection", "code", "controllerDeclarations", "controllerScaling", "tables", "drawing", "checkSheet"],
  ]);
});

test("addresses that changed hands are listed, counted as the controller counts", () => {
  const options = { addresses: { inputs: { start: 64, counting: "words" } } } as const;
  const { addresses } = compare(rig([pressure]), rig([{ spare: 2 }, pressure]), options);
  expect(addresses).toEqual([{ direction: "inputs", name: "p", old: "%IW32", new: "%IW33" }]);
});

test("addresses: outputs have options of their own, and what has none in a revision shows so", () => {
  const station = (outputs: Entry[]) => rig([], { outputs });
  const options = { addresses: { outputs: { start: 32 } } } as const;
  const bit = (name: string): Entry => ({ name, type: "bit" });
  const { addresses } = compare(
    station([bit("a"), bit("b")]),
    station([bit("a"), { spareBits: 1 }, bit("c")]),
    options,
  );
  expect(addresses).toEqual([
    { direction: "outputs", name: "c", old: null, new: "%QX32.2" },
    { direction: "outputs", name: "b", old: "%QX32.1", new: null },
  ]);
});

test("a point in both revisions, with its places", () => {
  const word = (shift: number): Entry => ({
    word: 16,
    fields: [
      { name: "f", bits: 4, shift, signed: true },
      { name: "g", bit: 9 },
    ],
  });
  const [f, g] = compare(rig([word(0)]), rig([{ spare: 1 }, word(4)], { name: "n", slot: 3 })).points;
  const place = { module: "m", slot: 0, type: "field", code: "twosComplement", bits: 4, address: null } as const;
  expect(f).toEqual({
    ...{ direction: "inputs", name: "f", changes: ["moved", "redescribed"], renamedBy: null },
    details: ['module: "m" → "n"'],
    old: { ...place, name: "f", byte: 1, bit: null },
    new: { ...place, name: "f", byte: 2, bit: null, module: "n", slot: 3 },
  });
  // Bit 9 of a big-endian word is bit 1 of its first byte.
  expect(g).toMatchObject({
    old: { code: null, byte: 0, bit: 1, bits: 1, address: "%IX0.1" },
    new: { code: null, byte: 1, bit: 1, bits: 1, address: "%IX1.1" },
  });
});

describe("what is no change", () => {
  test("keys in another order", () => {
    const special = (first: object) => ({ ...pressure, specialCounts: [first], accuracy: undefined }) as Entry;
    const counts = { counts: 9, health: "invalid" };
    const { points } = compare(rig([special(counts)]), rig([special({ health: "invalid", counts: 9 })]));
    expect(points[0]!.changes).toEqual(["unchanged"]);
  });

  test("free keys of a scale; those of a point are a description", () => {
    const noted = (more: object, ofScale: object) =>
      ({ ...pressure, ...more, scale: { ...scale, ...ofScale } }) as Entry;
    const changes = (now: Entry) => compare(rig([pressure]), rig([now])).points[0]!;
    expect(changes(noted({}, { "x-cable": "W7" }))).toMatchObject({ changes: ["unchanged"], details: [] });
    expect(changes(noted({ "x-cable": "W7" }, {}))).toMatchObject({
      changes: ["redescribed"],
      details: ['x-cable: none → "W7"'],
    });
    expect(changes(noted({ "x-cable": null }, {})).details).toEqual(["x-cable: none → null"]);
    expect(compare(rig([]), rig([pressure])).points[0]).toMatchObject({ changes: ["added"], details: [], old: null });
  });

  test.each<[title: string, old: Entry, now: Entry]>([
    [
      "an order that says what the module says already",
      { name: "n", type: "uint32" },
      { name: "n", type: "uint32", byteOrder: "big", wordOrder: "highFirst" },
    ],
    [
      "a sign said by its default",
      { word: 8, fields: [{ name: "n", bits: 4, shift: 0 }] },
      { word: 8, fields: [{ name: "n", bits: 4, shift: 0, signed: false }] },
    ],
  ])("%s", (_, old, now) => {
    expect(compare(rig([old]), rig([now])).points[0]).toMatchObject({ changes: ["unchanged"], details: [] });
  });
});

test("every detail of what was described otherwise", () => {
  const before = { name: "n", type: "int16", unit: "L", deadband: 1, limits: [0, 5] } as const;
  const now = {
    name: "n",
    type: "int16",
    unit: "m³",
    deadband: 2,
    specialCounts: [{ counts: 7, health: "invalid" }],
  } as const;
  expect(compare(rig([before]), rig([now])).points[0]).toMatchObject({
    changes: ["rescaled", "redescribed"],
    details: [
      'unit: "L" → "m³"',
      'specialCounts: none → [{"counts":7,"health":"invalid"}]',
      "deadband: 1 → 2",
      "limits: [0,5] → none",
    ],
  });
  const accuracy = { absolute: 1 };
  expect(compare(rig([pressure]), rig([{ ...pressure, scale: { ...scale, accuracy } }])).points[0]!.details).toEqual([
    'accuracy: none → {"absolute":1}',
  ]);
});

describe("modules in both revisions", () => {
  const station = (modules: Module[]) => assemble({ format: 1, name: "rig", byteOrder: "big", modules }) as Layout;
  const word = (name: string, more: Partial<Module> = {}): Module => ({
    name,
    inputs: [{ name: `${name}In`, type: "uint16" }],
    outputs: [{ name: `${name}Out`, type: "uint8" }],
    ...more,
  });

  test("with their bytes of either direction", () => {
    const [first, second] = compare(
      station([word("a"), word("b")]),
      station([word("a", { outputBytes: 3 }), word("b")]),
    ).modules;
    const inputs = { byte: 0, bytes: 2 };
    expect(first).toEqual({
      ...{ name: "a", changes: ["resized"], renamedBy: null },
      old: { name: "a", slot: 0, inputs, outputs: { byte: 0, bytes: 1 } },
      new: { name: "a", slot: 0, inputs, outputs: { byte: 0, bytes: 3 } },
    });
    expect(second).toMatchObject({ changes: ["moved"], old: { outputs: { byte: 1 } }, new: { outputs: { byte: 3 } } });
  });

  test("a new name is the same but for its case, or a guess from the same slot and bytes", () => {
    const renamed = (now: Module[]) =>
      compare(station([word("a", { slot: 4 })]), station(now)).modules.map(({ name, changes, renamedBy }) => [
        name,
        changes.join(),
        renamedBy,
      ]);
    expect(renamed([word("A", { slot: 4 })])).toEqual([["A", "renamed", "case"]]);
    expect(renamed([word("A", { slot: 5 })])).toEqual([["A", "reslotted,renamed", "case"]]);
    expect(renamed([word("z", { slot: 4 })])).toEqual([["z", "renamed", "guess"]]);
    expect(renamed([word("z", { slot: 5 })])).toEqual([
      ["z", "added", null],
      ["a", "removed", null],
    ]);
  });

  test("a module that is still there is nobody's old name, and one old module is guessed once", () => {
    const bare = (name: string): Module => ({ name, slot: 1 });
    const changes = (old: Module[], now: Module[]) =>
      compare(station(old), station(now)).modules.map((module) => [module.name, ...module.changes]);
    expect(changes([bare("power")], [bare("power"), bare("feed")])).toEqual([
      ["power", "unchanged"],
      ["feed", "added"],
    ]);
    expect(changes([bare("power")], [bare("feed"), bare("Power")])).toEqual([
      ["feed", "added"],
      ["Power", "renamed"],
    ]);
    expect(changes([bare("power")], [bare("feed"), bare("more")])).toEqual([
      ["feed", "renamed"],
      ["more", "added"],
    ]);
    expect(changes([bare("power")], [])).toEqual([["power", "removed"]]);
  });
});

test("the artefacts tell why", () => {
  const because = (now: Entry[]) =>
    Object.fromEntries(
      compare(rig([pressure]), rig(now)).artefacts.map(({ artefact, because }) => [artefact, because]),
    );
  expect(because([{ ...pressure, name: "q", title: "Supply" }])).toEqual({
    code: ["renamed", "redescribed"],
    controllerDeclarations: ["renamed"],
    controllerScaling: ["renamed"],
    tables: ["renamed", "redescribed"],
    drawing: ["renamed"],
    checkSheet: ["renamed", "redescribed"],
  });
  expect(because([pressure, { name: "r", type: "bit" }])).toEqual({
    connection: ["resized"],
    code: ["added", "resized"],
    controllerDeclarations: ["added", "resized"],
    controllerScaling: ["added"],
    tables: ["added", "resized"],
    drawing: ["added", "resized"],
    checkSheet: ["added", "resized"],
  });
  const outputs = (spare: number) => rig([pressure], { outputs: [{ spare }] });
  expect(compare(outputs(1), outputs(2)).artefacts.map(({ artefact, because }) => [artefact, ...because])).toEqual([
    ["connection", "resized"],
    ["code", "resized"],
    ["controllerDeclarations", "resized"],
    ["tables", "resized"],
    ["drawing", "resized"],
    ["checkSheet", "resized"],
  ]);
  expect(because([])).toMatchObject({ connection: ["resized"], controllerScaling: ["removed"] });
  expect(because([{ ...pressure, type: "int16" }])).toMatchObject({ controllerDeclarations: ["retyped"] });
  expect(because([{ ...pressure, byteOrder: "little" }])).toMatchObject({ controllerDeclarations: ["reordered"] });
  expect(because([{ ...pressure, scale: { ...scale, unit: "psi" } }])).toMatchObject({
    controllerScaling: ["rescaled"],
    drawing: ["rescaled"],
  });
});

test("names of the stations, totals and sizes", () => {
  const { station, sizes, totals } = compare(
    rig([pressure], {}, { name: "before" }),
    rig([pressure], { outputs: [{ spare: 2 }] }, { name: "after" }),
  );
  expect(station).toEqual({ old: "before", new: "after" });
  expect(sizes).toEqual({
    inputs: { old: 2, new: 2, toldBy: "nothing" },
    outputs: { old: 0, new: 2, toldBy: "length" },
  });
  expect(totals).toEqual({
    ...{
      unchanged: 1,
      moved: 0,
      retyped: 0,
      reordered: 0,
      rescaled: 0,
      renamed: 0,
      redescribed: 0,
      added: 0,
      removed: 0,
    },
  });
});

describe("what an old point gets, bit by bit", () => {
  const stale = (old: Entry[], now: Entry[]) => compare(rig(old), rig(now)).stale;
  const word = (name: string): Entry => ({ name, type: "uint16" });
  const byte = (name: string): Entry => ({ name, type: "uint8" });
  const nibbles = (...names: string[]): Entry[] => [
    { word: 8, fields: names.map((name, k) => ({ name, bits: 4, shift: 4 * k })) },
  ];

  test.each<[title: string, old: Entry[], now: Entry[], effect: string, unused: number, beyond: number]>([
    ["half a spare, half beyond the end", [word("a")], [{ spare: 1 }], "beyondEnd", 8, 8],
    ["half another point, half beyond the end", [word("a")], [byte("b")], "anotherPoint", 0, 8],
    ["half itself, half a spare", [word("a")], [byte("a"), { spare: 1 }], "nothing", 8, 0],
    ["half of a byte that nothing uses any more", nibbles("b", "a"), nibbles("b"), "nothing", 4, 0],
    [
      "renamed and rescaled",
      [pressure],
      [{ ...pressure, name: "P", scale: { ...scale, unit: "psi" } }],
      "sameBits",
      0,
      0,
    ],
    ["half itself, half another", [word("a")], [byte("a"), byte("b")], "anotherPoint", 0, 0],
  ])("%s", (_, old, now, effect, unused, beyond) => {
    expect(stale(old, now)).toMatchObject([{ effect, unused, beyond }]);
  });

  test("outputs are told after the inputs, with their direction", () => {
    const moved = (spare: Entry[]) => rig([...spare, word("i")], { outputs: [...spare, word("o")] });
    expect(compare(moved([]), moved([{ spare: 2 }])).stale.map(({ direction, name }) => [direction, name])).toEqual([
      ["inputs", "i"],
      ["outputs", "o"],
    ]);
  });
});

describe("of any two stations", () => {
  test("a station compared with itself is unchanged", () => {
    fc.assert(
      fc.property(stations(), (station) => {
        const { points, modules, artefacts, addresses, stale } = compare(assemble(station), assemble(station));
        expect(new Set([...points, ...modules].flatMap(({ changes }) => changes as readonly string[]))).toEqual(
          new Set(points.length + modules.length > 0 ? ["unchanged"] : []),
        );
        expect([artefacts, addresses, stale]).toEqual([[], [], []]);
      }),
      { numRuns: 50 },
    );
  });

  test("every point of either stands in the comparison once", () => {
    fc.assert(
      fc.property(stations(), stations(), (first, second) => {
        const [old, now] = [assemble(first), assemble(second)];
        const { points } = compare(old, now);
        const sides = (side: "old" | "new") =>
          points
            .flatMap((change: PointChange) => change[side] && `${change.direction} ${change[side].name}`)
            .filter(Boolean)
            .sort();
        const names = ({ inputs, outputs }: typeof old) =>
          [inputs, outputs]
            .flatMap(({ direction, points: all }) => all.map(({ name }) => `${direction} ${name}`))
            .sort();
        expect(sides("old")).toEqual(names(old));
        expect(sides("new")).toEqual(names(now));
      }),
      { numRuns: 50 },
    );
  });

  // What the old codec reads from a new image in which one point alone is set: exactly its overlaps may see it.
  test("an old point sees the bits of just the new points that it is said to overlap", () => {
    fc.assert(
      fc.property(stations(), stations(), (first, second) => {
        const [old, now] = [assemble(first), assemble(second)];
        const { stale } = compare(old, now);
        for (const direction of ["inputs", "outputs"] as const) {
          const zeros = decodeRaw(now[direction], new Uint8Array(now[direction].byteLength)) as Record<string, never>;
          const allSet = decodeRaw(now[direction], new Uint8Array(now[direction].byteLength).fill(0xff)) as Record<
            string,
            never
          >;
          for (const target of now[direction].points) {
            const image = encodeRaw(now[direction], { ...zeros, [target.name]: allSet[target.name]! });
            const seen = (bytes: Uint8Array) => {
              const cut = new Uint8Array(old[direction].byteLength);
              cut.set(bytes.subarray(0, cut.length));
              return decodeRaw(old[direction], cut) as Record<string, unknown>;
            };
            const [blank, set] = [seen(new Uint8Array(now[direction].byteLength)), seen(image)];
            for (const { name, overlaps } of stale.filter((point) => point.direction === direction))
              expect([name, target.name, !Object.is(blank[name], set[name])]).toEqual([
                name,
                target.name,
                overlaps.some((each) => each.name === target.name),
              ]);
          }
        }
      }),
      { numRuns: 25 },
    );
  });
});

test("11,520 bits that all moved by one are compared, each overlapping its neighbour", () => {
  const many = (first: readonly Entry[]) =>
    rig([...first, ...Array.from({ length: 11_519 }, (_, k): Entry => ({ name: `b${k}`, type: "bit" }))]);
  const { totals, stale } = compare(many([{ spareBits: 1 }]), many([{ name: "new", type: "bit" }]));
  expect(totals).toMatchObject({ unchanged: 11_519, added: 1 });
  expect(stale).toEqual([]);
  const shifted = compare(many([{ spareBits: 1 }]), many([{ spareBits: 2 }]));
  expect(shifted.totals.moved).toBe(11_519);
  expect(shifted.stale[1]!.overlaps).toEqual([{ name: "b0", bits: 1 }]);
});

test("the keg washer with one more valve: every other output moves on, and the sheet says which", () => {
  const [valves, ...rest] = kegStation.modules;
  const more = {
    ...kegStation,
    modules: [{ ...valves!, outputs: [{ name: "vent", type: "bit" }, ...valves!.outputs!] }, ...rest],
  } as Station;
  const { totals, stale, sizes } = compare(assemble(kegStation), assemble(more));
  expect(totals).toMatchObject({ moved: 8, added: 1, unchanged: 13 });
  expect(sizes.outputs.toldBy).toBe("nothing");
  expect(stale.find(({ name }) => name === "clampUp")!.overlaps).toEqual([{ name: "clampDown", bits: 1 }]);
});
