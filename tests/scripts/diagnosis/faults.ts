// Faults: each makes a wrong description of a station, or does something to its frames or signals. Null: not possible here.

import type { CauseName } from "@byterail/commissioning";
import {
  assemble,
  type Direction,
  type Entry,
  type ImageLayout,
  type Module,
  type NumberPoint,
  type Scale,
  type Station,
} from "byterail";
import type { Random } from "./random.js";
import { card } from "./stations.js";
import type { Truth } from "./truth.js";

/** The truth and the description, and the points whose reading one would complain about. */
export interface Case {
  readonly truth: Truth;
  readonly described: Station;
  readonly watched: readonly string[];
}

export type Fault = (random: Random, before: Case) => Case | null;

const sides = ["inputs", "outputs"] as const;

/** The faults by the name of their row. */
export const faults: Readonly<Record<string, Fault>> = {
  "byte order of a point": onPoint(isWide, (_, point, station) => ({
    described: { ...point, byteOrder: other(orderOf(station, point)) },
  })),
  "byte order of a module": onModule(isWide, (_, module, station) => ({
    ...module,
    byteOrder: other(station.byteOrder!),
  })),
  "byte order of the station": (random, before) => {
    const { described } = before;
    const watched = namesOf(described, isWide);
    return watched.length > 0
      ? {
          ...before,
          described: { ...described, byteOrder: other(described.byteOrder!) },
          watched: [random.pick(watched)],
        }
      : null;
  },
  "word order": onPoint(
    (point) => "type" in point && /32/.test(point.type),
    (_, point, station) => ({
      described: { ...point, wordOrder: orderOf(station, point) === "big" ? "lowFirst" : "highFirst" },
    }),
  ),
  "header not counted": (random, before) => {
    const direction = random.pick(sides);
    if (!before.described.modules.some((module) => module[direction])) return null;
    return {
      ...before,
      truth: {
        ...before.truth,
        frames: [...before.truth.frames, { direction, does: "header", bytes: random.whole(1, 4) }],
      },
    };
  },
  "header counted that is not there": (random, before) => {
    const direction = random.pick(sides);
    if (!before.described.modules.some((module) => module[direction])) return null;
    const header: Module = { name: "head", [direction]: [{ spare: random.whole(1, 4) }] };
    return { ...before, described: { ...before.described, modules: [header, ...before.described.modules] } };
  },
  "modules exchanged": (random, before) => {
    const modules = [...before.described.modules];
    const [a, b] = random.shuffled(modules.map((_, k) => k)) as [number, number];
    [modules[a], modules[b]] = [modules[b]!, modules[a]!];
    return { ...before, described: { ...before.described, modules } };
  },
  "module missing": (random, before) => {
    const chosen = random.whole(0, before.described.modules.length - 1);
    return {
      ...before,
      described: { ...before.described, modules: before.described.modules.filter((_, k) => k !== chosen) },
    };
  },
  "module extra": (random, before) => {
    let k = 0;
    const extra: Module = { name: "extra", [random.chance(0.7) ? "inputs" : "outputs"]: card(random, () => `x${k++}`) };
    const at = random.whole(0, before.described.modules.length);
    const { modules } = before.described;
    return {
      ...before,
      described: { ...before.described, modules: [...modules.slice(0, at), extra, ...modules.slice(at)] },
    };
  },
  "signed and unsigned": onPoint(
    (point) => "type" in point && /int(16|32)$/.test(point.type) && !("scale" in point && point.scale),
    (_, point) => ({
      described: {
        ...point,
        type: (point.type.startsWith("u") ? point.type.slice(1) : `u${point.type}`) as NumberPoint["type"],
      },
    }),
  ),
  justification: onPoint(isScaled16, (random, point) => {
    const n = random.whole(1, 4);
    const [n0, n1] = point.scale!.counts!;
    const left = {
      ...point,
      type: "uint16" as const,
      scale: { ...point.scale!, counts: [n0 * 2 ** n, n1 * 2 ** n] as const },
    };
    const right = { ...point, type: "uint16" as const };
    if (n1 * 2 ** n > 65535) return null;
    return random.chance(0.5) ? { real: left, described: right } : { real: right, described: left };
  }),
  "signal range": onPoint(isScaled16, (random, point) => rangeFault(random, point)),
  "count format": onPoint(
    (point) => "type" in point && /^int16$/.test(point.type) && !("scale" in point && point.scale),
    (random, point) => ({
      real: {
        ...point,
        ...random.pick([
          { code: "offsetBinary" as const },
          { code: "signMagnitude" as const },
          { type: "uint16" as const, code: "bcd" as const },
        ]),
      },
      described: point,
    }),
  ),
  "channels exchanged": (random, before) => {
    const { described } = before;
    const places = described.modules.flatMap((module, m) =>
      sides.flatMap((direction) =>
        (module[direction] ?? [])
          .slice(1)
          .flatMap((entry, k) => (alike(entry, module[direction]![k]!) ? [{ m, direction, k }] : [])),
      ),
    );
    if (places.length === 0) return null;
    const { m, direction, k } = random.pick(places);
    const module = described.modules[m]!;
    const entries = [...module[direction]!];
    [entries[k], entries[k + 1]] = [entries[k + 1]!, entries[k]!];
    return {
      ...before,
      described: withModule(described, m, { ...module, [direction]: entries }),
      watched: [nameOf(entries[k]!)!, nameOf(entries[k + 1]!)!],
    };
  },
  "bits reversed": onModule(
    (entry) => "type" in entry && entry.type === "bit",
    (_, module) => ({ ...module, bitOrder: "msbFirst" }),
  ),
  "register bytes exchanged": (random, before) => {
    const direction = random.pick(sides);
    const image = assemble(before.truth.station)[direction];
    if (image.byteLength === 0 || image.byteLength % 2) return null;
    return {
      ...before,
      truth: { ...before.truth, frames: [{ direction, does: "exchangeRegisterBytes" }, ...before.truth.frames] },
    };
  },
  stuck: (random, before) => signalFault(random, before, "stuck", () => true),
  "failure level": (random, before) =>
    signalFault(random, before, "failureLevel", (point) => {
      const { scale } = point as NumberPoint;
      return scale?.signal?.[0] === 4 && (scale.counts![0] > 0 || !(point as NumberPoint).type.startsWith("u"));
    }),
};

