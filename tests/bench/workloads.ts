/**
 * The two stations that are measured. Everything in them is scaled to engineering units where a real station would be:
 * A is one small block, B a full cabinet of 36 modules.
 */
import { type Entry, type ImageLayout, type Module, type NumberType, type Station, assemble } from "byterail";

/** A station to measure, with frames that a station could send. */
export interface Workload {
  readonly id: "A" | "B";
  readonly title: string;
  readonly station: Station;
  readonly inputs: ImageLayout;
  /** 64 frames, all different, in one run of bytes and as views on it. */
  readonly capture: Uint8Array;
  readonly frames: readonly Uint8Array[];
  /** One point of every kind, read on their own. */
  readonly five: readonly [string, string, string, string, string];
}

/** Number of different frames; a power of two. */
export const frameCount = 64;

// 00 00 | 00 00 | 00 00 | 00 00 | 00 00 | 00 00 00 00
// b15-b0  u1      u2      i1      i2      f
const block: Module = {
  name: "block",
  inputs: [
    ...times(16, (k) => bit(`b${k}`)),
    { name: "level", type: "uint16", scale: { counts: [0, 20000], value: [0, 100], unit: "%" } },
    {
      ...{ name: "supply", type: "uint16", byteOrder: "big" },
      scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
    },
    { name: "temperature", type: "int16", scale: { counts: [0, 1500], value: [0, 150], unit: "°C" } },
    {
      ...{ name: "torque", type: "int16", byteOrder: "big" },
      scale: { counts: [-32000, 32000], value: [-10, 10], unit: "N·m" },
    },
    { name: "density", type: "float32", unit: "kg/m³" },
  ],
};

const cabinet: readonly Module[] = [
  ...modules(4, "switches", (m) => times(16, (k) => bit(`switch${m}_${k}`))),
  ...modules(20, "analog", (m) =>
    times(8, (k) => scaled(`analog${m}_${k}`, k % 2 ? "uint16" : "int16", 20000, 100 + k)),
  ),
  ...modules(5, "counters", (m) => times(4, (k) => scaled(`count${m}_${k}`, "uint32", 1_000_000, 1000))),
  ...modules(2, "meters", (m) => times(5, (k) => ({ name: `meter${m}_${k}`, type: "float32" }))),
  ...modules(5, "channels", (m) =>
    times(4, (k) => ({
      word: 16,
      fields: [
        { name: `channel${m}_${k}`, bits: 12, shift: 4, scale: { counts: [0, 4095], value: [0, 100] } },
        ...times(4, (b) => ({ name: `status${m}_${k}_${b}`, bit: b })),
      ],
    })),
  ),
];

/** A: 14 bytes, 21 values. */
export const workloadA: Workload = workload(
  "A",
  "14 bytes, 21 values",
  "little",
  [block],
  ["b3", "level", "torque", "supply", "density"],
);

/** B: 488 bytes, 354 values. */
export const workloadB: Workload = workload("B", "488 bytes, 354 values", "big", cabinet, [
  "switch2_5",
  "analog9_3",
  "count3_1",
  "meter1_2",
  "channel4_2",
]);

/** Both. */
export const workloads: readonly Workload[] = [workloadA, workloadB];

/** A station of `bytes` bytes of 16-bit values in modules of eight: to see how assembly grows. */
export function wideStation(bytes: number): Station {
  const count = Math.ceil(bytes / 16);
  const points = (m: number) => times(8, (k) => scaled(`analog${m}_${k}`, "int16", 20000, 100 + k));
  return { format: 1, name: "wide", byteOrder: "big", modules: modules(count, "analog", points) };
}

/** The seeded generator of everything random here (mulberry32, public domain): whole numbers below 2^32. */
export function randomFrom(seed: number): () => number {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (t ^ (t >>> 14)) >>> 0;
  };
}

/** Consecutive frames of a workload in one run of bytes. */
export function captureOf({ byteLength, points }: ImageLayout, count: number): Uint8Array {
  const random = randomFrom(14);
  const bytes = new Uint8Array(byteLength * count).map(random);
  const reals = points.filter(({ kind }) => kind === "real");
  const scratch = new DataView(new ArrayBuffer(4));
  for (let start = 0; start < bytes.length; start += byteLength)
    for (const { positions } of reals) {
      // A measured value, no bit pattern at random: those are mostly absurd, and sometimes NaN.
      scratch.setFloat32(0, (random() % 200_001) / 100 - 1000, true);
      positions.forEach((position, k) => {
        bytes[start + position] = scratch.getUint8(k);
      });
    }
  return bytes;
}

function workload(
  id: Workload["id"],
  title: string,
  byteOrder: "little" | "big",
  modules: readonly Module[],
  five: Workload["five"],
): Workload {
  const station: Station = { format: 1, name: `station${id}`, byteOrder, modules };
  const inputs = assemble(station).inputs as ImageLayout;
  const capture = captureOf(inputs, frameCount);
  const frames = times(frameCount, (k) => capture.subarray(k * inputs.byteLength, (k + 1) * inputs.byteLength));
  return { id, title, station, inputs, capture, frames, five };
}

function modules(count: number, name: string, points: (index: number) => readonly Entry[]): Module[] {
  return times(count, (m) => ({ name: `${name}${m}`, inputs: points(m) }));
}

function scaled(name: string, type: NumberType, counts: number, value: number): Entry {
  return { name, type, scale: { counts: [0, counts], value: [0, value] } };
}

function bit(name: string): Entry {
  return { name, type: "bit" };
}

function times<T>(count: number, make: (index: number) => T): T[] {
  return Array.from({ length: count }, (_, index) => make(index));
}
