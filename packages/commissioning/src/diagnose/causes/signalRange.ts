/**
 * Another standard signal range: the channel is set to 0 to 20 mA where the description says 4 to 20 mA, so that the counts
 * stand for other milliamperes; or the instrument sends another range than described.
 */
import { linearScale, type Scale, signalOf, signalRanges, type Span } from "byterail";
import type { Cause } from "../hypothesis.js";
import { otherwise, suspectNumbers } from "../point.js";

export const signalRange: Cause = function* (base) {
  for (const suspect of suspectNumbers(base)) {
    const { number, point } = suspect;
    const { scale } = number;
    if (!scale?.counts || scale.points) continue;
    for (const { name, other, unit } of othersOf(scale)) {
      const set = channelSetTo(scale, other);
      if (set)
        yield otherwise(
          base,
          suspect,
          "signalRange",
          3,
          `The channel of ${point.name} is set to ${name}, so its counts stand for another signal.`,
          { ...number, scale: set },
        );
      const sent = scale.value && instrumentSends(scale, other, unit);
      if (sent)
        yield otherwise(
          base,
          suspect,
          "signalRange",
          3.5,
          `The instrument of ${point.name} sends ${name}, another signal than described.`,
          { ...number, scale: sent },
        );
    }
    if (!scale.signal && scale.value) {
      const [n0, n1] = scale.counts;
      const whole = (from: number): Span => [Math.round(n0 + from * (n1 - n0)), n1];
      yield otherwise(
        base,
        suspect,
        "signalRange",
        4,
        `The signal of ${point.name} starts at a fifth of its counts: 4 to 20 mA on a channel set to 0 to 20 mA.`,
        { ...number, scale: { ...scale, counts: whole(0.2) } },
      );
      yield otherwise(
        base,
        suspect,
        "signalRange",
        4,
        `The signal of ${point.name} starts a quarter of its span lower: the counts described begin at a live zero that it has not.`,
        { ...number, scale: { ...scale, counts: whole(-0.25) } },
      );
    }
  }
};

function othersOf({ signal, signalUnit }: Scale): { name: string; other: Span; unit: "mA" | "V" }[] {
  if (!signal) return [];
  return Object.entries(signalRanges)
    .filter(
      ([, range]) =>
        range.signalUnit === signalUnit && !(range.signal[0] === signal[0] && range.signal[1] === signal[1]),
    )
    .map(([name, range]) => ({ name, other: range.signal, unit: range.signalUnit }));
}

// The counts of the channel span another signal; the instrument sends what it did.
function channelSetTo(scale: Scale, other: Span): Scale | null {
  if (!scale.value) return { ...scale, signal: other };
  const toCounts = linearScale(scale.counts!, other).toCounts;
  return (
    whole(scale, toCounts(scale.signal![0]), toCounts(scale.signal![1]), scale.signal!) ??
    valued(scale, other, scale.signal!)
  );
}

// The channel reads what it did; the instrument sends another signal for the same values.
function instrumentSends(scale: Scale, other: Span, signalUnit: "mA" | "V"): Scale | null {
  const { toCounts } = signalOf(scale)!;
  const sent = whole({ ...scale, signalUnit }, toCounts(other[0]), toCounts(other[1]), other);
  return sent ?? { ...valued(scale, scale.signal!, other) };
}

function whole(scale: Scale, n0: number, n1: number, signal: Span): Scale | null {
  return Number.isInteger(n0) && Number.isInteger(n1) ? { ...scale, counts: [n0, n1], signal } : null;
}

// Where counts would not be whole the same line is told by its value at the ends of the counts.
function valued(scale: Scale, ofCounts: Span, ofValue: Span): Scale {
  if (scale.shape === "squareRoot")
    return { ...scale, counts: scale.counts!.map(Math.round) as unknown as Span, signal: ofCounts };
  const { toValue } = linearScale(ofValue, scale.value!);
  return { ...scale, signal: ofCounts, value: [rounded(toValue(ofCounts[0])), rounded(toValue(ofCounts[1]))] };
}

function rounded(value: number): number {
  return Number(value.toPrecision(12));
}