/** The cause by which diagnosis knows each fault. */
export const causeOf: Readonly<Record<string, CauseName>> = {
  "byte order of a point": "byteOrder",
  "byte order of a module": "byteOrder",
  "byte order of the station": "byteOrder",
  "word order": "wordOrder",
  "header not counted": "shift",
  "header counted that is not there": "shift",
  "modules exchanged": "modulesExchanged",
  "module missing": "moduleMissing",
  "module extra": "moduleExtra",
  "signed and unsigned": "sign",
  justification: "justification",
  "signal range": "signalRange",
  "count format": "countFormat",
  "channels exchanged": "channelsExchanged",
  "bits reversed": "bitOrder",
  "register bytes exchanged": "registerBytes",
  stuck: "stuck",
  "failure level": "failureLevel",
};

// What a fault on one point makes of it, as built and as described.
interface Changed {
  readonly real?: NumberPoint;
  readonly described: NumberPoint;
}

function onPoint(
  fits: (entry: Entry) => boolean,
  change: (random: Random, point: NumberPoint, station: Station) => Changed | null,
): Fault {
  return (random, before) => {
    const names = namesOf(before.described, fits).filter((name) => same(before, name));
    if (names.length === 0) return null;
    const name = random.pick(names);
    const changed = change(random, entryOf(before.described, name) as NumberPoint, before.described);
    if (!changed) return null;
    const station = changed.real ? withEntry(before.truth.station, name, changed.real) : before.truth.station;
    return {
      truth: { ...before.truth, station },
      described: withEntry(before.described, name, changed.described),
      watched: [name],
    };
  };
}

// A point that has another fault already is left alone, so that each fault can be told.
function same({ truth, described }: Case, name: string): boolean {
  return (
    JSON.stringify(entryOf(truth.station, name)) === JSON.stringify(entryOf(described, name)) &&
    !truth.signals.some(({ point }) => point === name)
  );
}

function onModule(
  fits: (entry: Entry) => boolean,
  change: (random: Random, module: Module, station: Station) => Module,
): Fault {
  return (random, before) => {
    const { described } = before;
    const indices = described.modules.flatMap((module, k) =>
      sides.some((side) => module[side]?.some(fits)) ? [k] : [],
    );
    if (indices.length === 0) return null;
    const index = random.pick(indices);
    const module = described.modules[index]!;
    const names = sides.flatMap((side) => (module[side] ?? []).flatMap((entry) => nameOf(entry) ?? []));
    return {
      ...before,
      described: withModule(described, index, change(random, module, described)),
      watched: names.length > 0 ? [random.pick(names)] : [],
    };
  };
}

