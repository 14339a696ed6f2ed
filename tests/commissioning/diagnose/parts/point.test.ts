import { assemble, type Entry, type NumberField, type NumberPoint, type Station } from "byterail";
import { describe, expect, test } from "vitest";
import { baseOf } from "../../../../packages/commissioning/src/diagnose/base.js";
import {
  canStand,
  otherwise,
  suspectNumbers,
  suspects,
} from "../../../../packages/commissioning/src/diagnose/point.js";
import { baseFor, changeOf, told } from "../trial.js";

const pressure: NumberPoint = { name: "pressure", type: "uint16", scale: { counts: [0, 1000], value: [0, 10] } };
const level: NumberField = { name: "level", bits: 12, shift: 0 };

// door and 7 spare bits | pressure | a word of level (bits 0 to 11) and pump (bit 15); outputs: valve
const station: Station = {
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    { name: "di", inputs: [{ name: "door", type: "bit" }, { spareBits: 7 }] },
    {
      name: "ai",
      inputs: [{ spare: 1 }, pressure, { word: 16, title: "pump", fields: [level, { name: "pump", bit: 15 }] }],
    },
    { name: "ao", outputs: [{ name: "valve", type: "int16" }] },
  ],
};

// door open, pressure 500 counts = 5, level 100, pump off, valve −1
const inputs = "00 | 00 01 F4 00 64";
const outputs = "FF FF";

describe("suspects are the points that have a wrong fact", () => {
  test("each with its key, its place and what is said of where it is, in the order of the facts", () => {
    const base = baseFor(station, [
      { inputs, known: { pump: true, level: 101, pressure: 4 } },
      { inputs, outputs, known: { door: true, valve: 7, pressure: 3 } },
    ]);
    const found = [...suspects(base)];
    expect(found.map(({ key, spot, where }) => ({ key, spot, where }))).toEqual([
      {
        key: "inputs pump",
        spot: { direction: "inputs", module: 1, entry: 2, field: 1 },
        where: { direction: "inputs", module: "ai", point: "pump" },
      },
      {
        key: "inputs level",
        spot: { direction: "inputs", module: 1, entry: 2, field: 0 },
        where: { direction: "inputs", module: "ai", point: "level" },
      },
      {
        key: "inputs pressure",
        spot: { direction: "inputs", module: 1, entry: 1, field: null },
        where: { direction: "inputs", module: "ai", point: "pressure" },
      },
      {
        key: "inputs door",
        spot: { direction: "inputs", module: 0, entry: 0, field: null },
        where: { direction: "inputs", module: "di", point: "door" },
      },
      {
        key: "outputs valve",
        spot: { direction: "outputs", module: 2, entry: 0, field: null },
        where: { direction: "outputs", module: "ao", point: "valve" },
      },
    ]);
    const points = [...base.layout.inputs.points, ...base.layout.outputs.points];
    expect(found.map(({ point }) => point)).toEqual(
      ["pump", "level", "pressure", "door", "valve"].map((name) => points.find((point) => point.name === name)),
    );
  });

  test("a point whose facts are right is none, nor is a frame of another length", () => {
    const known = { door: false, pressure: 5, level: 100, pump: false };
    expect([...suspects(baseFor(station, [{ inputs: `${inputs} 00`, known }]))]).toEqual([]);
  });

  test("what has left the image with its module is none, though its facts are wrong", () => {
    const { facts, frames } = baseFor(station, [{ inputs, known: { door: true, pressure: 4 } }]);
    const without = { ...station, modules: station.modules.slice(1) };
    const base = baseOf(without, { facts, frames, excused: new Set(), cut: {} });
    expect(base.wrong).toEqual(new Set(["inputs door", "inputs pressure"]));
    expect([...suspects(base)].map(({ key }) => key)).toEqual(["inputs pressure"]);
  });

  test("numbers alone come with their description; bits and flags are left out", () => {
    const known = { door: true, pump: true, level: 101, pressure: 4 };
    const base = baseFor(station, [{ inputs, known }]);
    const all = new Map([...suspects(base)].map((suspect) => [suspect.key, suspect]));
    expect([...suspectNumbers(base)]).toEqual([
      { ...all.get("inputs level"), number: level },
      { ...all.get("inputs pressure"), number: pressure },
    ]);
  });
});

