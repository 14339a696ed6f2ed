/** What assembly costs: time, how it grows with the station, and memory per point. */
import { type Layout, type Station, assemble, decode } from "byterail";
import { kept, loop, measure, type Pace } from "./rounds.js";
import { wideStation, workloadA, workloadB } from "./workloads.js";

/** Time to assemble a station, in nanoseconds. */
export interface AssemblyTime {
  readonly title: string;
  readonly points: number;
  readonly time: number;
}

/** Bytes of heap for each point: of the layout alone, and with what the first decode adds to it. */
export interface Memory {
  readonly layout: number;
  readonly withCodec: number;
}

/** Assembly of the workloads and of stations of growing size, measured in turn. */
export function assemblyTimes(pace: Pace): AssemblyTime[] {
  const stations: (readonly [string, Station])[] = [
    ["A", workloadA.station],
    ["B", workloadB.station],
    ...[360, 720, 1440].map((bytes) => [`${bytes} bytes of 16-bit values`, wideStation(bytes)] as const),
  ];
  const contenders = stations.map(([title, station]) => ({
    who: title,
    run: loop("kept[i & 7] = assemble(station);", { kept, assemble, station }),
  }));
  const times = measure(contenders, pace);
  return stations.map(([title, station], k) => ({
    title,
    points: assemble(station).inputs.points.length,
    time: times[k]!,
  }));
}

/** Heap that many layouts of B take; null without `--expose-gc`. */
export function memoryPerPoint(): Memory | null {
  const collect = globalThis.gc;
  if (!collect) return null;
  const { station, frames } = workloadB;
  const count = 64;
  const heap = () => {
    collect();
    collect();
    return process.memoryUsage().heapUsed;
  };
  // Once before, so that what is made only once is not counted.
  decode(assemble(station).inputs, frames[0]!);
  const layouts: Layout[] = new Array(count).fill(null);
  const start = heap();
  for (let k = 0; k < count; k++) layouts[k] = assemble(station) as Layout;
  const assembled = heap();
  for (const { inputs } of layouts) decode(inputs, frames[0]!);
  const decoded = heap();
  const points = count * layouts[0]!.inputs.points.length;
  return { layout: (assembled - start) / points, withCodec: (decoded - start) / points };
}
