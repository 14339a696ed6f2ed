// The station of the examples: the keg washer, as it was assembled, slot by slot.
import {
  analogInputs,
  analogOutputs,
  busInterface,
  digitalInputs,
  field,
  flag,
  number,
  signalScale,
  station,
  valveBank,
  word,
} from "byterail";

export const kegWasher = station({
  name: "kegWasher",
  title: "Keg washer, skid 2",
  network: "ethernet-ip",
  placement: { inputs: { lengthMultiple: 2 }, outputs: { lengthMultiple: 2 } },
  modules: [
    busInterface("coupler", [word(16, [flag("busFault", 0), flag("supplyLow", 1), field("cycle", 8, 8)])]),
    digitalInputs("limits", [
      ...["kegPresent", "clampClosed", "clampOpen", "headDown", "headUp", "doorClosed", "airOk", "causticLow"],
      ...["acidLow", "rinseFlow", "steamFlow", "drainOpen", "drainClosed", "pumpRunning", "pumpFault", "startButton"],
    ] as const),
    valveBank("valves", ["clampClose", "clampRelease", "rinse", "caustic", "acid", "steam", "sterileAir", "drain"], {
      outputBytes: 4,
      exclusive: [["clampClose", "clampRelease"]],
    }),
    analogInputs("sensors", [
      number("supplyPressure", "uint16", {
        scale: signalScale("4-20 mA", [4000, 20000], [0, 10], "bar"),
        deadband: 0.05,
      }),
      number("causticLevel", "uint16", { scale: signalScale("1-5 V", [1000, 5000], [0, 100], "%") }),
      number("causticTemp", "int16", { scale: { counts: [0, 1500], value: [0, 150], unit: "°C" } }),
    ]),
    // The probe sends its word high byte first, whatever the network does.
    analogInputs("drainProbe", [
      word(
        16,
        [
          field("conductivity", 12, 4, { scale: { counts: [0, 4095], value: [0, 200], unit: "mS/cm" } }),
          flag("probeFault", 0),
        ],
        {
          byteOrder: "big",
        },
      ),
    ]),
    analogOutputs("drives", [
      number("steamValve", "uint16", {
        scale: signalScale("4-20 mA", [4000, 20000], [0, 100], "%"),
        onNetworkLoss: "off",
      }),
      number("pumpSpeed", "uint16", {
        scale: signalScale("0-10 V", [0, 10000], [0, 3000], "1/min"),
        onNetworkLoss: "off",
      }),
    ]),
  ],
});
