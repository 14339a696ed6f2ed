import { diagnose } from "@byterail/commissioning";
import { assemble, encode, type Station } from "byterail";
import { toHex } from "byterail/frames";
import { expect, test } from "vitest";

// The station as built. Each row describes it wrongly in one respect; what is known is true of the station as built.
const built = {
  format: 1,
  name: "washer",
  byteOrder: "big",
  modules: [
    {
      name: "limits",
      inputs: [
        { name: "doorClosed", type: "bit" },
        { name: "kegPresent", type: "bit" },
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
    { name: "spareSlot", inputs: [{ name: "counter", type: "uint16" }] },
  ],
} as const satisfies Station;

const states = [
  { doorClosed: true, kegPresent: false, supply: 6.2, caustic: 70.5, counter: 300 },
  { doorClosed: false, kegPresent: true, supply: 2.5, caustic: -3.2, counter: 513 },
  { doorClosed: true, kegPresent: true, supply: 9.1, caustic: 21.4, counter: 4660 },
];
const { inputs } = assemble(built);
const observations = states.map((state) => ({
  inputs: toHex(encode(inputs, state)),
  known: {
    doorClosed: state.doorClosed,
    kegPresent: state.kegPresent,
    supply: { value: state.supply, within: 0.05 },
    caustic: { value: state.caustic, within: 0.5 },
    counter: state.counter,
  },
}));

type Loose = { byteOrder: string; modules: { inputs: Record<string, unknown>[] }[] };
const described = (change: (station: Loose) => void): Station => {
  const station = structuredClone(built) as unknown as Loose;
  change(station);
  return station as unknown as Station;
};

test("a station described as it was built has no fault", () => {
  expect(diagnose(built, observations)).toMatchObject({ verdict: "noFault", explanations: [] });
});

test.each([
  [
    "the byte order of one value",
    (s: Loose) => {
      s.modules[1]!.inputs[0]!.byteOrder = "little";
    },
    "byteOrder",
  ],
  [
    "the byte order of the station",
    (s: Loose) => {
      s.byteOrder = "little";
    },
    "byteOrder",
  ],
  [
    "signed read as unsigned",
    (s: Loose) => {
      s.modules[1]!.inputs[1]!.type = "uint16";
    },
    "sign",
  ],
])("%s is among the first explanations, and its change makes every fact right", (_, change, cause) => {
  const station = described(change);
  const { explanations } = diagnose(station, observations);
  const first = explanations.filter(({ rank }) => rank === 1);
  expect(first.flatMap(({ parts }) => parts.map((part) => part.cause)).join(" ")).toMatch(new RegExp(cause));
  for (const { unexplained } of first) expect(unexplained).toEqual([]);
});
