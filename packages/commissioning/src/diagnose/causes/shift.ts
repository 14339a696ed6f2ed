/** The image shifted by n bytes: a header that the description does not count, or one that it counts and that is not there. */
import type { Direction, Entry, ImageLayout, Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withModule, withPlacement, withSlots } from "../edit.js";
import type { Cause, Effect, Hypothesis } from "../hypothesis.js";
import { directions, frameLength, isSuspect, likelyShifts, surplus } from "../lengths.js";
import { rearranged } from "../rearrange.js";
import { isHeader } from "./moduleExtra.js";

export const shift: Cause = function* (base) {
  for (const direction of directions) {
    const length = frameLength(base, direction);
    if (length === null || !isSuspect(base, direction)) continue;
    const more = surplus(base, direction);
    for (const n of likelyShifts(more)) yield* later(base, direction, n);
    const told = new Set<number>();
    for (const [n, hypothesis] of earlier(base, direction)) {
      told.add(n);
      yield* hypothesis;
    }
    for (const n of likelyShifts(-more)) if (!told.has(n)) yield lacking(direction, n);
  }
};

// Bytes stand before everything the description knows.
function* later(base: Base, direction: Direction, n: number): Iterable<Hypothesis> {
  const station = withHeader(base.station, direction, n);
  const effect = rearranged(base, station);
  // Alignment, packing or the order of modules may keep a description from saying it; then the frame is to be cut.
  if (!effect || !allMovedBy(base, direction, effect, n)) return yield withoutHeader(direction, n);
  const says = `The ${direction} begin ${bytes(n)} later than described: a header stands before them, or a module that the description misses.`;
  const where = { direction, module: null, point: null };
  yield { cause: "shift", where, says, assumes: 2 + n / 100, effect, station: () => station };
  const described = base.layout[direction].byteLength;
  // Padding that the image has without a header is not what the description would have with one.
  if (effect.lengths?.[direction] !== described + n) yield withoutHeader(direction, n);
  // As long as described although it starts later: then it was cut at the end.
  if (frameLength(base, direction) === described && effect.lengths?.[direction] !== described) {
    const cut = `${says} The frame has the length described all the same, so its end was cut off: read ${bytes(n)} more.`;
    yield {
      cause: "shift",
      where,
      says: cut,
      assumes: 2.5 + n / 100,
      effect: { ...effect, cut: { [direction]: described } },
      station: () => station,
    };
  }
}

function allMovedBy(base: Base, direction: Direction, { moved, points }: Effect, n: number): boolean {
  const kept = new Set([...(points ?? [])].map(([, point]) => point?.module));
  return (base.layout[direction] as ImageLayout).modules.every(
    ({ name }) => kept.has(name) || moved?.(direction, base.indices.get(name)!) === n,
  );
}

function withoutHeader(direction: Direction, n: number): Hypothesis {
  return {
    cause: "shift",
    where: { direction, module: null, point: null },
    says: `The frame of the ${direction} starts with a header of ${bytes(n)} that is no part of the image: leave it out.`,
    assumes: 2 + n / 100,
    effect: { frame: { direction, does: "startsWithHeader", bytes: n } },
    station: null,
  };
}

function withHeader(station: Station, direction: Direction, n: number): Station {
  const slotted = withSlots(station);
  const side = direction === "inputs" ? "inputOffset" : "outputOffset";
  // Pins count from the first byte, so they move with the rest.
  const modules = slotted.modules.map((module) =>
    module[side] === undefined ? module : { ...module, [side]: module[side] + n },
  );
  const slots = modules.flatMap(({ slot }) => slot ?? []);
  const first = slots.length > 0 ? { slot: Math.min(...slots) } : {};
  const header: Module = { name: unusedName(station, "header"), ...first, [direction]: [{ spare: n }] };
  return { ...slotted, modules: [header, ...modules] };
}

/** A name that no module of the station has. */
export function unusedName({ modules }: Station, wanted: string): string {
  const used = new Set(modules.map(({ name }) => name.toLowerCase()));
  let name = wanted;
  for (let k = 2; used.has(name.toLowerCase()); k++) name = `${wanted}${k}`;
  return name;
}

