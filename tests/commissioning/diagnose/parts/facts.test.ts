import { assemble, type Station } from "byterail";
import { fromHex } from "byterail/frames";
import { describe, expect, test } from "vitest";
import { type Fact, factsOf, keyOf } from "../../../../packages/commissioning/src/diagnose/facts.js";
import { checkObservations } from "../../../../packages/commissioning/src/diagnose/observation.js";

const station: Station = {
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    {
      name: "rig",
      inputs: [
        { name: "door", type: "bit" },
        { name: "total", type: "uint64" },
      ],
      outputs: [{ name: "speed", type: "uint16" }],
    },
  ],
};

describe("the facts of observations", () => {
  test("are the length of each frame as it came, inputs first, then what is known in the order it was told", () => {
    const observations = checkObservations(assemble(station), [
      { outputs: "05 DC 00", inputs: "01", known: { speed: 1500, total: "300", door: true } },
    ]);
    expect(factsOf(observations)).toEqual<Fact[]>([
      { observation: 0, direction: "inputs", point: null, known: 1, within: 0 },
      { observation: 0, direction: "outputs", point: null, known: 3, within: 0 },
      { observation: 0, direction: "outputs", point: "speed", known: 1500, within: 0 },
      { observation: 0, direction: "inputs", point: "total", known: 300n, within: 0 },
      { observation: 0, direction: "inputs", point: "door", known: true, within: 0 },
    ]);
  });

  test("tell their observation; a frame that was not captured has no length", () => {
    const observations = checkObservations(assemble(station), [
      { inputs: "00 00 00 00 00 00 00 00 07", known: {} },
      { outputs: "05 DC", known: { speed: { value: 1490, within: 20 } } },
    ]);
    expect(factsOf(observations)).toEqual<Fact[]>([
      { observation: 0, direction: "inputs", point: null, known: 9, within: 0 },
      { observation: 1, direction: "outputs", point: null, known: 2, within: 0 },
      { observation: 1, direction: "outputs", point: "speed", known: 1490, within: 20 },
    ]);
  });

  test("a frame without a byte has a length all the same", () => {
    expect(factsOf([{ frames: { inputs: fromHex("") }, known: [] }])).toEqual([
      { observation: 0, direction: "inputs", point: null, known: 0, within: 0 },
    ]);
  });

  test("no observations, no facts", () => {
    expect(factsOf([])).toEqual([]);
  });
});

test("a key tells direction and name: a command and its feedback may share a name", () => {
  expect([keyOf("inputs", "valve"), keyOf("outputs", "valve")]).toEqual(["inputs valve", "outputs valve"]);
});
