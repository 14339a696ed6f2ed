// A keg washer, for the tests of the kit.
//
//   inputs   0.0     doorClosed                            outputs  0.0  rinse
//            0.1     kegPresent                                     0.1  steam
//            1–2     supply       4–20 mA = 0–10 bar                1–3  reserve of the valve bank
//            3–4     temperature  tenths of a degree
//            5       spare
//            6:0     levelFault
//            6:4-15  level        12 bits, left-justified
//            8–11    flow         float32
//            12–19   kegs         uint64

import {
  analogInputs,
  assemble,
  digitalInputs,
  field,
  flag,
  number,
  signalScale,
  spare,
  station,
  valveBank,
  word,
} from "byterail";

export const { inputs, outputs } = assemble(
  station({
    name: "kegWasher",
    network: "ethernet-ip",
    modules: [
      digitalInputs("limits", ["doorClosed", "kegPresent"]),
      analogInputs("sensors", [
        number("supply", "uint16", { scale: signalScale("4-20 mA", [4000, 20000], [0, 10], "bar") }),
        number("temperature", "int16", { scale: { counts: [0, 1500], value: [0, 150], unit: "°C" } }),
        spare(1),
        word(16, [field("level", 12, 4, { unit: "%" }), flag("levelFault", 0)]),
        number("flow", "float32", { unit: "L/h" }),
        number("kegs", "uint64"),
      ]),
      valveBank("valves", ["rinse", "steam"], { outputBytes: 4 }),
    ],
  }),
);

/** A frame of its inputs. */
export const washing = {
  hex: "03 | 60 36 C1 02 00 20 03 66 66 C6 40 35 1C DC DF 02 00 00 00",
  values: {
    doorClosed: true,
    kegPresent: true,
    supply: 6.2,
    temperature: 70.5,
    level: 50,
    levelFault: false,
    flow: Math.fround(6.2),
    kegs: 12345678901n,
  },
} as const;
