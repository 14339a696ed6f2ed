/** The lengths that frames have, and how far they are from what the description says. */
import type { Direction } from "byterail";
import type { Base } from "./base.js";

/** Both directions. */
export const directions: readonly Direction[] = ["inputs", "outputs"];

/** Length of the frames of a direction, or null where there are none or they differ among themselves. */
export function frameLength(base: Base, direction: Direction): number | null {
  const lengths = new Set(base.frames.flatMap((frames) => frames[direction]?.length ?? []));
  return lengths.size === 1 ? [...lengths][0]! : null;
}

/** Bytes by which the frames of a direction are longer than described; 0 where that cannot be said. */
export function surplus(base: Base, direction: Direction): number {
  const length = frameLength(base, direction);
  return length === null ? 0 : length - base.layout[direction].byteLength;
}

/** Whether anything of a direction is wrong: a length, or a point. */
export function isSuspect(base: Base, direction: Direction): boolean {
  return base.facts.some((fact, k) => fact.direction === direction && !base.right[k]);
}

/**
 * Sizes that a module could have that the description misses: those that would make the length right. Where the length is
 * padded or configured, more than one would.
 */
export function missingSizes(base: Base, direction: Direction): readonly number[] {
  const length = frameLength(base, direction);
  if (length === null || !isSuspect(base, direction)) return [];
  const { lengthMultiple = 1, alignment = 1, length: configured } = base.station.placement?.[direction] ?? {};
  const more = surplus(base, direction);
  // What the length hides: padding up to a multiple, alignment, or all of a configured length.
  const hidden = lengthMultiple - 1 + alignment - 1 + (configured === undefined ? 0 : Math.min(16, configured));
  const sizes: number[] = [];
  for (let n = Math.max(1, more - hidden); n <= more + hidden; n++) sizes.push(n);
  return sizes;
}

/** Longest header that is looked for where the length of the frame does not tell it. */
const fewBytes = 8;

/** Bytes by which an image may start later than described: a few, or about as many as the frame is longer. */
export function likelyShifts(longer: number): readonly number[] {
  const about = Array.from({ length: fewBytes + 4 }, (_, k) => longer - fewBytes + k);
  const few = Array.from({ length: fewBytes }, (_, k) => k + 1);
  return [...few, ...about.filter((n) => n > fewBytes)];
}
