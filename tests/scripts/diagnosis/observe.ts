// Observations of a station as built: random states, sensor noise, and knowledge of a part of the points.

import type { Known, Observation } from "@byterail/commissioning";
import {
  assemble,
  characteristicOf,
  codeOf,
  type Direction,
  encodeRaw,
  type ImageLayout,
  type PlacedPoint,
  type RawValue,
} from "byterail";
import { toHex } from "byterail/frames";
import type { Random } from "./random.js";
import type { FrameFault, Truth } from "./truth.js";

/** Noise of a sensor, one standard deviation, as a part of the span. What is known is known within three of them. */
const noise = 0.001;

/** Points that are known in every observation: those whose reading was complained about. */
export type Watched = ReadonlySet<string>;

export function observe(random: Random, truth: Truth, count: number, watched: Watched, share = 0.5): Observation[] {
  const layout = assemble(truth.station);
  const stuckAt = new Map<string, RawValue>();
  return Array.from({ length: count }, (): Observation => {
    const known: Record<string, Known> = {};
    const frames: Partial<Record<Direction, string>> = {};
    for (const direction of ["inputs", "outputs"] as const) {
      const image = layout[direction] as ImageLayout;
      if (image.points.length === 0) continue;
      const raw: Record<string, RawValue> = {};
      for (const point of image.points) {
        const state = stateOf(random, point);
        raw[point.name] = signal(truth, direction, point, state.raw, stuckAt);
        if (watched.has(point.name) || random.chance(share)) known[point.name] = state.known;
      }
      const bytes = encodeRaw(image, raw as never);
      frames[direction] = toHex(
        truth.frames.reduce(
          (frame, fault) => (fault.direction === direction ? faulty(random, frame, fault) : frame),
          bytes,
        ),
      );
    }
    return { ...frames, known };
  });
}

interface State {
  readonly raw: RawValue;
  readonly known: Known;
}

function stateOf(random: Random, point: PlacedPoint): State {
  if (point.kind === "boolean") {
    const value = random.chance(0.5);
    return { raw: value, known: value };
  }
  if (point.kind === "real") {
    const value = random.next() * 200 - 50;
    const { toPattern } = codeOf("real", point.bits);
    return {
      raw: toPattern(Math.fround(value + 200 * noise * random.normal())),
      known: { value, within: 200 * noise * 3 },
    };
  }
  const code = codeOf(point.code!, point.bits);
  const { scale } = point.description as { readonly scale?: Parameters<typeof characteristicOf>[0] };
  const line = scale && characteristicOf(scale);
  if (!line) {
    const [low, high] = [Number(code.min), Number(code.max)];
    const counts = random.whole(low, high);
    return { raw: counts, known: counts };
  }
  // Anywhere from 3 % to 97 % of the span that both the counts and the values have.
  const ends = scale.counts!;
  const span = Math.abs(line.toValue(ends[1]) - line.toValue(ends[0]));
  const value = line.toValue(ends[0] + (0.03 + 0.94 * random.next()) * (ends[1] - ends[0]));
  const counts = Math.round(line.toCounts(value + span * noise * random.normal()));
  const shown = Number(value.toPrecision(6));
  return {
    raw: Math.min(Number(code.max), Math.max(Number(code.min), counts)),
    known: { value: shown, within: span * noise * 3.1 },
  };
}

// A signal that is stuck stays as it was in the first frame; one at a failure level reads 3.5 mA.
function signal(
  truth: Truth,
  direction: Direction,
  point: PlacedPoint,
  raw: RawValue,
  stuckAt: Map<string, RawValue>,
): RawValue {
  const fault = truth.signals.find((each) => each.direction === direction && each.point === point.name);
  if (!fault) return raw;
  if (fault.does === "failureLevel") {
    const { scale } = point.description as { readonly scale: { readonly counts: readonly [number, number] } };
    const [n0, n1] = scale.counts;
    return Math.floor(n0 + ((3.5 - 4) / 16) * (n1 - n0));
  }
  if (!stuckAt.has(point.name)) stuckAt.set(point.name, raw);
  return stuckAt.get(point.name)!;
}

function faulty(random: Random, frame: Uint8Array, fault: FrameFault): Uint8Array {
  if (fault.does === "header")
    return Uint8Array.from([...Array.from({ length: fault.bytes }, () => random.whole(0, 255)), ...frame]);
  return frame.map((_, k) => frame[k ^ 1]!);
}
