// A small station with one of everything that a sheet prints, its figures worked out by hand.

import type { Station } from "byterail";

/** A bottle rinser: a pressure, a level packed with its fault, a counter, two coils, a pump and a recipe number. */
export const rinser: Station = {
  ...{ format: 1, name: "rinser", title: "Bottle rinser", network: "ethernet-ip" },
  modules: [
    {
      ...{ name: "ai", accuracy: { percentOfSpan: 0.3 } },
      inputs: [
        {
          ...{ name: "supply", title: "Supply pressure", type: "uint16" },
          scale: {
            ...{ counts: [0, 1000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
            accuracy: { percentOfSpan: 0.4 },
          },
        },
        { name: "bottles", title: "Bottles of the shift", type: "uint32", unit: "bottles" },
      ],
    },
    {
      name: "tank",
      inputs: [
        {
          word: 16,
          fields: [
            { name: "level", bits: 12, shift: 4, scale: { counts: [0, 4000], value: [0, 100], unit: "%" } },
            { name: "mode", bits: 3, shift: 1 },
            { name: "echoLost", title: "No echo", bit: 0 },
          ],
        },
      ],
    },
    {
      ...{ name: "valves", exclusive: [["down", "up"]] },
      outputs: [
        { name: "down", title: "Head down", type: "bit", onNetworkLoss: "hold" },
        { name: "up", title: "Head up", type: "bit" },
      ],
    },
    {
      name: "pump",
      outputs: [
        {
          ...{ name: "speed", type: "uint16", limits: [0, 80], onNetworkLoss: 20 },
          scale: { counts: [0, 1000], signal: [0, 10], signalUnit: "V", value: [0, 100], unit: "%" },
        },
        { name: "recipe", type: "uint8", onNetworkLoss: 7 },
      ],
    },
  ],
};
