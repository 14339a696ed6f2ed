// A value may come from a proxy, a store or a getter that counts: where all are accepted, each is asked for once.

import { assemble, encode, encodeByModule, encodeInto, patch } from "byterail";
import { toHex } from "byterail/frames";
import { describe, expect, test } from "vitest";

const { outputs } = assemble({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [
    {
      name: "m",
      outputs: [
        { name: "run", type: "bit" },
        { name: "lamp", type: "bit" },
        { name: "speed", type: "uint16", scale: { counts: [0, 1000], value: [0, 100] } },
        { name: "position", type: "int32" },
        { name: "gain", type: "float32" },
        { name: "total", type: "uint64" },
        { name: "digits", type: "uint8", code: "bcd" },
      ],
    },
  ],
});
const values = { run: true, lamp: false, speed: 50, position: -1, gain: 1, total: 7n, digits: 42 };
// 50 of 100 are 500 of 1000 counts = 01F4h; 1.0 is 3F800000h.
const image = "01 01 F4 FF FF FF FF 3F 80 00 00 00 00 00 00 00 00 00 07 42";
const names = Object.keys(values) as (keyof typeof values)[];

/** The values in this order, and how often each was asked for. */
function asked(order: readonly (keyof typeof values)[]) {
  const times: Record<string, number> = {};
  const given = {};
  for (const name of order) {
    times[name] = 0;
    Object.defineProperty(given, name, {
      enumerable: true,
      get: () => {
        times[name]!++;
        return values[name];
      },
    });
  }
  return { times, given: given as typeof values };
}

const once = Object.fromEntries(names.map((name) => [name, 1]));

describe("each value is asked for once", () => {
  test.each([
    ["in the order of the image", names],
    ["in the opposite order", [...names].reverse()],
    ["two exchanged", [names[1]!, names[0]!, ...names.slice(2)]],
    ["the last one first", [names.at(-1)!, ...names.slice(0, -1)]],
  ])("%s", (_, order) => {
    for (const encoded of [
      (given: typeof values) => encode(outputs, given),
      (given: typeof values) => encodeInto(outputs, new Uint8Array(20), given),
      (given: typeof values) => encodeByModule(outputs, { m: given }),
    ]) {
      const { given, times } = asked(order);
      expect(toHex(encoded(given))).toBe(image);
      expect(times).toEqual(once);
    }
  });

  test.each(names)("by patch of one: %s", (name) => {
    const { given, times } = asked([name]);
    const bytes = patch(outputs, new Uint8Array(20), given);
    expect(bytes).toEqual(patch(outputs, new Uint8Array(20), { [name]: values[name] }));
    expect(times).toEqual({ [name]: 1 });
  });

  test("by patch of several", () => {
    const { given, times } = asked(["total", "run"]);
    expect(toHex(patch(outputs, new Uint8Array(20), given))).toBe(
      "01 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 07 00",
    );
    expect(times).toEqual({ total: 1, run: 1 });
  });
});