describe("a number that is described otherwise", () => {
  const base = baseFor(station, [{ inputs, outputs, known: { level: 101, pressure: 4, valve: 65_535 } }]);
  const [ofLevel, ofPressure, ofValve] = [...suspectNumbers(base)];

  test("is said to be so at its place, with its entry in the change and in what is read", () => {
    const entry: NumberPoint = { ...pressure, scale: { counts: [0, 1250], value: [0, 10] } };
    const hypothesis = otherwise(base, ofPressure!, "signalRange", 3, "Another scale.", entry);
    expect(told(hypothesis)).toEqual({
      cause: "signalRange",
      at: "inputs ai pressure",
      says: "Another scale.",
      assumes: 3,
    });
    expect(hypothesis.effect).toEqual({
      points: new Map([["inputs pressure", { ...ofPressure!.point, description: entry }]]),
    });
    expect(changeOf(base, hypothesis)).toEqual([
      { op: "replace", path: "/modules/1/inputs/1/scale/counts", value: [0, 1250] },
    ]);
  });

  test("is read by another code, where the entry has one", () => {
    const entry: NumberPoint = { name: "valve", type: "uint16" };
    const hypothesis = otherwise(base, ofValve!, "sign", 2, "Unsigned.", entry, { code: "unsigned" });
    expect(hypothesis.effect).toEqual({
      points: new Map([["outputs valve", { ...ofValve!.point, code: "unsigned", description: entry }]]),
    });
    expect(changeOf(base, hypothesis)).toEqual([{ op: "replace", path: "/modules/2/outputs/0/type", value: "uint16" }]);
  });

  test("is changed alone in its packed word", () => {
    const moved = otherwise(base, ofLevel!, "justification", 3, "Moved.", { ...level, shift: 3 });
    expect(changeOf(base, moved)).toEqual([{ op: "replace", path: "/modules/1/inputs/2/fields/0/shift", value: 3 }]);
  });

  test.each<[string, "can" | "cannot", number, object]>([
    ["a field at the top of what is free", "can", 0, { shift: 3 }],
    ["a field on the bit of another", "cannot", 0, { shift: 4 }],
    ["a field beyond its word", "cannot", 0, { shift: 5 }],
    ["counts at the end of 16 bits", "can", 1, { scale: { counts: [0, 65_535], value: [0, 10] } }],
    ["counts beyond 16 bits", "cannot", 1, { scale: { counts: [0, 65_536], value: [0, 10] } }],
    ["counts that are no whole numbers", "cannot", 1, { scale: { counts: [0, 0.5], value: [0, 10] } }],
    ["a code with a type of the other sign", "cannot", 2, { code: "bcd" }],
    ["a code with its type", "can", 2, { type: "uint16", code: "bcd" }],
    ["a state on loss of an output", "can", 2, { onNetworkLoss: 0 }],
    ["a state on loss of an input", "cannot", 1, { onNetworkLoss: 0 }],
  ])("%s %s stand in a description", (_, stands, which, keys) => {
    const suspect = [ofLevel!, ofPressure!, ofValve!][which]!;
    const entry = { ...suspect.number, ...keys } as NumberPoint;
    const hypothesis = otherwise(base, suspect, "sign", 2, "Otherwise.", entry);
    expect(hypothesis.stands!()).toBe(stands === "can");
    // What can stand is what the whole station can be assembled with.
    const whole = () => assemble(hypothesis.station!());
    if (stands === "can") expect(whole).not.toThrow();
    else expect(whole).toThrow();
  });
});

test.each<[string, Entry, boolean]>([
  ["a number", pressure, true],
  ["a word with two fields", { word: 16, fields: [level, { name: "pump", bit: 15 }] }, true],
  ["a word whose fields overlap", { word: 16, fields: [level, { name: "pump", bit: 11 }] }, false],
  ["a word order in 16 bits", { ...pressure, wordOrder: "highFirst" }, false],
])("an entry is judged in itself: %s", (_, entry, stands) => {
  expect(canStand("inputs", entry)).toBe(stands);
  expect(canStand("outputs", entry)).toBe(stands);
});
