import type { Station } from "byterail";
import { describe, expect, test } from "vitest";
import type { Spot } from "../../../../packages/commissioning/src/diagnose/base.js";
import {
  withEntry,
  withItem,
  withModule,
  withPlacement,
  withSlots,
  wordAt,
} from "../../../../packages/commissioning/src/diagnose/edit.js";

const status = {
  word: 16,
  fields: [
    { name: "running", bit: 0 },
    { name: "fault", bit: 1 },
  ],
} as const;
const drive = {
  name: "drive",
  inputs: [status, { name: "speed", type: "uint16" }],
  outputs: [{ name: "setpoint", type: "uint16" }],
} as const;
const limits = { name: "limits", inputs: [{ name: "closed", type: "bit" }] } as const;
const station: Station = { format: 1, name: "rig", byteOrder: "big", modules: [limits, drive] };

const closed: Spot = { direction: "inputs", module: 0, entry: 0, field: null };
const fault: Spot = { direction: "inputs", module: 1, entry: 0, field: 1 };
const speed: Spot = { direction: "inputs", module: 1, entry: 1, field: null };
const setpoint: Spot = { direction: "outputs", module: 1, entry: 0, field: null };

test("a field is in its packed word, an entry in none", () => {
  expect(wordAt(station, fault)).toBe(status);
  expect(wordAt(station, speed)).toBeNull();
});

describe("an edit changes one thing and shares the rest with the original", () => {
  test("an entry of a module", () => {
    const changed = { name: "speed", type: "int16" } as const;
    const after = withEntry(station, speed, changed);
    expect(after).toEqual({ ...station, modules: [limits, { ...drive, inputs: [status, changed] }] });
    expect(after.modules[0]).toBe(limits);
    expect(after.modules[1]!.inputs![0]).toBe(status);
    expect(after.modules[1]!.outputs).toBe(drive.outputs);
  });

  test("an entry of the outputs", () => {
    const changed = { name: "setpoint", type: "int16" } as const;
    const after = withEntry(station, setpoint, changed);
    expect(after).toEqual({ ...station, modules: [limits, { ...drive, outputs: [changed] }] });
    expect(after.modules[1]!.inputs).toBe(drive.inputs);
  });

  test("a field of a packed word", () => {
    const after = withEntry(station, fault, { name: "fault", bit: 7 });
    expect(after.modules[1]!.inputs).toEqual([
      {
        word: 16,
        fields: [
          { name: "running", bit: 0 },
          { name: "fault", bit: 7 },
        ],
      },
      drive.inputs[1],
    ]);
    expect(after.modules[1]!.inputs![1]).toBe(drive.inputs[1]);
  });

  test("a packed word as a whole, told by one of its fields", () => {
    const turned = { ...status, byteOrder: "little" } as const;
    expect(withItem(station, fault, turned).modules).toEqual([limits, { ...drive, inputs: [turned, drive.inputs[1]] }]);
  });

  test("a module", () => {
    const other = { name: "gates" };
    const after = withModule(station, 0, other);
    expect(after).toEqual({ ...station, modules: [other, drive] });
    expect(after.modules[1]).toBe(drive);
  });

  test("rules of placement, beside those that there are", () => {
    const ruled: Station = {
      ...station,
      placement: { inputs: { alignment: 2, length: 8 }, outputs: { alignment: 4 } },
    };
    expect(withPlacement(ruled, "inputs", { length: 12 }).placement).toEqual({
      inputs: { alignment: 2, length: 12 },
      outputs: { alignment: 4 },
    });
    expect(withPlacement(ruled, "inputs", {}).placement!.outputs).toBe(ruled.placement!.outputs);
    expect(withPlacement(station, "outputs", { length: 12 })).toEqual({
      ...station,
      placement: { outputs: { length: 12 } },
    });
    expect(station.placement).toBeUndefined();
  });

  test("the station given stays as it is", () => {
    const before = structuredClone(station);
    withEntry(station, closed, { name: "closed", type: "uint8" });
    withModule(station, 1, limits);
    expect(station).toEqual(before);
  });
});

describe("slots, so that modules can be moved in the list", () => {
  const named = (slots: readonly (number | undefined)[]): Station => ({
    ...station,
    modules: slots.map((slot, k) => ({ name: `m${k}`, ...(slot !== undefined && { slot }) })),
  });

  test("where no module tells its slot, none needs to", () => {
    const plain = named([undefined, undefined]);
    expect(withSlots(plain)).toBe(plain);
  });

  test("where any does, the others are told theirs: their index in the list", () => {
    expect(withSlots(named([undefined, 7, undefined])).modules).toEqual([
      { name: "m0", slot: 0 },
      { name: "m1", slot: 7 },
      { name: "m2", slot: 2 },
    ]);
  });

  test("a module that tells its slot stays the same object; slot 0 is a slot", () => {
    const mixed = named([0, undefined]);
    const after = withSlots(mixed);
    expect(after.modules[0]).toBe(mixed.modules[0]);
    expect(after.modules[1]).toEqual({ name: "m1", slot: 1 });
  });
});
