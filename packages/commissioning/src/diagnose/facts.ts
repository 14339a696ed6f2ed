/** Facts: what is known of a point in a frame, and how long a frame is. Every one is right or wrong under a description. */
import type { Direction } from "byterail";
import type { CheckedObservation } from "./observation.js";

/** Identifies a point of the station: its direction and name. */
export type Key = `${Direction} ${string}`;

/** Something known to be true. */
export interface Fact {
  /** Index of its observation. */
  readonly observation: number;
  readonly direction: Direction;
  /** The point, or null where the fact is the length of the frame. */
  readonly point: string | null;
  /** What is known: the value, or the length in bytes. */
  readonly known: boolean | number | bigint;
  /** How far the truth may be from it, in the unit of the value. */
  readonly within: number;
}

/** The facts of observations: the length of each frame, then what is known of points. */
export function factsOf(observations: readonly CheckedObservation[]): readonly Fact[] {
  return observations.flatMap(({ frames, known }, observation) => [
    ...(["inputs", "outputs"] as const).flatMap((direction): Fact[] => {
      const bytes = frames[direction];
      return bytes ? [{ observation, direction, point: null, known: bytes.length, within: 0 }] : [];
    }),
    ...known.map(
      ({ direction, point, value, within }): Fact => ({
        observation,
        direction,
        point: point.name,
        known: value,
        within,
      }),
    ),
  ]);
}

/** The key of a point. */
export function keyOf(direction: Direction, name: string): Key {
  return `${direction} ${name}`;
}
