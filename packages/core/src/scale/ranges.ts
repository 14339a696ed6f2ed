/**
 * Standard analog signals of process control.
 * Sources: IEC 60381-1 (direct current), IEC 60381-2 (direct voltage); from memory, the texts were not opened.
 */
import type { Scale, Span } from "../station/description.js";

/** A standard signal: its two ends and its unit. */
export interface SignalRange {
  readonly signal: Span;
  readonly signalUnit: "mA" | "V";
  readonly source: string;
}

const current = (lower: number, upper: number): SignalRange => ({
  signal: [lower, upper],
  signalUnit: "mA",
  source: "IEC 60381-1",
});
const voltage = (lower: number, upper: number): SignalRange => ({
  signal: [lower, upper],
  signalUnit: "V",
  source: "IEC 60381-2",
});

/** Name of a standard signal. */
export type SignalRangeName = "4-20 mA" | "0-20 mA" | "1-5 V" | "0-5 V" | "0-10 V" | "-10-10 V";

/** The standard signals by name. */
export const signalRanges: Readonly<Record<SignalRangeName, SignalRange>> = {
  "4-20 mA": current(4, 20),
  "0-20 mA": current(0, 20),
  "1-5 V": voltage(1, 5),
  "0-5 V": voltage(0, 5),
  "0-10 V": voltage(0, 10),
  "-10-10 V": voltage(-10, 10),
};

/**
 * The scale of a channel on a standard signal.
 *
 * @example
 * ```ts
 * import { signalScale } from "byterail";
 * signalScale("4-20 mA", [4000, 20000], [0, 10], "bar").signal; // → [4, 20]
 * ```
 * @param counts at the two ends of the signal
 * @param value at the two ends, in `unit`; left out, the signal is the value
 */
export function signalScale(range: SignalRangeName, counts: Span, value?: Span, unit?: string): Scale {
  const { signal, signalUnit } = signalRanges[range];
  return { counts, signal, signalUnit, ...(value && { value }), ...(unit !== undefined && { unit }) };
}
