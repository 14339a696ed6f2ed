/** Findings about a signal, which no change of the description makes right: stuck, or at a failure level. */
import { codeOfPoint, type Health, numberOf, type PlacedPoint } from "byterail";
import { healthOf } from "byterail/map";
import type { Base } from "../base.js";
import type { Fact, Key } from "../facts.js";
import type { Cause } from "../hypothesis.js";
import { suspects } from "../point.js";

/** Equal counts in all frames while the truth changed. */
export const stuck: Cause = function* (base) {
  for (const { key, point, where } of suspects(base)) {
    const read = readingsOf(base, key);
    if (read.some(({ bits }) => bits === null || bits !== read[0]!.bits)) continue;
    // One frame alone shows nothing: its truth fits.
    if (oneTruthFits(read.map(({ fact }) => fact))) continue;
    // What reports a failure stands still by nature; saying so too would say less.
    if (isReport(levelOf(point, base.readers.get(key)!.counts(read[0]!.bits!)))) continue;
    const says = `${point.name} is stuck: it reads the same in all ${read.length} frames in which it is known, while the truth changed. Look at the sensor, its wiring and its channel.`;
    yield { cause: "stuck", where, says, assumes: 5, effect: { excused: key }, station: null };
  }
};

/** Counts that report a failure, or the end of what they can be, where a fact is wrong. */
export const failureLevel: Cause = function* (base) {
  for (const { key, point, where } of suspects(base)) {
    const wrong = readingsOf(base, key).filter(({ right }) => !right);
    const levels = wrong.map(({ bits }) =>
      bits === null ? null : levelOf(point, base.readers.get(key)!.counts(bits)),
    );
    if (levels.some((level) => level === null)) continue;
    const says = `The signal of ${point.name} is at a failure level (${[...new Set(levels)].join(", ")}). Look at the wire, its supply and the instrument.`;
    yield { cause: "failureLevel", where, says, assumes: 3.5, effect: { excused: key }, station: null };
  }
};

interface Read {
  readonly fact: Fact;
  readonly right: boolean;
  readonly bits: number | bigint | null;
}

function readingsOf(base: Base, key: Key): Read[] {
  const reader = base.readers.get(key)!;
  return base.factsAt.get(key)!.map((k) => {
    const fact = base.facts[k]!;
    return { fact, right: base.right[k]!, bits: reader.bits(base.frames[fact.observation]![fact.direction]!, 0) };
  });
}

function isReport(level: ReturnType<typeof levelOf>): boolean {
  return level === "failedLow" || level === "failedHigh";
}

// Of bits, which are 0 or 1 without an error, only equal ones fit.
function oneTruthFits(facts: readonly Fact[]): boolean {
  const low = Math.max(...facts.map(({ known, within }) => Number(known) - within));
  const high = Math.min(...facts.map(({ known, within }) => Number(known) + within));
  return low <= high;
}

function levelOf(point: PlacedPoint, counts: number | bigint): Health | "end of its counts" | null {
  const number = numberOf(point);
  if (!number?.scale && !number?.specialCounts) return null;
  const health = healthOf(number)(counts);
  if (health === "failedLow" || health === "failedHigh" || health === "invalid") return health;
  const code = codeOfPoint(point);
  // A converter that overflows stays at the end of its code; zero is a plain reading.
  return code && Number(counts) !== 0 && (counts === code.min || counts === code.max) ? "end of its counts" : null;
}
