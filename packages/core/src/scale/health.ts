/**
 * Health: what counts say beside their value. Decode never clamps, so the judgement stands apart from the number.
 * NAMUR NE 43, for signals of 4 to 20 mA: 3.8 to 20.5 mA measures, 3.6 mA or less and 21 mA or more report a failure.
 */
import type { Health, NumberBase, Scale } from "../station/description.js";
import { ratioOf } from "./linear.js";

/** The ends of the bands of NAMUR NE 43, in mA. */
export const ne43 = { failedLow: 3.6, measuringLow: 3.8, measuringHigh: 20.5, failedHigh: 21 } as const;

/** Judges counts. */
export type HealthOf = (counts: number | bigint) => Health;

/**
 * The judge of a point: its special counts first, then NE 43 where the signal ends are 4 and 20 mA. Counts that pass
 * every rule there is are `ok`; where there is none to break they are `none`.
 */
export function healthOf({ scale, specialCounts, code }: NumberBase): HealthOf {
  const special = new Map(specialCounts?.map(({ counts, health }) => [String(counts), health]));
  const band = scale && hasNe43(scale) ? bandsOf(scale) : null;
  const otherwise: Health = special.size > 0 || code === "bcd" ? "ok" : "none";
  return (counts) => {
    const n = Number(counts);
    if (!Number.isFinite(n)) return "invalid";
    return special.get(String(counts)) ?? (band ? band(n) : otherwise);
  };
}

/** Whether the ends of the signal are 4 and 20 mA, in either order. */
export function hasNe43({ counts, signal, signalUnit }: Scale): boolean {
  return (
    counts !== undefined && signalUnit === "mA" && Math.min(...(signal ?? [])) === 4 && Math.max(...signal!) === 20
  );
}

// Compared in whole tenths of a milliampere times c, not in rounded milliamperes: exact, as the ends are whole numbers.
function bandsOf({ counts, signal }: Scale): (n: number) => Health {
  const ratio = ratioOf(counts!, signal!);
  const [a, b, c] = [Number(ratio.a), Number(ratio.b), Number(ratio.c)];
  const [failedLow, low, high, failedHigh] = Object.values(ne43).map((mA) => Math.round(10 * mA) * c) as [
    number,
    number,
    number,
    number,
  ];
  return (n) => {
    const x = 10 * (a * n + b);
    if (x <= failedLow) return "failedLow";
    if (x < low) return "belowMeasuring";
    if (x <= high) return "ok";
    return x < failedHigh ? "aboveMeasuring" : "failedHigh";
  };
}
