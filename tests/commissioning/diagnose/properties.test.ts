import { applyChange, diagnose, type Observation } from "@byterail/commissioning";
import { assemble, encode, type Module, type Station } from "byterail";
import { toHex } from "byterail/frames";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../../support/problems.js";
import { built, withModules, withPoint } from "./station.js";

// States of the station as built, in steps that its counts have.
const state = fc.record({
  doorClosed: fc.boolean(),
  kegPresent: fc.boolean(),
  clampClosed: fc.boolean(),
  supplyOk: fc.boolean(),
  supply: fc.integer({ min: 0, max: 100 }).map((n) => n / 10),
  caustic: fc.integer({ min: -200, max: 1500 }).map((n) => n / 10),
  kegs: fc.nat(65535),
  litres: fc.nat(0xffffffff),
  tank: fc.nat(4095).map((n) => (100 * n) / 4095),
  buffer: fc.nat(4095).map((n) => (200 * n) / 4095),
});

type State = typeof state extends fc.Arbitrary<infer T> ? T : never;

// What is seen on a station in these states; known are the points that its description has.
function seen(described: Station, states: readonly State[], truth = built): Observation[] {
  const names = described.modules.flatMap(({ inputs = [] }) =>
    inputs.flatMap((entry) => ("name" in entry ? entry.name : [])),
  );
  return states.map((each) => ({
    inputs: toHex(encode(assemble(truth).inputs, each as never)),
    known: Object.fromEntries(Object.entries(each).filter(([name]) => names.includes(name))),
  }));
}

const faults: Readonly<Record<string, Station>> = {
  byteOrder: { ...built, byteOrder: "little" },
  wordOrder: withPoint("counters", "litres", { wordOrder: "lowFirst" }),
  modulesExchanged: withModules(([a, b, c, d]) => [a!, c!, b!, d!]),
  moduleMissing: withModules(([a, b, , d]) => [a!, b!, d!]),
  moduleExtra: withModules(([a, ...rest]) => [a!, { name: "extra", inputs: [{ spareBits: 8 }] }, ...rest]),
  sign: withPoint("sensors", "caustic", { type: "uint16" }),
  bitOrder: withModules(([a, ...rest]) => [{ ...a!, bitOrder: "msbFirst" }, ...rest]),
};

test("a fault of the description is first or tied first, and every change that explains all makes all facts right", () => {
  const cases = fc
    .constantFrom(...Object.keys(faults))
    .chain((cause) => fc.tuple(fc.constant(cause), fc.array(state, { minLength: 1, maxLength: 3 })));
  fc.assert(
    fc.property(cases, ([cause, states]) => {
      const described = faults[cause]!;
      const observations = seen(described, states);
      const { verdict, explanations } = diagnose(described, observations);
      if (verdict === "noFault") return;
      const first = explanations.filter(({ rank }) => rank === 1);
      expect(first.map(({ parts }) => parts.map((part) => part.cause).join())).toContain(cause);
      for (const { change, unexplained, parts } of explanations) {
        if (
          !change ||
          unexplained.length > 0 ||
          parts.some(({ frame, cause: each }) => frame || each === "stuck" || each === "failureLevel")
        )
          continue;
        expect(diagnose(applyChange(described, change), observations).verdict).toBe("noFault");
      }
    }),
    { numRuns: 40 },
  );
});

describe("modules exchanged are found under every rule of placement", () => {
  const slots = withModules((modules) => modules.map((module, k) => ({ ...module, slot: 4 - k })));
  test.each<[string, Station]>([
    ["in the order of the list", built],
    ["in the order of slots, which is not that of the list", slots],
    ["words first", { ...built, placement: { inputs: { order: "wordsFirst" } } }],
    ["bits packed", { ...built, placement: { inputs: { packing: "bit" } } }],
    ["aligned", { ...built, placement: { inputs: { alignment: 4, lengthMultiple: 8 } } }],
  ])("%s", (_, truth) => {
    const [limits, sensors, counters, levels] = truth.modules as [Module, Module, Module, Module];
    const at = ({ slot }: Module) => (slot === undefined ? {} : { slot });
    const modules = [limits, { ...counters, ...at(sensors) }, { ...sensors, ...at(counters) }, levels];
    const described: Station = { ...truth, modules };
    fc.assert(
      fc.property(fc.array(state, { minLength: 2, maxLength: 2 }), (states) => {
        const { verdict, explanations } = diagnose(described, seen(described, states, truth));
        if (verdict === "noFault") return;
        const first = explanations.filter(({ rank }) => rank === 1).map(({ says }) => says);
        expect(first.join("\n")).toContain("Modules counters and sensors are exchanged");
      }),
      { numRuns: 10 },
    );
  });
});

test("facts that are right stay right under every explanation: explained and unexplained are the wrong ones", () => {
  const described = faults.modulesExchanged!;
  fc.assert(
    fc.property(fc.array(state, { minLength: 1, maxLength: 2 }), (states) => {
      const { facts, explanations } = diagnose(described, seen(described, states));
      const wrong = facts.flatMap(({ right }, k) => (right ? [] : [k]));
      for (const { explains, unexplained } of explanations)
        expect([...explains, ...unexplained].sort((a, b) => a - b)).toEqual(wrong);
    }),
    { numRuns: 20 },
  );
});

