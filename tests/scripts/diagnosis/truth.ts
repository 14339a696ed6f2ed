// What is true: where the bits of every point really stand in the frames and what they mean. An explanation is the true
// cause where the description it leads to reads every point just so, and it finds the same signals at fault.

import { applyChange, type Explanation, type FrameEdit } from "@byterail/commissioning";
import { assemble, characteristicOf, type Direction, type ImageLayout, type PlacedPoint, type Station } from "byterail";

/** The station as built, what was done to its frames, and which signals are at fault. */
export interface Truth {
  readonly station: Station;
  readonly frames: readonly FrameFault[];
  readonly signals: readonly SignalFault[];
}

/** Something done to every frame of a direction. */
export type FrameFault =
  | { readonly direction: Direction; readonly does: "header"; readonly bytes: number }
  | { readonly direction: Direction; readonly does: "exchangeRegisterBytes" };

export interface SignalFault {
  readonly direction: Direction;
  readonly point: string;
  readonly does: "stuck" | "failureLevel";
}

export function isTrue(truth: Truth, described: Station, { parts, change }: Explanation): boolean {
  const signals = parts.filter(({ cause }) => cause === "stuck" || cause === "failureLevel");
  const mine = signals.map(({ cause, where }) => `${cause} ${where.direction} ${where.point}`).sort();
  const theirs = truth.signals.map(({ does, direction, point }) => `${does} ${direction} ${point}`).sort();
  if (mine.join() !== theirs.join()) return false;
  const edits = parts.flatMap(({ frame }) => frame ?? []);
  const [is, should] = [assemble(change ? applyChange(described, change) : described), assemble(truth.station)];
  const told = assemble(described);
  return (["inputs", "outputs"] as const).every((direction) => {
    const real = byName(should[direction]);
    const read = byName(is[direction]);
    // Every point that is there is read, and no other.
    const expected = [...byName(told[direction]).keys()].filter((name) => real.has(name));
    if (read.size !== expected.length) return false;
    return expected.every((name) => {
      const [point, there] = [read.get(name), real.get(name)!];
      if (!point) return false;
      const seen = bitsOf(point).map((bit) =>
        edits.reduce((at, edit) => (edit.direction === direction ? undone(at, edit) : at), bit),
      );
      const stand = bitsOf(there).map((bit) =>
        truth.frames.reduce((at, fault) => (fault.direction === direction ? done(at, fault) : at), bit),
      );
      return seen.join() === stand.join() && meaning(point) === meaning(there);
    });
  });
}

function byName(image: unknown): ReadonlyMap<string, PlacedPoint> {
  return new Map((image as ImageLayout).points.map((point) => [point.name, point]));
}

// Bits of a point as numbers of bits in the image, least significant first.
function bitsOf({ positions, low, bits }: PlacedPoint): number[] {
  return Array.from({ length: bits }, (_, k) => 8 * positions[(low + k) >> 3]! + ((low + k) & 7));
}

function done(bit: number, fault: FrameFault): number {
  return fault.does === "header" ? bit + 8 * fault.bytes : bit ^ 8;
}

// Where a bit that is read after an edit stood before it.
function undone(bit: number, { does, bytes }: FrameEdit): number {
  if (does === "lacksFirstBytes" || does === "startsWithHeader")
    return bit + (does === "startsWithHeader" ? 8 : -8) * bytes;
  return does === "reverseBits" ? bit ^ 7 : bit ^ 8;
}

function meaning({ kind, code, description }: PlacedPoint): string {
  const { scale } = description as { readonly scale?: Parameters<typeof characteristicOf>[0] };
  const line = scale && characteristicOf(scale);
  return [kind, code, ...(line ? [0, 10_000].map((n) => line.toValue(n).toPrecision(8)) : [])].join(" ");
}