function signalFault(
  random: Random,
  before: Case,
  does: "stuck" | "failureLevel",
  fits: (entry: Entry) => boolean,
): Case | null {
  const { described, truth } = before;
  const found = sides.flatMap((direction) =>
    truth.station.modules.flatMap((module) =>
      (module[direction] ?? []).flatMap((entry) =>
        nameOf(entry) && fits(entry) && entryOf(described, nameOf(entry)!)
          ? [{ direction, point: nameOf(entry)! }]
          : [],
      ),
    ),
  );
  if (found.length === 0) return null;
  const signal = { ...random.pick(found), does };
  return { ...before, truth: { ...truth, signals: [...truth.signals, signal] }, watched: [signal.point] };
}

// The channel is set to another range than described, or the instrument sends another: two lines through the same counts.
function rangeFault(random: Random, point: NumberPoint): Changed | null {
  const scale = point.scale as Required<Pick<Scale, "counts" | "signal" | "value" | "signalUnit">>;
  const ranges =
    scale.signalUnit === "mA"
      ? ([
          [4, 20],
          [0, 20],
        ] as const)
      : ([
          [1, 5],
          [0, 5],
          [0, 10],
          [-10, 10],
        ] as const);
  const others = ranges.filter(([low, high]) => low !== scale.signal[0] || high !== scale.signal[1]);
  const set = random.pick(others);
  const [[s0, s1], [v0, v1]] = [scale.signal, scale.value];
  const line = (signal: number, from: readonly [number, number]) =>
    v0 + ((v1 - v0) * (signal - from[0])) / (from[1] - from[0]);
  const channel = random.chance(0.5);
  const ends = channel ? set : ([s0, s1] as const);
  const from = channel ? ([s0, s1] as const) : set;
  const value = ends.map((signal) => Number(line(signal, from).toPrecision(12))) as unknown as readonly [
    number,
    number,
  ];
  return { real: { ...point, scale: { ...scale, signal: ends, value } }, described: point };
}

function isWide(entry: Entry): boolean {
  return "type" in entry && !/^bit$|int8$/.test(entry.type);
}

function isScaled16(entry: Entry): boolean {
  return "type" in entry && /int16$/.test(entry.type) && "scale" in entry && entry.scale !== undefined;
}

function alike(a: Entry, b: Entry): boolean {
  return "type" in a && "type" in b && a.type === b.type && a.name !== b.name;
}

function nameOf(entry: Entry): string | null {
  return "name" in entry ? entry.name : null;
}

function orderOf(station: Station, point: NumberPoint): "big" | "little" {
  return point.byteOrder ?? station.byteOrder!;
}

function other(order: "big" | "little"): "big" | "little" {
  return order === "big" ? "little" : "big";
}

function namesOf({ modules }: Station, fits: (entry: Entry) => boolean): string[] {
  return modules.flatMap((module) =>
    sides.flatMap((side) => (module[side] ?? []).filter(fits).flatMap((entry) => nameOf(entry) ?? [])),
  );
}

function entryOf({ modules }: Station, name: string): Entry | undefined {
  return modules
    .flatMap((module) => sides.flatMap((side) => module[side] ?? []))
    .find((entry) => nameOf(entry) === name);
}

function withEntry(station: Station, name: string, changed: Entry): Station {
  const swapped = (entries: readonly Entry[] | undefined) =>
    entries?.map((entry) => (nameOf(entry) === name ? changed : entry));
  return {
    ...station,
    modules: station.modules.map((module) => ({
      ...module,
      ...Object.fromEntries(sides.flatMap((side: Direction) => (module[side] ? [[side, swapped(module[side])]] : []))),
    })),
  };
}

function withModule(station: Station, index: number, module: Module): Station {
  return { ...station, modules: station.modules.map((each, k) => (k === index ? module : each)) };
}

/** Whether a description can be assembled, and has points. */
export function stands(station: Station): boolean {
  try {
    const { inputs, outputs } = assemble(station);
    return (inputs as ImageLayout).points.length + (outputs as ImageLayout).points.length > 0;
  } catch {
    return false;
  }
}
