import { applyChange, type CauseName, diagnose, type Explanation } from "@byterail/commissioning";
import type { Module, Station } from "byterail";
import { describe, expect, test } from "vitest";
import { built, seenOn, withModules, withPoint, withWord } from "./station.js";

const first = (explanations: readonly Explanation[]) => explanations.filter(({ rank }) => rank === 1);
const causesOf = ({ parts }: Explanation) => parts.map(({ cause }) => cause);

test("a station described as it was built has no fault", () => {
  const { verdict, explanations, leading, nextObservation, says, facts } = diagnose(built, seenOn(built));
  expect({ verdict, explanations, leading, nextObservation }).toEqual({
    verdict: "noFault",
    explanations: [],
    leading: 0,
    nextObservation: null,
  });
  // Ten points and the length of the frame, three times.
  expect(facts).toHaveLength(33);
  expect(says).toBe("All 33 facts agree with the description: no fault is claimed.");
});

describe("a description that is wrong in one respect", () => {
  const [limits, sensors, counters, levels] = built.modules as readonly [Module, Module, Module, Module];
  const extra: Module = { name: "extra", inputs: [{ name: "speed", type: "int16" }] };
  test.each<[string, CauseName, Station, string]>([
    ["byte order of a point", "byteOrder", withPoint("counters", "kegs", { byteOrder: "little" }), "kegs"],
    [
      "byte order of a module",
      "byteOrder",
      withModules(() => [limits, sensors, { ...counters, byteOrder: "little" }, levels]),
      "Module counters",
    ],
    ["byte order of the station", "byteOrder", { ...built, byteOrder: "little" }, "The station"],
    ["word order", "wordOrder", withPoint("counters", "litres", { wordOrder: "lowFirst" }), "litres"],
    [
      "a header counted that is not there",
      "shift",
      withModules((modules) => [{ name: "header", inputs: [{ spare: 2 }] }, ...modules]),
      "2 bytes earlier",
    ],
    [
      "two modules exchanged",
      "modulesExchanged",
      withModules(() => [limits, counters, sensors, levels]),
      "counters and sensors",
    ],
    ["a module missing", "moduleMissing", withModules(() => [limits, sensors, levels]), "6 bytes of the inputs"],
    ["a module extra", "moduleExtra", withModules(() => [limits, sensors, extra, counters, levels]), "extra"],
    ["signed read as unsigned", "sign", withPoint("sensors", "caustic", { type: "uint16" }), "caustic"],
    ["unsigned read as signed", "sign", withPoint("counters", "kegs", { type: "int16" }), "kegs"],
    [
      "counts described left-justified that are not",
      "justification",
      withPoint("levels", "tank", { scale: { counts: [0, 65520], value: [0, 100], unit: "%" } }),
      "4 bits",
    ],
    [
      "another standard signal range",
      "signalRange",
      withPoint("sensors", "supply", {
        scale: { counts: [0, 20000], signal: [0, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
      }),
      "4-20 mA",
    ],
    [
      "another count format",
      "countFormat",
      withPoint("counters", "kegs", { type: "int16", code: "offsetBinary" }),
      "kegs",
    ],
    [
      "neighbouring channels exchanged",
      "channelsExchanged",
      withModules(() => [limits, sensors, counters, { ...levels, inputs: [levels.inputs![1]!, levels.inputs![0]!] }]),
      "buffer and tank",
    ],
    [
      "bits of a byte reversed",
      "bitOrder",
      withModules(() => [{ ...limits, bitOrder: "msbFirst" }, sensors, counters, levels]),
      "limits",
    ],
    [
      "another length configured",
      "length",
      { ...built, placement: { inputs: { length: 20 } } },
      "16 bytes long, not 20",
    ],
  ])("%s: is among the first, and every first answer makes all facts right", (_, cause, described, says) => {
    const observations = seenOn(described);
    const { explanations, verdict } = diagnose(described, observations);
    expect(["explained", "tied"]).toContain(verdict);
    const told = first(explanations).find(
      (each) => each.parts.length === 1 && causesOf(each)[0] === cause && each.says.includes(says),
    );
    expect(
      told,
      first(explanations)
        .map((each) => each.says)
        .join("\n"),
    ).toBeDefined();
    for (const { unexplained, change } of first(explanations)) {
      expect(unexplained).toEqual([]);
      if (change) expect(diagnose(applyChange(described, change), observations)).toMatchObject({ verdict: "noFault" });
    }
  });

  test("one that is told as another is equal to it: kegs as a signed number in offset binary are the station as built", () => {
    const described = withPoint("counters", "kegs", { type: "int16", code: "offsetBinary" });
    const { explanations } = diagnose(described, seenOn(described));
    expect(applyChange(described, explanations[0]!.change!)).toEqual(built);
  });
});

describe("a fault in the frames, of a station described as it was built", () => {
  const header = (bytes: readonly number[]) => [0xa5, 0x01, ...bytes];
  const pairs = (bytes: readonly number[]) => bytes.map((_, k) => bytes[k ^ 1]!);
  const left = (bytes: readonly number[]) => withWord(bytes, 12, (counts) => counts << 4);
  const offset = (bytes: readonly number[]) => withWord(bytes, 4, (counts) => counts ^ 0x8000);
  test.each<[string, CauseName, (bytes: readonly number[]) => readonly number[], string]>([
    ["a header that is not counted", "shift", header, "2 bytes later"],
    [
      "a header of 20 bytes, told by the length",
      "shift",
      (bytes) => [...Array(20).fill(0x77), ...bytes],
      "20 bytes later",
    ],
    ["register bytes exchanged", "registerBytes", pairs, "exchanged"],
    ["counts left-justified by 4 bits", "justification", left, "to the left by 4 bits"],
    ["offset binary in place of two's complement", "countFormat", offset, "offset binary"],
  ])("%s", (_, cause, change, says) => {
    const observations = seenOn(built, change);
    const { explanations } = diagnose(built, observations);
    const told = first(explanations).find((each) => causesOf(each).join() === cause);
    expect(told?.says).toContain(says);
    expect(told?.unexplained).toEqual([]);
    expect(diagnose(applyChange(built, told!.change!), observations).verdict).toBe("noFault");
  });
});

describe("a signal at fault, which no description makes right", () => {
  test.each<[string, CauseName, (bytes: readonly number[]) => readonly number[], string]>([
    [
      "stuck: equal in all frames while the truth changed",
      "stuck",
      (bytes) => withWord(bytes, 12, () => 0x0333),
      "tank is stuck",
    ],
    // NAMUR NE 43: 3.6 mA and less is a failure; 3500 counts are 3.5 mA.
    ["at a failure level", "failureLevel", (bytes) => withWord(bytes, 2, () => 3500), "failedLow"],
  ])("%s", (_, cause, change, says) => {
    const { explanations } = diagnose(built, seenOn(built, change));
    const told = first(explanations).find((each) => causesOf(each).join() === cause);
    expect(told?.says).toContain(says);
    expect(told).toMatchObject({ change: null, unexplained: [] });
  });

  test("a signal that stands still while its truth does is not stuck", () => {
    const [one] = seenOn(built);
    expect(diagnose(built, [one!, one!, one!]).verdict).toBe("noFault");
  });
});

describe("no more certain than the facts", () => {
  const described: Station = { ...built, byteOrder: "little" };
  const [whole] = seenOn(described);

  test("two answers that explain the same are a tie, whatever they assume", () => {
    const { verdict, explanations, leading, says } = diagnose(described, [{ ...whole!, known: { kegs: 300 } }]);
    expect(verdict).toBe("tied");
    expect(leading).toBeGreaterThan(1);
    expect(first(explanations)).toHaveLength(leading);
    expect(first(explanations).map((each) => each.says)).toEqual(
      expect.arrayContaining([
        "The station has its bytes in big-endian order, not little-endian.",
        "kegs has its bytes in big-endian order, not little-endian.",
      ]),
    );
    expect(says).toContain(`${leading} explanations account for it, and the facts do not tell them apart`);
  });

  test("what separates them is named, and knowing it does", () => {
    const { nextObservation } = diagnose(described, [{ ...whole!, known: { kegs: 300 } }]);
    expect(nextObservation?.observation).toBe(0);
    expect(nextObservation!.expected.length).toBeGreaterThan(1);
    const point = nextObservation!.point!;
    const truth = whole!.known[point]!;
    const before = diagnose(described, [{ ...whole!, known: { kegs: 300 } }]).leading;
    expect(diagnose(described, [{ ...whole!, known: { kegs: 300, [point]: truth } }]).leading).toBeLessThan(before);
  });

  test("with all that is known the byte order of the station is the only answer", () => {
    const { verdict, explanations } = diagnose(described, seenOn(described));
    expect(verdict).toBe("explained");
    expect(explanations[0]!.change).toEqual([{ op: "replace", path: "/byteOrder", value: "big" }]);
    expect(explanations[0]!.parts[0]!.where).toEqual({ direction: null, module: null, point: null });
  });

  test.each([0, 1, 2])("a list of at most %i answers is as uncertain as the whole", (limit) => {
    const { verdict, leading, explanations, more } = diagnose(described, [{ ...whole!, known: { kegs: 300 } }], {
      limit,
    });
    expect(verdict).toBe("tied");
    expect(explanations).toHaveLength(limit);
    expect(leading).toBeGreaterThan(2);
    expect(more).toBeGreaterThan(0);
  });

  test("where nothing explains the facts, it says so", () => {
    const station: Station = {
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ name: "kegs", type: "uint16" }] }],
    };
    const { verdict, explanations, says } = diagnose(station, [{ inputs: "12 35", known: { kegs: 77 } }]);
    expect([verdict, explanations]).toEqual(["unexplained", []]);
    expect(says).toBe(
      "1 of 2 facts is wrong as described; nothing that was tried explains it without making another fact wrong. Check the facts, and whether the frame belongs to this station.",
    );
  });

  test("what is left unexplained is told", () => {
    const described = withPoint("counters", "kegs", { byteOrder: "little" });
    const observations = seenOn(described).map((each) => ({ ...each, known: { ...each.known, litres: 77 } }));
    const { verdict, explanations, says } = diagnose(described, observations.slice(0, 1));
    expect(verdict).toBe("partlyExplained");
    expect(explanations[0]!.unexplained).toHaveLength(1);
    expect(says).toContain("a fact that is not true");
  });
});

test("two faults are found together, and neither alone does as well", () => {
  const { modules } = withPoint("sensors", "caustic", { type: "uint16" });
  const described: Station = { ...built, modules: [modules[0]!, modules[2]!, modules[1]!, modules[3]!] };
  const observations = seenOn(described);
  const { explanations } = diagnose(described, observations);
  expect(first(explanations).map((each) => causesOf(each).sort().join(" "))).toContain("modulesExchanged sign");
  expect(diagnose(applyChange(described, explanations[0]!.change!), observations).verdict).toBe("noFault");
});

test("outputs are looked at as inputs are", () => {
  const station = (order: "big" | "little"): Station => ({
    format: 1,
    name: "drive",
    byteOrder: "big",
    modules: [
      {
        name: "drive",
        outputs: [
          { name: "speed", type: "uint16", byteOrder: order },
          { name: "torque", type: "uint16" },
        ],
      },
    ],
  });
  const { explanations } = diagnose(station("little"), [
    { outputs: "05 DC 00 64", known: { speed: 1500, torque: 100 } },
  ]);
  expect(first(explanations).map(({ parts }) => parts[0]!.where)).toContainEqual({
    direction: "outputs",
    module: "drive",
    point: "speed",
  });
});
