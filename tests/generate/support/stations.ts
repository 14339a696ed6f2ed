// Random stations for generated code, richer than the plain ones: special counts, limits and scaled reals, too. Frames and
// values are random with a liking for the places where something changes. The same in every run.

import {
  type AnyValue,
  acceptedValues,
  assemble,
  codeOfPoint,
  decode,
  type ImageLayout,
  type Layout,
  numberOf,
  patchRaw,
  type PlacedPoint,
  type Station,
} from "byterail";
import { healthOf } from "byterail/map";
import fc from "fast-check";
import { stations } from "../../support/stations.js";

/** A fraction from 0 up to 1. */
export type Random = () => number;

/** Random numbers from a seed (mulberry32, a generator in the public domain). */
export function randomFrom(seed: number): Random {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Layouts of random stations that have points, named `s0`, `s1` …. */
export function richLayouts(count: number, seed: number): Layout[] {
  const random = randomFrom(seed);
  const withPoints = fc.sample(stations(), { seed, numRuns: 3 * count }).filter((station) => {
    const { inputs, outputs } = assemble(station);
    return inputs.points.length + outputs.points.length > 0;
  });
  return withPoints
    .slice(0, count)
    .map((station, k) => assemble(enriched({ ...station, name: `s${k}` }, random)) as Layout);
}

type Loose = { [key: string]: unknown };

function enriched(station: Station, random: Random): Station {
  const copy = structuredClone(station) as unknown as { modules: { inputs?: Loose[]; outputs?: Loose[] }[] };
  const { inputs, outputs } = assemble(station);
  const placed = new Map([...inputs.points, ...outputs.points].map((point) => [point.name, point]));
  for (const { inputs: ins = [], outputs: outs = [] } of copy.modules)
    for (const entry of [...ins, ...outs])
      for (const point of (entry.fields as Loose[] | undefined) ?? [entry])
        enrich(point, placed.get(point.name as string), random);
  return copy as unknown as Station;
}

function enrich(description: Loose, point: PlacedPoint | undefined, random: Random): void {
  if (!point || point.kind === "boolean") return;
  const code = codeOfPoint(point);
  const healths = ["failedHigh", "failedLow", "invalid", "aboveMeasuring", "ok"];
  if (random() < 0.3) {
    const counts = code ? wholes(code, random) : [1.5, -2, 0];
    const some = [
      ...new Set([pick<number | bigint>(counts, random), pick<number | bigint>(counts, random)].map(Number)),
    ].filter((n) => Math.abs(n) <= 2 ** 53);
    if (some.length > 0) description.specialCounts = some.map((n) => ({ counts: n, health: pick(healths, random) }));
  }
  if (!code && random() < 0.5) {
    delete description.unit;
    delete description.limits;
    const ends = { counts: [-1.5, 2.5], value: [10, -7.25] };
    description.scale = pick(
      [
        ends,
        { ...ends, shape: "squareRoot" },
        {
          points: [
            [-3, 0.1],
            [0, 0.2],
            [2.5, 12],
          ],
        },
      ],
      random,
    );
  }
  if (code && !("limits" in description) && random() < 0.3) {
    const scale = description.scale as { value?: [number, number] } | undefined;
    const [from, to] = (scale?.value ?? [random() < 0.5 ? 0 : -2.5, 300]).map((n) => n / 2) as [number, number];
    description.limits = [Math.min(from, to), Math.max(from, to)];
  }
}

function pick<T>(list: readonly T[], random: Random): T {
  return list[Math.floor(random() * list.length)]!;
}

function wholes({ min, max }: { min: number | bigint; max: number | bigint }, random: Random): bigint[] {
  const [low, high] = [BigInt(min), BigInt(max)];
  const within = low + (BigInt(Math.floor(random() * 2 ** 53)) * (high - low)) / 2n ** 53n;
  return [low, low + 1n, 0n, 1n, high - 1n, high, within].filter((n) => n >= low && n <= high);
}

/** A random frame; half of its numbers stand where something changes. */
export function frameOf(image: ImageLayout, random: Random): Uint8Array {
  const frame = Uint8Array.from({ length: image.byteLength }, () => Math.floor(random() * 256));
  for (const point of image.points)
    if (point.kind !== "boolean" && random() < 0.5) patchRaw(image, frame, { [point.name]: notableRaw(point, random) });
  return frame;
}

function notableRaw(point: PlacedPoint, random: Random): AnyValue | string {
  const code = codeOfPoint(point);
  if (!code) return point.bits === 32 ? pick(patterns32, random) : pick(patterns64, random);
  if (point.code === "signMagnitude" && random() < 0.2) return -0;
  const { scale, specialCounts = [] } = numberOf(point)!;
  const ends = [
    ...(scale?.counts ?? []),
    ...(scale?.points?.map(([n]) => n) ?? []),
    ...specialCounts.map(({ counts }) => counts),
    ...changesOf(point),
  ];
  const near = ends.flatMap((n) => [BigInt(n) - 1n, BigInt(n), BigInt(n) + 1n]);
  const notable = [...wholes(code, random), ...near].filter((n) => n >= BigInt(code.min) && n <= BigInt(code.max));
  const chosen = pick(notable, random);
  return point.bits > 53 ? chosen : Number(chosen);
}

const patterns32 = [
  0, 0x80000000, 1, 0x007fffff, 0x00800000, 0x3f800000, 0x3dcccccd, 0x7f7fffff, 0x7f800000, 0xff800000, 0x7fc00001,
  0xc0000000, 0x3fc00000,
];
const patterns64 = [
  0n,
  1n << 63n,
  1n,
  0xfffffffffffffn,
  1n << 52n,
  0x3ff0000000000000n,
  0x7fefffffffffffffn,
  0x7ff0000000000000n,
  0x7ff8000000000001n,
  0x3ff8000000000000n,
];

// Counts at which the health changes on the way from end to end of a 4 to 20 mA signal, by rough steps.
function changesOf(point: PlacedPoint): number[] {
  const number = numberOf(point)!;
  const { counts, signal } = number.scale ?? {};
  if (!counts || !signal) return [];
  const perMilliampere = (counts[1] - counts[0]) / (signal[1] - signal[0]);
  const health = healthOf(number);
  const near = [3.6, 3.8, 20.5, 21].map((mA) => Math.round(counts[0] + (mA - signal[0]) * perMilliampere));
  return near.filter((n) => health(n) !== "none");
}

/** Values of a random frame, some of them changed so that encode may refuse them. */
export function valuesOf(image: ImageLayout, random: Random): Record<string, AnyValue> {
  const values = decode(image, frameOf(image, random));
  // Most frames hold a value that outputs refuse, so many are built of accepted ones only.
  const accepted = random() < 0.5;
  for (const point of image.points)
    if (point.kind !== "boolean" && (accepted || random() < 0.3))
      values[point.name] = notableValue(image, point, accepted, values[point.name]!, random);
  return values;
}

function notableValue(
  image: ImageLayout,
  point: PlacedPoint,
  accepted: boolean,
  value: AnyValue,
  random: Random,
): AnyValue {
  const limits = acceptedValues(point, image.direction);
  const scaled = numberOf(point)!.scale !== undefined;
  if (point.bits > 53 && point.code !== null) {
    const { min, max } = codeOfPoint(point)!;
    return typeof value === "bigint" && accepted ? value : pick([BigInt(min), BigInt(max), 0n, 1n], random);
  }
  if (!scaled && point.code !== null) {
    const whole = typeof value === "number" && Number.isFinite(value) ? value : 0;
    return limits
      ? pick(
          [Math.ceil(limits[0]), Math.floor(limits[1]), ...(accepted ? [] : [Math.ceil(limits[0]) - 1, whole])],
          random,
        )
      : whole;
  }
  const [low, high] = limits ?? [-1000, 1000];
  const inside = low + (high - low) * random();
  if (accepted) return pick([inside, low, high], random);
  return pick(
    [inside, low - 1, high * 1.5 + 1, NaN, Infinity, -Infinity, 1e300, 1e-310, -0, 0, 3.4028235677973366e38],
    random,
  );
}
