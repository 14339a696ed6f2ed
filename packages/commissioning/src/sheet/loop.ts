/** The loop check of one analog point: so many points up the span and down again, each with what to see and how far off it may be. */
import {
  type Accuracy,
  acceptedValues,
  type Direction,
  type ImageLayout,
  numberOf,
  type PlacedPoint,
  unitOf,
} from "byterail";
import { healthOf } from "byterail/map";
import { type AddressOptions, pointAddress } from "byterail/map";
import { type Band, type BandPart, bandOf, type Combination, limitOf } from "./band.js";
import type { CheckedPoint } from "./checkedPoint.js";
import { short } from "./figures.js";
import { type ByteRun, bytesOf, holds, maskOf } from "./image.js";
import { type PointSpan, spanOf } from "./span.js";

/** One point of a loop check. */
export interface LoopRow {
  readonly run: "up" | "down";
  /** What was asked for, in percent of the span. */
  readonly percent: number;
  /** The nearest counts; of a real, the number on the wire. */
  readonly counts: number;
  /** What these counts are, in percent of the span. */
  readonly truePercent: number;
  /** In `signalUnit`; null without a signal. */
  readonly signal: number | null;
  /** In `unit`. */
  readonly value: number;
  readonly bytes: readonly ByteRun[];
  readonly band: Band;
  /** Lowest and highest acceptable value. */
  readonly accept: readonly [low: number, high: number];
  /** The same as a signal: what a meter at an output may show. */
  readonly acceptSignal: readonly [low: number, high: number] | null;
}

/** A point that was asked for and is not to be driven. */
export interface LeftOut {
  readonly percent: number;
  readonly why: string;
}

/** The check of one analog point. */
export interface Loop extends CheckedPoint {
  /** `uint16`, `field` and so on, with its width in bits. */
  readonly type: PlacedPoint["type"];
  readonly bits: number;
  readonly counts: readonly [number, number];
  readonly value: readonly [number, number];
  readonly signal: readonly [number, number] | null;
  readonly signalUnit: "mA" | "V" | null;
  readonly unit: string | null;
  /** The bits of the point in its bytes; null where it fills them. */
  readonly mask: readonly ByteRun[] | null;
  readonly rows: readonly LoopRow[];
  readonly leftOut: readonly LeftOut[];
  /** Errors of which the description says nothing; the band is without them. */
  readonly unknownErrors: readonly ("instrument" | "channel")[];
  /** Outputs: what it does when the network is lost; null where the description does not say. */
  readonly onNetworkLoss: string | null;
}

/** What a loop check depends on beside the point. */
export interface LoopOptions {
  readonly steps: readonly number[];
  readonly combination: Combination;
  readonly addresses: AddressOptions;
  /** Error of the channels of the point's module. */
  readonly channel: Accuracy | undefined;
  readonly onNetworkLoss: string | null;
}

/** The loop check of a point, or null for one without a span. */
export function loopOf(image: ImageLayout, point: PlacedPoint, options: LoopOptions): Loop | null {
  const { direction } = image;
  const span = spanOf(point, direction);
  if (!span) return null;
  const { name, module, slot, type, bits, description } = point;
  const instrument = numberOf(point)?.scale?.accuracy;
  const { up, leftOut } = stepsOf(point, direction, span, options.steps);
  const bytes = bytesOf(image, point);
  const rowOf = (run: LoopRow["run"], [percent, counts]: Step): LoopRow => {
    const value = span.valueOf(counts);
    const band = bandOf(partsOf(point, span, counts, instrument, options.channel), options.combination);
    const accept = [value - band.halfWidth, value + band.halfWidth] as const;
    return {
      run,
      percent,
      counts,
      truePercent: span.percentOf(counts),
      signal: span.signalOf?.(counts) ?? null,
      value,
      bytes: bytes(counts),
      band,
      accept,
      acceptSignal: span.signalOf && ascending(accept.map((end) => span.signalOf!(span.countsOf(end)))),
    };
  };
  return {
    ...{ direction, name, title: description.title ?? null, module, slot, type, bits },
    address: pointAddress(point, direction, options.addresses),
    counts: span.counts,
    value: span.value,
    signal: span.signalOf && [span.signalOf(span.counts[0]), span.signalOf(span.counts[1])],
    signalUnit: span.signalUnit,
    unit: unitOf(point),
    mask: maskOf(point),
    rows: [...up.map((step) => rowOf("up", step)), ...[...up].reverse().map((step) => rowOf("down", step))],
    leftOut,
    unknownErrors: [
      ...(instrument ? [] : (["instrument"] as const)),
      ...(options.channel ? [] : (["channel"] as const)),
    ],
    onNetworkLoss: options.onNetworkLoss,
  };
}

type Step = readonly [percent: number, counts: number];

function stepsOf(point: PlacedPoint, direction: Direction, span: PointSpan, steps: readonly number[]) {
  const accepted = acceptedValues(point, direction);
  const healthAt = healthOf({ ...numberOf(point)!, scale: {} });
  const fits = holds(point);
  const unit = unitOf(point);
  const up: Step[] = [];
  const leftOut: LeftOut[] = [];
  for (const percent of steps) {
    const counts = span.countsAt(percent);
    const value = span.valueOf(counts);
    const health = healthAt(counts);
    const why = !fits(counts)
      ? `${counts} counts are more than the ${point.bits} bits hold`
      : accepted && !(value >= accepted[0] && value <= accepted[1])
        ? `${short(value)}${unit ? ` ${unit}` : ""} lies beyond the limits ${accepted[0]} to ${accepted[1]}`
        : health !== "ok" && health !== "none"
          ? `${counts} counts report ${health} and are no measurement`
          : null;
    if (why) leftOut.push({ percent, why });
    else up.push([percent, counts]);
  }
  return { up, leftOut };
}

// Through a curve, an error of the counts weighs as much as the value changes over it: the slope c of the formula, taken
// over the error itself, as a root has no slope at its zero.
function partsOf(
  point: PlacedPoint,
  span: PointSpan,
  counts: number,
  instrument: Accuracy | undefined,
  channel: Accuracy | undefined,
): BandPart[] {
  const valueSpan = span.value[1] - span.value[0];
  const through = (error: number) => {
    if (span.shape === "linear") return Math.abs((error * valueSpan) / (span.counts[1] - span.counts[0]));
    const value = span.valueOf(counts);
    return Math.max(...[error, -error].map((e) => Math.abs(span.valueOf(counts + e) - value)));
  };
  const ofChannel = (accuracy: Accuracy) =>
    "absolute" in accuracy || span.shape === "linear"
      ? limitOf(accuracy, valueSpan)
      : through(limitOf(accuracy, span.counts[1] - span.counts[0]));
  return [
    ...(instrument ? [{ of: "instrument" as const, limit: limitOf(instrument, valueSpan) }] : []),
    ...(channel ? [{ of: "channel" as const, limit: ofChannel(channel) }] : []),
    ...(point.kind === "real" ? [] : [{ of: "rounding" as const, limit: through(0.5) }]),
  ];
}

function ascending(ends: readonly number[]): readonly [number, number] {
  return [Math.min(...ends), Math.max(...ends)];
}
