// A keg-washing station of the tests' own, with everything a loop-check sheet has to show.

import type { Station } from "byterail";

/** Washing head 3 of a keg line: valves, clamps, four analog loops, a pump, a counter, a recipe number. */
export const kegStation: Station = {
  format: 1,
  name: "kegHead3",
  title: "Keg line, washing head 3",
  network: "ethernet-ip",
  placement: { inputs: { lengthMultiple: 2 } },
  modules: [
    {
      name: "valves",
      title: "Valve terminal",
      exclusive: [["clampDown", "clampUp"]],
      outputs: [
        { name: "clampDown", type: "bit", title: "Clamp cylinder down, coil 14", onNetworkLoss: "hold" },
        { name: "clampUp", type: "bit", title: "Clamp cylinder up, coil 12", onNetworkLoss: "hold" },
        { name: "preRinse", type: "bit", title: "Pre-rinse water", onNetworkLoss: "off" },
        { name: "caustic", type: "bit", title: "Caustic supply", onNetworkLoss: "off" },
        { name: "acid", type: "bit", title: "Acid supply", onNetworkLoss: "off" },
        { name: "steam", type: "bit", title: "Steam to the washing head", onNetworkLoss: "off" },
        { name: "sterileAir", type: "bit", title: "Sterile air, blows the keg empty" },
        { name: "drain", type: "bit", title: "Drain of the head", onNetworkLoss: true },
      ],
      outputBytes: 3,
    },
    {
      name: "switches",
      title: "Digital inputs, 24 V",
      inputs: [
        { name: "kegPresent", type: "bit", title: "Keg on the head, photoelectric switch" },
        { name: "clampIsDown", type: "bit", title: "Clamp down, reed switch" },
        { name: "clampIsUp", type: "bit", title: "Clamp up, reed switch" },
        { name: "guardClosed", type: "bit", title: "Guard closed (signal only)" },
        { name: "airOk", type: "bit", title: "Air pressure switch, 5 bar rising" },
        { spareBits: 3 },
      ],
    },
    {
      name: "loops",
      title: "Analog inputs, 4 to 20 mA",
      accuracy: { percentOfSpan: 0.1 },
      inputs: [
        {
          name: "causticTemp",
          type: "int16",
          title: "Caustic return, resistance thermometer",
          scale: { counts: [0, 1500], value: [0, 150], unit: "°C", accuracy: { absolute: 0.35 } },
        },
        {
          name: "supply",
          type: "uint16",
          title: "Supply pressure",
          scale: {
            counts: [4000, 20000],
            signal: [4, 20],
            signalUnit: "mA",
            value: [0, 10],
            unit: "bar",
            accuracy: { percentOfSpan: 0.25 },
          },
        },
        {
          name: "rinseFlow",
          type: "uint16",
          title: "Rinse water, orifice plate, root extracted",
          scale: {
            counts: [4000, 20000],
            signal: [4, 20],
            signalUnit: "mA",
            value: [0, 80],
            unit: "L/min",
            shape: "squareRoot",
            accuracy: { percentOfSpan: 0.5 },
          },
        },
        { name: "kegsWashed", type: "uint32", title: "Kegs since the start of the shift" },
      ],
    },
    {
      name: "tank",
      title: "Level of the caustic tank with its fault bit",
      inputs: [
        {
          word: 16,
          fields: [
            {
              name: "causticLevel",
              bits: 12,
              shift: 4,
              title: "Caustic tank, ultrasonic level",
              scale: { counts: [0, 4095], value: [0, 100], unit: "%" },
            },
            { name: "causticLevelFault", bit: 0, title: "Level: no echo" },
          ],
        },
      ],
    },
    {
      name: "pump",
      title: "Analog output, 0 to 10 V",
      accuracy: { percentOfSpan: 0.2 },
      outputs: [
        {
          name: "pumpSpeed",
          type: "uint16",
          title: "Speed of the caustic pump",
          limits: [0, 80],
          onNetworkLoss: "off",
          scale: { counts: [0, 1000], signal: [0, 10], signalUnit: "V", value: [0, 100], unit: "%" },
        },
        { name: "recipe", type: "uint8", title: "Recipe number shown at the head" },
      ],
    },
  ],
};