/** So many entries at the front of the description are looked at one by one. */
const mostEntries = 8;

// The first bytes described are not there: the entries that stand in them are taken out, or what is spare is shortened.
function* earlier(base: Base, direction: Direction): Iterable<[number, Hypothesis[]]> {
  const image = base.layout[direction] as ImageLayout;
  const first = image.modules[0];
  const index = base.station.modules.findIndex(({ name }) => name === first?.name);
  const module = base.station.modules[index];
  const entries = module?.[direction] ?? [];
  const likely = likelyShifts(-surplus(base, direction));
  for (let k = 0; k < Math.min(entries.length, mostEntries); k++) {
    const entry = entries[k]!;
    const rest = entries.slice(k + 1);
    // A group of outputs that exclude each other names them, so they cannot go.
    if (direction === "outputs" && module?.exclusive && !("spare" in entry)) break;
    const shorter =
      "spare" in entry
        ? likely.flatMap((n) => (n < entry.spare ? [[{ ...entry, spare: entry.spare - n }, ...rest]] : []))
        : [];
    for (const list of [...shorter, rest]) yield* without(base, direction, withEntries(base, index, direction, list));
  }
  const side = direction === "inputs" ? "inputOffset" : "outputOffset";
  const lead = first?.byte ?? 0;
  if (lead > 0 && module?.[side] !== undefined)
    for (const n of likely.filter((each) => each <= lead)) {
      const modules = base.station.modules.map((each) =>
        each[side] === undefined ? each : { ...each, [side]: Math.max(0, each[side] - n) },
      );
      yield* without(base, direction, { ...base.station, modules });
    }
}

// A module that held nothing else is taken out as a whole.
function withEntries(base: Base, index: number, direction: Direction, entries: readonly Entry[]): Station {
  const { station } = base;
  const module = station.modules[index]!;
  if (entries.length > 0 || !isHeader(module)) return withModule(station, index, { ...module, [direction]: entries });
  const slotted = withSlots(station);
  return { ...slotted, modules: slotted.modules.filter((_, k) => k !== index) };
}

function* without(base: Base, direction: Direction, station: Station): Iterable<[number, Hypothesis[]]> {
  const effect = rearranged(base, station);
  const n = effect ? shiftOf(base, direction, effect) : 0;
  if (!effect || n < 1) return;
  const says = `The ${direction} begin ${bytes(n)} earlier than described: what the description puts first is not in the frame.`;
  const where = { direction, module: null, point: null };
  const hypotheses: Hypothesis[] = [
    { cause: "shift", where, says, assumes: 2 + n / 100, effect, station: () => station },
  ];
  const described = base.layout[direction].byteLength;
  if (frameLength(base, direction) === described && effect.lengths?.[direction] !== described) {
    const padded = withPlacement(station, direction, { length: described });
    const again = rearranged(base, padded);
    if (again)
      hypotheses.push({
        cause: "shift",
        where,
        says: `${says} The frame has the length described all the same: more bytes follow at its end.`,
        assumes: 2.5 + n / 100,
        effect: again,
        station: () => padded,
      });
  }
  yield [n, hypotheses];
}

// By how much what comes after has moved to the front.
function shiftOf(base: Base, direction: Direction, { moved, lengths }: Effect): number {
  const modules = (base.layout[direction] as ImageLayout).modules;
  const last = modules[modules.length - 1]?.name;
  const by = modules.length > 1 ? moved?.(direction, base.indices.get(last!)!) : null;
  return -(by ?? lengths![direction]! - base.layout[direction].byteLength);
}

function lacking(direction: Direction, n: number): Hypothesis {
  return {
    cause: "shift",
    where: { direction, module: null, point: null },
    says: `The frame of the ${direction} lacks the first ${bytes(n)} of the image: it was captured or copied without them.`,
    assumes: 3 + n / 100,
    effect: { frame: { direction, does: "lacksFirstBytes", bytes: n } },
    station: null,
  };
}

/** So many bytes, in words. */
export function bytes(n: number): string {
  return n === 1 ? "1 byte" : `${n} bytes`;
}
