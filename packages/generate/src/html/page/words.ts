/** Readings in words, as the page shows them. */
import type { Health } from "byterail";
import type { Inspected } from "byterail/map";

/** Health for a reader; nothing where the description gives nothing to judge by. */
export const healthWords: Readonly<Record<Health, string>> = {
  ok: "ok",
  belowMeasuring: "below measuring range",
  aboveMeasuring: "above measuring range",
  failedLow: "failed low",
  failedHigh: "failed high",
  invalid: "invalid",
  none: "",
};

/** The texts of one point, by column. */
export function readingOf({
  raw,
  signal,
  signalUnit,
  value,
  unit,
  health,
}: Inspected): Record<"raw" | "signal" | "value" | "unit" | "health", string> {
  return {
    raw: typeof raw === "boolean" ? String(Number(raw)) : String(raw),
    signal: signal === null ? "" : `${numberText(signal)}${signalUnit ? ` ${signalUnit}` : ""}`,
    value:
      typeof value === "boolean"
        ? value
          ? "on"
          : "off"
        : typeof value === "number"
          ? numberText(value)
          : String(value),
    unit: unit ?? "",
    health: healthWords[health],
  };
}

// Nine digits are more than any instrument gives, and hide the last places of binary fractions. Integers keep all.
function numberText(x: number): string {
  return Object.is(x, -0) ? "-0" : String(Number.isSafeInteger(x) ? x : Number(x.toPrecision(9)));
}
