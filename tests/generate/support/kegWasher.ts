// The station that the tests of tables and drawings look at: every kind of thing that can stand in an image.

import { assemble, type Layout, type Station } from "byterail";

export const kegWasher: Station = {
  format: 1,
  name: "kegWasher",
  title: "Keg washer, skid 2",
  byteOrder: "little",
  placement: { inputs: { lengthMultiple: 2, packing: "bit" }, outputs: { lengthMultiple: 4 } },
  modules: [
    {
      name: "stops",
      title: "Limit switches",
      inputs: [
        { name: "clampOpen", type: "bit", title: "Clamp is open" },
        { name: "clampShut", type: "bit" },
        { spareBits: 2 },
      ],
    },
    {
      name: "sensors",
      inputs: [
        { name: "causticTemp", type: "int16", scale: { counts: [-500, 1500], value: [-50, 150], unit: "°C" } },
        {
          name: "supply",
          title: "Supply pressure",
          type: "uint16",
          byteOrder: "big",
          scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
        },
        { spare: 6 },
        { name: "flow", type: "float32", unit: "L/min" },
        { name: "total", type: "uint64", unit: "L" },
      ],
    },
    {
      name: "level",
      inputs: [
        {
          word: 16,
          fields: [
            { name: "tank", bits: 12, shift: 4, scale: { counts: [0, 4095], value: [0, 100], unit: "%" } },
            { name: "tankFault", bit: 0 },
            { name: "mode", bits: 2, shift: 1 },
          ],
        },
      ],
    },
    {
      name: "valves",
      outputs: [
        { name: "rinse", type: "bit" },
        { name: "steam", type: "bit" },
      ],
      outputBytes: 3,
    },
    {
      name: "drive",
      outputs: [
        { name: "speed", type: "int16", scale: { counts: [0, 16384], value: [0, 50], unit: "Hz" } },
        { name: "weight", type: "uint24" },
        { name: "setLevel", type: "uint16", code: "bcd" },
      ],
    },
  ],
};

export const kegWasherLayout: Layout = assemble(kegWasher);
