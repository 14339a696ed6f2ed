// A station as built, and three frames of it with what was true. Bytes and values were worked out by hand: 6.2 bar of 0 to 10
// on 4000 to 20000 counts is 13920 = 3660h; 70.5 °C in tenths is 705 = 02C1h; −3.2 °C is FFE0h in two's complement.

import type { Observation } from "@byterail/commissioning";
import type { Module, Station } from "byterail";

const level = { counts: [0, 4095], unit: "%" } as const;

/** The station as built. */
export const built: Station = {
  format: 1,
  name: "washer",
  byteOrder: "big",
  modules: [
    {
      name: "limits",
      inputs: [
        { name: "doorClosed", type: "bit" },
        { name: "kegPresent", type: "bit" },
        { name: "clampClosed", type: "bit" },
        { name: "supplyOk", type: "bit" },
        { spareBits: 12 },
      ],
    },
    {
      name: "sensors",
      inputs: [
        {
          name: "supply",
          type: "uint16",
          scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
        },
        { name: "caustic", type: "int16", scale: { counts: [0, 1500], value: [0, 150], unit: "°C" } },
      ],
    },
    {
      name: "counters",
      inputs: [
        { name: "kegs", type: "uint16" },
        { name: "litres", type: "uint32" },
      ],
    },
    {
      name: "levels",
      inputs: [
        { name: "tank", type: "uint16", scale: { ...level, value: [0, 100] } },
        { name: "buffer", type: "uint16", scale: { ...level, value: [0, 200] } },
      ],
    },
  ],
};

// limits | supply caustic | kegs litres | tank buffer
const frames = [
  "05 00 | 36 60 02 C1 | 01 2C 00 01 11 70 | 04 00 08 00",
  "06 00 | 1F 40 FF E0 | 9C 40 B2 D0 5E 00 | 0B FF 04 00",
  "0B 00 | 48 80 00 D6 | 12 34 12 34 56 78 | 08 00 0E 66",
];

const truths = [
  [true, false, true, false, 6.2, 70.5, 300, 70_000, 25, 100],
  [false, true, true, false, 2.5, -3.2, 40_000, 3_000_000_000, 75, 50],
  [true, true, false, true, 9.1, 21.4, 4660, 305_419_896, 50, 180],
] as const;

/** What was seen on the station, with the bytes changed where the fault is in them; known are points of the description. */
export function seenOn(
  described: Station,
  change: (bytes: number[]) => readonly number[] = (bytes) => bytes,
): Observation[] {
  const names = described.modules.flatMap(({ inputs = [] }) =>
    inputs.flatMap((entry) => ("name" in entry ? entry.name : [])),
  );
  return frames.map((frame, k) => {
    const bytes = frame.match(/\w\w/g)!.map((pair) => Number.parseInt(pair, 16));
    const [doorClosed, kegPresent, clampClosed, supplyOk, supply, caustic, kegs, litres, tank, buffer] = truths[k]!;
    const all = {
      ...{ doorClosed, kegPresent, clampClosed, supplyOk, kegs, litres },
      supply: { value: supply, within: 0.02 },
      caustic: { value: caustic, within: 0.2 },
      tank: { value: tank, within: 0.05 },
      buffer: { value: buffer, within: 0.05 },
    };
    return {
      inputs: change(bytes)
        .map((byte) => byte.toString(16).padStart(2, "0"))
        .join(" "),
      known: Object.fromEntries(Object.entries(all).filter(([name]) => names.includes(name))),
    };
  });
}

/** The station with other modules. */
export function withModules(change: (modules: readonly Module[]) => readonly Module[]): Station {
  return { ...built, modules: change(built.modules) };
}

/** The station with other keys on one point of a module. */
export function withPoint(module: string, point: string, keys: object): Station {
  return withModules((modules) =>
    modules.map((each) =>
      each.name === module
        ? {
            ...each,
            inputs: each.inputs!.map((entry) =>
              "name" in entry && entry.name === point ? { ...entry, ...keys } : entry,
            ),
          }
        : each,
    ),
  );
}

/** The bytes with two of them, a word, written anew. */
export function withWord(bytes: readonly number[], at: number, change: (word: number) => number): number[] {
  const word = change(256 * bytes[at]! + bytes[at + 1]!);
  return bytes.map((byte, k) => (k === at ? word >> 8 : k === at + 1 ? word & 255 : byte));
}
