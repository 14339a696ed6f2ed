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
    for (const { name, other } of othersOf(scale)) {
      const isSet = `The channel of ${point.name} is set to ${name}, so its counts stand for another signal.`;
      for (const set of channelSetTo(scale, other))
        yield otherwise(base, suspect, "signalRange", 3, isSet, { ...number, scale: set });
      const sends = `The instrument of ${point.name} sends ${name}, another signal than described.`;
      for (const sent of instrumentSends(scale, other))
        yield otherwise(base, suspect, "signalRange", 3.5, sends, { ...number, scale: sent });
    }
    if (!scale.signal) {
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

// A unit stands beside a signal alone, so where there is none, nor are others.
function othersOf({ signal, signalUnit }: Scale): { name: string; other: Span }[] {
  return Object.entries(signalRanges)
    .filter(
      ([, range]) =>
        range.signalUnit === signalUnit && !(range.signal[0] === signal![0] && range.signal[1] === signal![1]),
    )
    .map(([name, range]) => ({ name, other: range.signal }));
}

// The counts of the channel span another signal; the instrument sends what it did.
function channelSetTo(scale: Scale, other: Span): readonly Scale[] {
  if (!scale.value) return [{ ...scale, signal: other }];
  const { toCounts } = linearScale(scale.counts!, other);
  const [s0, s1] = scale.signal!;
  return told(scale, [toCounts(s0), toCounts(s1)], scale.signal!, other);
}

// The channel reads what it did; the instrument sends another signal for the same values.
function instrumentSends(scale: Scale, other: Span): readonly Scale[] {
  if (!scale.value) return [];
  const { toCounts } = signalOf(scale)!;
  return told(scale, [toCounts(other[0]), toCounts(other[1])], other, scale.signal!);
}

// The new line: by the counts at the ends of the signal that the instrument sends, which keeps its span as it is known; or,
// where those are no counts that the channel has, by its values at the ends of the counts.
function told(scale: Scale, counts: Span, sent: Span, ofCounts: Span): readonly Scale[] {
  const byCounts = counts.every(Number.isInteger) ? [{ ...scale, counts, signal: sent }] : [];
  if (scale.shape === "squareRoot") return byCounts;
  const { toValue } = linearScale(sent, scale.value!);
  const value: Span = [rounded(toValue(ofCounts[0])), rounded(toValue(ofCounts[1]))];
  return [...byCounts, { ...scale, signal: ofCounts, value }];
}

// The end of a span as one would write it.
function rounded(value: number): number {
  return Number(value.toPrecision(12));
}
