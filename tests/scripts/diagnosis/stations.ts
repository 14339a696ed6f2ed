// Random stations as they are built: cards of bits, of analog channels, of counters and reals, and packed words.

import type { Entry, Module, Scale, Station } from "byterail";
import type { Random } from "./random.js";

/** Rules of placement of one direction. */
export type Rules = NonNullable<NonNullable<Station["placement"]>["inputs"]>;

/** A random station of so many cards, placed by random rules or by those given. */
export function randomStation(random: Random, cards: number = random.whole(4, 9), given?: Rules): Station {
  let next = 0;
  const name = () => `p${next++}`;
  const modules = Array.from({ length: cards }, (_, k): Module => {
    const output = k > 1 && random.chance(0.3);
    return { name: `m${k}`, [output ? "outputs" : "inputs"]: card(random, name) };
  });
  const rules: Rules = given ?? {
    ...(random.chance(0.25) && { order: "wordsFirst" as const }),
    ...(random.chance(0.2) && { packing: "bit" as const }),
    ...(random.chance(0.25) && { alignment: 2 as const }),
    ...(random.chance(0.4) && { lengthMultiple: 2 as const }),
  };
  return {
    format: 1,
    name: "station",
    byteOrder: random.pick(["big", "little"] as const),
    placement: { inputs: rules, outputs: rules },
    modules,
  };
}

/** The entries of one card. */
export function card(random: Random, name: () => string): Entry[] {
  const list = (count: number, entry: () => Entry) => Array.from({ length: count }, entry);
  const kind = random.pick(["bits", "bits", "analog", "analog", "analog", "wide", "counts", "word"] as const);
  if (kind === "bits") return list(random.pick([4, 8, 8, 16]), () => ({ name: name(), type: "bit" }));
  if (kind === "analog") {
    const scale = analogScale(random);
    const type = random.pick(["int16", "uint16"] as const);
    return list(random.pick([2, 4]), () => ({ name: name(), type, scale: { ...scale, value: span(random) } }));
  }
  if (kind === "wide") {
    const type = random.pick(["float32", "int32", "uint32"] as const);
    return list(random.pick([1, 2]), () => ({ name: name(), type }));
  }
  if (kind === "counts") {
    const type = random.pick(["int16", "uint16"] as const);
    return list(random.pick([1, 2]), () => ({ name: name(), type }));
  }
  const flags = list(4, () => ({ name: name(), type: "bit" })).map((flag, bit) => ({
    name: (flag as { name: string }).name,
    bit,
  }));
  return [{ word: 16, fields: [...flags, { name: name(), bits: 10, shift: 6 }] }];
}

// What channels of a card have in common: counts for a standard signal.
function analogScale(random: Random): Scale {
  return random.pick<Scale>([
    { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA" },
    { counts: [0, 4095], signal: [4, 20], signalUnit: "mA" },
    { counts: [0, 4095], signal: [0, 20], signalUnit: "mA" },
    { counts: [0, 1000], signal: [0, 10], signalUnit: "V" },
    { counts: [0, 4095], signal: [0, 5], signalUnit: "V" },
  ]);
}

function span(random: Random): readonly [number, number] {
  return random.pick([
    [0, 10],
    [0, 100],
    [-20, 150],
    [0, 6],
    [0, 2500],
  ] as const);
}