test("any bytes and any truth give an answer: never an exception, never more facts explained than are wrong", () => {
  const frames = fc.uint8Array({ maxLength: 24 });
  fc.assert(
    fc.property(frames, state, (bytes, truth) => {
      const { facts, explanations } = diagnose(built, [{ inputs: toHex(bytes), known: truth }]);
      const wrong = facts.filter(({ right }) => !right).length;
      for (const { explains } of explanations) expect(explains.length).toBeLessThanOrEqual(wrong);
    }),
    { numRuns: 12 },
  );
});

test.each([
  ["a straight line", { counts: [0, 2], value: [0, 15] }],
  [
    "a curve",
    {
      points: [
        [0, 0],
        [1, 10],
        [2, 15],
      ],
    },
  ],
] as const)(
  "a real of 64 bits with a scale, %s, is searched as any other number: 1.5 counts are not 7 m³/h",
  (_, scale) => {
    const flow = { name: "flow", type: "float64", scale } as const;
    const station: Station = { format: 1, name: "rig", byteOrder: "big", modules: [{ name: "m", inputs: [flow] }] };
    const { verdict, facts } = diagnose(station, [{ inputs: "3F F8 00 00 00 00 00 00", known: { flow: 7 } }]);
    expect(facts.map(({ read, right }) => [read, right])).toEqual([
      [8, true],
      ["points" in scale ? 12.5 : 11.25, false],
    ]);
    expect(verdict).toBe("unexplained");
  },
);

describe("hostile input", () => {
  const tries = (data: unknown) =>
    problemsOf(() => diagnose(built, data as readonly Observation[])).map(({ code, path }) => `${code} ${path}`);

  test("every problem is told at once, with its place", () => {
    expect(
      tries([
        null,
        { inputs: 5, known: {} },
        { inputs: "0", known: {} },
        { known: { kegs: 1 } },
        { inputs: "00", known: [] },
        { inputs: "00", knwon: {}, known: { kegz: 1, KEGS: 1 } },
        { inputs: "00", known: { kegs: "1", doorClosed: 1, supply: { value: 1, within: -1 }, caustic: { valeu: 1 } } },
      ]),
    ).toEqual([
      "observation.shape observations[0]",
      "hex.syntax observations[1].inputs",
      "hex.syntax observations[2].inputs",
      "observation.frame observations[3]",
      "known.direction observations[3].known.kegs",
      "observation.known observations[4].known",
      "observation.key observations[5].knwon",
      "known.unknown observations[5].known.kegz",
      "known.unknown observations[5].known.KEGS",
      "known.type observations[6].known.kegs",
      "known.type observations[6].known.doorClosed",
      "known.within observations[6].known.supply.within",
      "known.key observations[6].known.caustic.valeu",
      "known.type observations[6].known.caustic",
    ]);
  });

  test.each([
    ["no list", {}],
    ["nothing", undefined],
    ["an empty list", []],
    ["a text", "[]"],
  ])("%s", (_, data) => {
    expect(tries(data)).toEqual(["observations.list observations"]);
  });

  test("names of Object.prototype are no points, and change nothing", () => {
    const known: unknown = JSON.parse('{ "__proto__": { "polluted": true }, "constructor": 1, "toString": 2 }');
    expect(tries([{ inputs: "00", known }])).toEqual([
      "known.unknown observations[0].known.__proto__",
      "known.key observations[0].known.__proto__.polluted",
      "known.unknown observations[0].known.constructor",
      "known.unknown observations[0].known.toString",
    ]);
    expect("polluted" in {}).toBe(false);
  });

  test.each([
    ["NaN", Number.NaN],
    ["Infinity", Number.POSITIVE_INFINITY],
  ])("%s is nothing that can be known", (_, value) => {
    expect(tries([{ inputs: "00", known: { supply: value } }])).toEqual(["known.type observations[0].known.supply"]);
  });

  test.each([
    ["an empty frame", ""],
    ["a frame of 100,000 bytes", "A5".repeat(100_000)],
  ])("%s is evidence, no error", (_, inputs) => {
    const { facts, verdict } = diagnose(built, [{ inputs, known: { kegs: 300 } }]);
    expect(facts.every(({ right }) => !right)).toBe(true);
    expect(["tied", "explained", "partlyExplained", "unexplained"]).toContain(verdict);
  });

  test("a scale of one count only, and spares of thousands of bytes, are searched all the same", () => {
    const station: Station = {
      format: 1,
      name: "odd",
      byteOrder: "big",
      modules: [
        { name: "gap", inputs: [{ spare: 60_000 }] },
        { name: "m", inputs: [{ name: "p", type: "uint16", scale: { counts: [0, 1], value: [0, 1] } }] },
      ],
    };
    expect(diagnose(station, [{ inputs: "00 07", known: { p: 7 } }]).facts).toHaveLength(2);
  });
});
