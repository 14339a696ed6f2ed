import type { Observation } from "@byterail/commissioning";
import type { Module, Placement, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { bytes, shift, unusedName } from "../../../../packages/commissioning/src/diagnose/causes/shift.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, said, told } from "../trial.js";

// Three bytes of inputs: tank in 0 and 1, water in 2.
const level: Module = { name: "level", inputs: [{ name: "tank", type: "uint16" }] };
const flow: Module = { name: "flow", inputs: [{ name: "water", type: "uint8" }] };
const head = (spare: number): Module => ({ name: "head", inputs: [{ spare }] });

const stationOf = (modules: readonly Module[], inputs?: Placement): Station => ({
  ...{ format: 1, name: "rig", byteOrder: "big", modules },
  ...(inputs && { placement: { inputs } }),
});
const ofLength = (length: number, known: Observation["known"] = {}) => [{ inputs: "00".repeat(length), known }];

// What is said of n bytes, in the words of the answers.
const many = (n: number) => (n === 1 ? "1 byte" : `${n} bytes`);
const later = (n: number) =>
  `The inputs begin ${many(n)} later than described: a header stands before them, or a module that the description misses.`;
const cut = (n: number) =>
  `${later(n)} The frame has the length described all the same, so its end was cut off: read ${many(n)} more.`;
const headed = (n: number) =>
  `The frame of the inputs starts with a header of ${many(n)} that is no part of the image: leave it out.`;
const earlier = (n: number) =>
  `The inputs begin ${many(n)} earlier than described: what the description puts first is not in the frame.`;
const filled = (n: number) =>
  `${earlier(n)} The frame has the length described all the same: more bytes follow at its end.`;
const lacks = (n: number) =>
  `The frame of the inputs lacks the first ${many(n)} of the image: it was captured or copied without them.`;
const few = [1, 2, 3, 4, 5, 6, 7, 8];
const lacksAllBut = (...told: readonly number[]) => few.filter((n) => !told.includes(n)).map(lacks);

const saidOf = (modules: readonly Module[], length: number, inputs?: Placement) =>
  said(shift, baseFor(stationOf(modules, inputs), ofLength(length, { tank: 1 })));
const laterOf = (...given: Parameters<typeof saidOf>) => saidOf(...given).filter((says) => !/earlier|lacks/.test(says));
const earlierOf = (...given: Parameters<typeof saidOf>) => saidOf(...given).filter((says) => /earlier/.test(says));

/** The first hypothesis of a base that says so. */
const one = (base: ReturnType<typeof baseFor>, says: string) => {
  const found = [...shift(base)].find((each) => each.says === says);
  expect(found?.says).toBe(says);
  return found!;
};

describe("everything that is said, in order", () => {
  test("the frame is longer than described: it begins later, earlier, or lacks its first bytes", () => {
    // Without tank, water comes 2 bytes earlier.
    expect(saidOf([level, flow], 5)).toEqual([...few.map(later), earlier(2), ...lacksAllBut(2)]);
  });

  test("the frame is as long as described: it may be cut, or filled", () => {
    expect(saidOf([level, flow], 3)).toEqual([
      ...few.flatMap((n) => [later(n), cut(n)]),
      earlier(2),
      filled(2),
      ...lacksAllBut(2),
    ]);
  });

  test("the frame is as long as described, and with fewer bytes it would be so, too: it is not filled", () => {
    expect(earlierOf([level, flow], 4, { lengthMultiple: 4 })).toEqual([earlier(2)]);
    expect(earlierOf([level, flow], 6, { length: 6 })).toEqual([earlier(2)]);
  });

  test("what each means, and how much it assumes", () => {
    const base = baseFor(stationOf([level, flow], { lengthMultiple: 2 }), ofLength(4, { tank: 1 }));
    const says = [later(1), later(2), headed(1), cut(2), earlier(2), filled(2), lacks(3)];
    const rows = says.map((each) => {
      const hypothesis = one(base, each);
      return { ...told(hypothesis), change: changeOf(base, hypothesis), frame: hypothesis.effect.frame };
    });
    const row = (says: string, assumes: number, change: unknown, frame?: unknown) => ({
      ...{ cause: "shift", at: "inputs - -", says, assumes, change, frame },
    });
    const header = (spare: number) => [
      { op: "add", path: "/modules/0", value: { name: "header", inputs: [{ spare }] } },
    ];
    const emptied = { op: "remove", path: "/modules/0/inputs/0" };
    const edit = (does: string, bytes: number) => ({ direction: "inputs", does, bytes });
    expect(rows).toEqual([
      row(later(1), 2.01, header(1)),
      row(later(2), 2.02, header(2)),
      row(headed(1), 2.01, null, edit("startsWithHeader", 1)),
      row(cut(2), 2.52, header(2)),
      row(earlier(2), 2.02, [emptied]),
      row(filled(2), 2.52, [emptied, { op: "add", path: "/placement/inputs/length", value: 4 }]),
      row(lacks(3), 3.03, null, edit("lacksFirstBytes", 3)),
    ]);
  });

  test("of the outputs as of the inputs", () => {
    const base = baseFor(stationOf([{ name: "drive", outputs: [{ name: "setpoint", type: "uint16" }] }, level]), [
      { inputs: "00 01", outputs: "00 00 00", known: { tank: 1 } },
    ]);
    const ofOutputs = (says: string) => says.replace("inputs", "outputs");
    expect(said(shift, base)).toEqual([...few.map(later), earlier(2), ...lacksAllBut(2)].map(ofOutputs));
    expect(changeOf(base, one(base, ofOutputs(later(1))))).toEqual([
      { op: "add", path: "/modules/0", value: { name: "header", outputs: [{ spare: 1 }] } },
    ]);
    expect([...shift(base)].map((each) => told(each).at)).toEqual(Array.from({ length: 16 }, () => "outputs - -"));
    expectQuickIsFull(shift, base);
  });

  test("of a direction in which nothing is described: nothing can be taken out", () => {
    const base = baseFor(stationOf([{ name: "drive", outputs: [{ name: "setpoint", type: "uint16" }] }]), ofLength(2));
    expect(said(shift, base)).toEqual([...few.map(later), ...few.map(lacks)]);
  });
});

describe("nothing is said", () => {
  test.each<[string, readonly Observation[]]>([
    ["where every fact is right", [{ inputs: "00 01 02", known: { tank: 1, water: 2 } }]],
    [
      "where the frames differ in length among themselves",
      [
        { inputs: "00 01", known: {} },
        { inputs: "00 01 02 03", known: {} },
      ],
    ],
  ])("%s", (_, observations) => {
    expect(said(shift, baseFor(stationOf([level, flow]), observations))).toEqual([]);
  });
});

describe("by how many bytes", () => {
  const about = [12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23];

  test("a few, or about as many as the frame is longer", () => {
    expect(laterOf([level, flow], 23)).toEqual([...few, ...about].map(later));
  });

  test("a few are lacking, or about as many as the frame is shorter", () => {
    const long: Module = { name: "long", inputs: [{ name: "tank", type: "uint16" }], inputBytes: 22 };
    const says = saidOf([long], 2);
    expect(says.filter((each) => each.includes("lacks"))).toEqual([...few, ...about].map(lacks));
    expect(says.filter((each) => each.includes("later"))).toEqual(few.map(later));
  });

  test("spare bytes are shortened by about as many as the frame is shorter", () => {
    expect(earlierOf([head(21), level], 3)).toEqual([...few, ...about.filter((n) => n <= 20), 21].map(earlier));
  });
});

describe("which facts come right", () => {
  const judged = (station: Station, observation: Observation) => {
    const base = baseFor(station, [observation]);
    expectQuickIsFull(shift, base);
    return [...shift(base)].flatMap(({ says, effect }) => {
      const judgement = judge(base, effect);
      return judgement ? [[says, judgement.fixes, judgement.breaks]] : [];
    });
  };
  // Facts: the length, tank, water.
  const known = { tank: 0x1007, water: 0x99 };

  test("a header of two bytes that is not counted", () => {
    expect(judged(stationOf([level, flow]), { inputs: "A5 01 10 07 99", known })).toEqual([[later(2), [0, 1, 2], []]]);
  });

  test("the same, of a frame that was cut at its end", () => {
    expect(judged(stationOf([level, flow]), { inputs: "A5 10 07", known: { tank: 0x1007 } })).toEqual([
      [later(1), [1], [0]],
      [cut(1), [1], []],
    ]);
  });

  test("the same, with the padding that the image has without it", () => {
    // 3 bytes padded to 4; with a header of 2 in the description it would be 6, of the frame 2 + 4.
    expect(judged(stationOf([level, flow], { lengthMultiple: 4 }), { inputs: "A5 01 10 07 99 00", known })).toEqual([
      [later(2), [1, 2], []],
      [headed(2), [0, 1, 2], []],
    ]);
  });

  test("a header that is not counted, before pinned modules and such as do not tell their slot", () => {
    const modules = [
      { ...level, inputOffset: 1 },
      { ...flow, slot: 4 },
    ];
    expect(judged(stationOf(modules), { inputs: "A5 01 00 10 07 99", known })).toEqual([[later(2), [0, 1, 2], []]]);
  });

  test("a header that is counted and is not there", () => {
    expect(judged(stationOf([head(2), level, flow]), { inputs: "10 07 99", known })).toEqual([
      [earlier(2), [0, 1, 2], []],
    ]);
  });

  test("the same, with other bytes at the end of the frame", () => {
    expect(judged(stationOf([head(1), level, flow]), { inputs: "10 07 99 00", known })).toEqual([
      [earlier(1), [1, 2], [0]],
      [filled(1), [1, 2], []],
    ]);
  });
});

describe("a header in the description", () => {
  const change = (modules: readonly Module[], says: string, placement?: Placement) => {
    const base = baseFor(stationOf(modules, placement), ofLength(9, { tank: 1 }));
    return changeOf(base, one(base, says));
  };

  test("moves pinned modules by as much", () => {
    expect(change([{ ...level, inputOffset: 4 }, flow, { name: "idle", outputOffset: 1 }], later(2))).toEqual([
      { op: "add", path: "/modules/0", value: { name: "header", inputs: [{ spare: 2 }] } },
      { op: "replace", path: "/modules/1/inputOffset", value: 6 },
    ]);
  });

  test("takes the lowest slot where modules tell theirs, and stands first in it", () => {
    expect(
      change(
        [
          { ...level, slot: 5 },
          { ...flow, slot: 3 },
        ],
        later(2),
      ),
    ).toEqual([{ op: "add", path: "/modules/0", value: { name: "header", slot: 3, inputs: [{ spare: 2 }] } }]);
  });

  test("lets a module that does not tell its slot keep it: its index before", () => {
    expect(change([{ ...level, slot: 5 }, flow], later(2))).toEqual([
      { op: "add", path: "/modules/0", value: { name: "header", slot: 1, inputs: [{ spare: 2 }] } },
      { op: "add", path: "/modules/2/slot", value: 1 },
    ]);
  });

  test("has a name of its own", () => {
    expect(change([{ ...level, name: "Header" }, flow], later(1))).toEqual([
      { op: "add", path: "/modules/0", value: { name: "header2", inputs: [{ spare: 1 }] } },
    ]);
    const { modules } = stationOf([level, { ...flow, name: "LEVEL2" }]);
    const named = (name: string) => unusedName(stationOf(modules), name);
    expect(["flow", "level", "Level"].map(named)).toEqual(["flow", "level3", "Level3"]);
  });
});

describe("where a description cannot say it, or would have other padding, the frame starts with a header", () => {
  const some = (ns: readonly number[], say: (n: number) => string) => ns.map(say);
  const [level0, flow2] = [
    { ...level, inputOffset: 0 },
    { ...flow, inputOffset: 2 },
  ];
  const drive: Module = { name: "drive", outputs: [{ name: "setpoint", type: "uint16" }] };
  const door: Module = { name: "door", inputs: [{ name: "closed", type: "bit" }] };
  const mixed = few.map((n) => (n % 2 ? headed(n) : later(n)));

  // 3 bytes and the header, padded to a multiple of 4. The frame has 4, as described: without more padding nothing was cut.
  test("a multiple", () => {
    expect(laterOf([level, flow], 4, { lengthMultiple: 4 })).toEqual([
      ...[later(1), headed(1)],
      ...[2, 3].flatMap((n) => [later(n), headed(n), cut(n)]),
      ...[later(4), cut(4)],
      ...[5, 6, 7].flatMap((n) => [later(n), headed(n), cut(n)]),
      ...[later(8), cut(8)],
    ]);
  });

  test("a configured length, in which there is room for 3 bytes more", () => {
    expect(laterOf([level, flow], 6, { length: 6 })).toEqual([
      ...[1, 2, 3].flatMap((n) => [later(n), headed(n)]),
      ...some([4, 5, 6, 7, 8], headed),
    ]);
  });

  test.each<[string, readonly Module[], Placement, readonly string[]]>([
    ["an alignment of 2: an odd header", [level, flow], { alignment: 2 }, mixed],
    ["the same, where only one module is pinned", [level, { ...flow, inputOffset: 8 }], { alignment: 2 }, mixed],
    ["the same, bits packed", [level, door], { alignment: 2, packing: "bit" }, mixed],
    ["none, where all are pinned", [level0, flow2], { alignment: 2 }, some(few, later)],
    ["none, where those are pinned that have inputs", [level0, drive, flow2], { alignment: 2 }, some(few, later)],
    ["none, words before bits", [door, level], { order: "wordsFirst" }, some(few, later)],
    [
      "none, bits packed",
      [door, { ...door, name: "gate", inputs: [{ name: "open", type: "bit" }] }, level],
      { packing: "bit" },
      some(few, later),
    ],
    ["none, where a module of which nothing is known is pinned", [level, flow2], {}, some(few, later)],
  ])("%s", (_, modules, placement, says) => {
    expect(laterOf(modules, 5, placement)).toEqual(says);
  });
});

describe("what the description puts first and is not there", () => {
  const changes = (modules: readonly Module[], placement?: Placement, known: Observation["known"] = { tank: 1 }) => {
    const base = baseFor(stationOf(modules, placement), ofLength(9, known));
    return [...shift(base)].flatMap((each) =>
      each.says.includes("earlier") ? [[Number(/\d+/.exec(each.says)![0]), changeOf(base, each)]] : [],
    );
  };
  const remove = (path: string) => ({ op: "remove", path });
  const replace = (path: string, value: unknown) => ({ op: "replace", path, value });

  test("spare bytes are shortened, then the header is taken out as a module", () => {
    expect(changes([head(3), level])).toEqual([
      [1, [replace("/modules/0/inputs/0/spare", 2)]],
      [2, [replace("/modules/0/inputs/0/spare", 1)]],
      [3, [remove("/modules/0")]],
    ]);
  });

  test("of a module that holds more, entries are taken out", () => {
    const more: Module = { name: "more", inputs: [{ spare: 2 }, { name: "oil", type: "uint8" }] };
    expect(changes([more, level])).toEqual([
      [1, [replace("/modules/0/inputs/0/spare", 1)]],
      [2, [remove("/modules/0/inputs/0")]],
      [3, [remove("/modules/0/inputs/0"), remove("/modules/0/inputs/0")]],
    ]);
  });

  test("a header that has outputs stays for them", () => {
    const both: Module = { ...head(1), outputs: [{ spare: 1 }] };
    expect(changes([both, level])).toEqual([[1, [remove("/modules/0/inputs/0")]]]);
  });

  test("a module that does not tell its slot keeps it when the header is taken out", () => {
    expect(changes([{ ...head(1), slot: 0 }, level, { ...flow, slot: 9 }])).toEqual([
      [1, [remove("/modules/0"), { op: "add", path: "/modules/0/slot", value: 1 }]],
    ]);
  });

  test("first is what stands first in the image, not in the list", () => {
    const door: Module = { name: "door", inputs: [{ name: "closed", type: "bit" }, { spareBits: 7 }] };
    expect(changes([door, level], { order: "wordsFirst" })).toEqual([[2, [remove("/modules/1/inputs/0")]]]);
    expect(
      changes([
        { ...flow, slot: 1 },
        { ...level, slot: 0 },
      ]),
    ).toEqual([[2, [remove("/modules/1/inputs/0")]]]);
  });

  test("bits go by whole bytes", () => {
    // 20 bits take 3 bytes. Without 4 of them they would take 2, yet all others would stand at other bits.
    const inputs = [{ spareBits: 4 }, { spareBits: 4 }, { name: "run", type: "bit" }, { spareBits: 11 }] as const;
    expect(changes([{ name: "status", inputs }, level])).toEqual([
      [1, [remove("/modules/0/inputs/0"), remove("/modules/0/inputs/0")]],
      [3, [0, 1, 2, 3].map(() => remove("/modules/0/inputs/0"))],
    ]);
  });

  test("nothing, where a module reserves its bytes", () => {
    expect(changes([{ ...level, inputBytes: 2 }, flow])).toEqual([]);
    expect(changes([{ name: "reserve", inputBytes: 2 }, level])).toEqual([]);
  });

  test("nothing, where what comes after is pinned", () => {
    expect(changes([level, { ...flow, inputOffset: 2 }])).toEqual([]);
  });

  test("nothing, where bits of different order would then share a byte", () => {
    const bits = (name: string): Module => ({ name, inputs: [{ name: `${name}On`, type: "bit" }] });
    const first = { ...bits("first"), inputs: [{ spare: 1 }, ...bits("first").inputs!] };
    // The first module is of bits only without its spare byte, and packed; the second then shares a byte with it.
    expect(changes([first, { ...bits("second"), bitOrder: "msbFirst" }, level], { packing: "bit" })).toEqual([
      [2, [remove("/modules/0/inputs/0"), remove("/modules/0/inputs/0")]],
    ]);
  });

  test("all of an image of one module, whatever pads it", () => {
    const only: Module = { name: "only", inputs: [{ spare: 2 }, { name: "tank", type: "uint16" }] };
    const all = [
      [1, [replace("/modules/0/inputs/0/spare", 1)]],
      [2, [remove("/modules/0/inputs/0")]],
      [4, [remove("/modules/0/inputs/0"), remove("/modules/0/inputs/0")]],
    ];
    expect(changes([only])).toEqual(all);
    expect(changes([only], { lengthMultiple: 8 })).toEqual(all);
    expect(changes([only], { length: 6 })).toEqual(all);
    expect(changes([head(1)], { lengthMultiple: 2 }, {})).toEqual([[1, [remove("/modules/0")]]]);
  });

  test("bytes before the first that is pinned; more than there are cannot go", () => {
    // Without tank, water comes to the very front.
    expect(changes([{ ...level, inputOffset: 3 }, flow])).toEqual([
      [5, [remove("/modules/0/inputs/0")]],
      ...[1, 2, 3].map((n) => [n, [replace("/modules/0/inputOffset", 3 - n)]]),
    ]);
  });

  test("bytes before the lowest that is pinned, whatever pads the end; a pin of nothing stays in the image", () => {
    const idle: Module = { name: "idle", outputs: [{ name: "open", type: "bit" }], inputOffset: 1 };
    const modules = [{ ...level, inputOffset: 6 }, idle, { ...flow, inputOffset: 2 }];
    const by = (n: number) => [
      n,
      [
        replace("/modules/0/inputOffset", 6 - n),
        replace("/modules/1/inputOffset", 0),
        replace("/modules/2/inputOffset", 2 - n),
      ],
    ];
    expect(changes(modules)).toEqual([by(1), by(2)]);
    expect(changes(modules, { lengthMultiple: 8 })).toEqual([by(1), by(2)]);
  });

  test("outputs that exclude each other stay; inputs of their names need not", () => {
    const pair = ["open", "close"].map((name) => ({ name, type: "bit" }) as const);
    const valves: Module = {
      name: "valves",
      inputs: pair,
      outputs: [{ spare: 1 }, ...pair],
      exclusive: [["open", "close"]],
    };
    const drive: Module = { name: "drive", inputs: level.inputs!, outputs: [{ name: "setpoint", type: "uint16" }] };
    const base = baseFor(stationOf([valves, drive]), [{ inputs: "00".repeat(9), outputs: "00".repeat(9), known: {} }]);
    const found = [...shift(base)].filter(({ says }) => says.includes("earlier"));
    expect(found.map((each) => [told(each).at, changeOf(base, each)])).toEqual([
      ["inputs - -", [remove("/modules/0/inputs/0"), remove("/modules/0/inputs/0")]],
      ["outputs - -", [remove("/modules/0/outputs/0")]],
    ]);
  });
});

test("bytes in words", () => {
  expect([0, 1, 2].map(bytes)).toEqual(["0 bytes", "1 byte", "2 bytes"]);
});
