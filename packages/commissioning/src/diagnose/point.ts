/** What hypotheses about one point share. */
import {
  assemble,
  type Direction,
  type Entry,
  type NumberField,
  type NumberPoint,
  numberOf,
  type PlacedPoint,
  type Station,
} from "byterail";
import type { Base, Spot } from "./base.js";
import { withEntry } from "./edit.js";
import type { Key } from "./facts.js";
import type { CauseName, Hypothesis, Where } from "./hypothesis.js";
import { ifPossible } from "./ifPossible.js";

/** A point that has a wrong fact, with all that is known of its place. */
export interface Suspect {
  readonly key: Key;
  readonly point: PlacedPoint;
  readonly spot: Spot;
  readonly where: Where;
}

/** A suspect that is a number. */
export interface SuspectNumber extends Suspect {
  readonly number: NumberPoint | NumberField;
}

/** Points that have a wrong fact. */
export function* suspects(base: Base): Iterable<Suspect> {
  for (const key of base.wrong) {
    const point = base.points.get(key);
    if (!point) continue;
    const spot = base.spots.get(key)!;
    yield { key, point, spot, where: { direction: spot.direction, module: point.module, point: point.name } };
  }
}

/** Numbers that have a wrong fact. */
export function* suspectNumbers(base: Base): Iterable<SuspectNumber> {
  for (const suspect of suspects(base)) {
    const number = numberOf(suspect.point);
    if (number) yield { ...suspect, number };
  }
}

/** A hypothesis that a number is described otherwise, at the same place. */
export function otherwise(
  base: Base,
  { key, point, spot, where }: SuspectNumber,
  cause: CauseName,
  assumes: number,
  says: string,
  entry: NumberPoint | NumberField,
  read: Partial<PlacedPoint> = {},
): Hypothesis {
  const changed: PlacedPoint = { ...point, ...read, description: entry };
  const station = () => withEntry(base.station, spot, entry);
  const stands = () => canStand(spot.direction, station().modules[spot.module]![spot.direction]![spot.entry]!);
  return { cause, where, says, assumes, effect: { points: new Map([[key, changed]]) }, station, stands };
}

/** Whether an entry, a packed word with all its fields included, is right in itself. */
export function canStand(direction: Direction, entry: Entry): boolean {
  const station: Station = {
    format: 1,
    name: "trial",
    byteOrder: "big",
    modules: [{ name: "trial", [direction]: [entry] }],
  };
  return ifPossible(() => assemble(station)) !== null;
}
