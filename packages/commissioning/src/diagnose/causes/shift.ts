/** The image shifted by n bytes: a header that the description does not count, or one that it counts and that is not there. */
import type { Direction, Entry, ImageLayout, Module, Station } from "byterail";
import type { Base } from "../base.js";
import { withModule, withPlacement, withSlots } from "../edit.js";
import { withoutFront } from "../front.js";
import type { Cause, Hypothesis } from "../hypothesis.js";
import { directions, frameLength, isSuspect, likelyShifts, surplus } from "../lengths.js";
import { type Arranged, rearranged } from "../rearrange.js";
import { isHeader } from "./moduleExtra.js";

export const shift: Cause = function* (base) {
  for (const direction of directions) {
    if (frameLength(base, direction) === null || !isSuspect(base, direction)) continue;
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
  // Alignment or a configured length may keep a description from saying it; then the frame is to be cut.
  const effect = canStartAt(base, direction, n) ? rearranged(base, station) : null;
  if (!effect) return yield withoutHeader(direction, n);
  const says = `The ${direction} begin ${bytes(n)} later than described: a header stands before them, or a module that the description misses.`;
  const where = { direction, module: null, point: null };
  yield { cause: "shift", where, says, assumes: 2 + n / 100, effect, station: () => station };
  const described = base.layout[direction].byteLength;
  const length = effect.lengths[direction];
  // Padding that the image has without a header is not what the description would have with one.
  if (length !== described + n) yield withoutHeader(direction, n);
  // As long as described although it starts later: then it was cut at the end.
  if (frameLength(base, direction) === described && length !== described) {
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

// Whether everything would move by n bytes. Modules start on a multiple of the alignment, unless they are pinned.
function canStartAt({ station, extents }: Base, direction: Direction, n: number): boolean {
  const { alignment = 1 } = station.placement?.[direction] ?? {};
  return (
    n % alignment === 0 ||
    station.modules.every((module, k) => extents[direction][k] === null || module[pin[direction]] !== undefined)
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
  const slotted = withPinsMoved(withSlots(station), direction, n);
  const slots = slotted.modules.flatMap(({ slot }) => slot ?? []);
  const first = slots.length > 0 ? { slot: Math.min(...slots) } : {};
  const header: Module = { name: unusedName(station, "header"), ...first, [direction]: [{ spare: n }] };
  return { ...slotted, modules: [header, ...slotted.modules] };
}

const pin = { inputs: "inputOffset", outputs: "outputOffset" } as const;

// Pins count from the first byte, so they move with the rest. One of a module without data may stand anywhere.
function withPinsMoved(station: Station, direction: Direction, by: number): Station {
  const key = pin[direction];
  const modules = station.modules.map((module) =>
    module[key] === undefined ? module : { ...module, [key]: Math.max(0, module[key] + by) },
  );
  return { ...station, modules };
}

/** A name that no module of the station has. */
export function unusedName({ modules }: Station, wanted: string): string {
  const used = new Set(modules.map(({ name }) => name.toLowerCase()));
  let name = wanted;
  for (let k = 2; used.has(name.toLowerCase()); k++) name = `${wanted}${k}`;
  return name;
}

// The first bytes described are not there: the entries that stand in them are taken out, or the pins count from further on.
function* earlier(base: Base, direction: Direction): Iterable<[number, Hypothesis[]]> {
  const { modules } = base.layout[direction] as ImageLayout;
  if (modules.length === 0) return;
  const index = base.indices.get(modules[0]!.name)!;
  const { exclusive = [], [direction]: entries = [] } = base.station.modules[index]!;
  // A group of outputs that exclude each other names them, so they cannot go.
  const held = direction === "outputs" ? exclusive.flat() : [];
  const likely = likelyShifts(-surplus(base, direction));
  for (const left of withoutFront(entries, likely, held))
    yield* without(base, direction, withEntries(base, index, direction, left));
  const lead = Math.min(...modules.map(({ byte }) => byte));
  for (const n of likely) if (n <= lead) yield* without(base, direction, withPinsMoved(base.station, direction, -n));
}

// A module that held nothing else is taken out as a whole.
function withEntries(base: Base, index: number, direction: Direction, entries: readonly Entry[]): Station {
  const { station } = base;
  if (entries.length > 0 || !isHeader(base, index))
    return withModule(station, index, { ...station.modules[index]!, [direction]: entries });
  const slotted = withSlots(station);
  return { ...slotted, modules: slotted.modules.filter((_, k) => k !== index) };
}

function* without(base: Base, direction: Direction, station: Station): Iterable<[number, Hypothesis[]]> {
  const effect = rearranged(base, station);
  if (!effect) return;
  const n = shiftOf(base, direction, station, effect);
  if (n < 1) return;
  const says = `The ${direction} begin ${bytes(n)} earlier than described: what the description puts first is not in the frame.`;
  const where = { direction, module: null, point: null };
  const hypotheses: Hypothesis[] = [
    { cause: "shift", where, says, assumes: 2 + n / 100, effect, station: () => station },
  ];
  const described = base.layout[direction].byteLength;
  if (frameLength(base, direction) === described && effect.lengths[direction] !== described)
    hypotheses.push({
      cause: "shift",
      where,
      says: `${says} The frame has the length described all the same: more bytes follow at its end.`,
      assumes: 2.5 + n / 100,
      // But for the length, which stays.
      effect: { points: effect.points, moved: effect.moved },
      station: () => withPlacement(station, direction, { length: described }),
    });
  yield [n, hypotheses];
}

// By how much what comes after has moved to the front: the last module or, where that was changed itself, the end of the
// image, which a multiple or a configured length would hide.
function shiftOf(base: Base, direction: Direction, station: Station, { moved }: Arranged): number {
  const { modules } = base.layout[direction] as ImageLayout;
  const by = moved(direction, base.indices.get(modules[modules.length - 1]!.name)!);
  if (by !== null) return -by;
  const end = Math.max(...modules.map((module) => module.byte + module.bytes));
  const unpadded = withPlacement(station, direction, { lengthMultiple: 1, length: undefined });
  return end - rearranged(base, unpadded)!.lengths[direction]!;
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
