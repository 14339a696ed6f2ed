/** The comparison of two revisions of a station, as plain data. Its cost grows with the bits of the two images, no faster. */
import type { Direction, Layout } from "byterail";
import type { AddressOptions } from "byterail/map";
import { type AffectedAddress, type AffectedArtefact, affectedAddresses, affectedArtefacts } from "./affected.js";
import { compareModules, type ModuleChange } from "./modules.js";
import { type PointChange, type PointChangeKind, pairPoints, pointChangeKinds } from "./points.js";
import { type StalePoint, stalePoints } from "./stale.js";

/** Length of one image in both revisions, in bytes. */
export interface SizeChange {
  readonly old: number;
  readonly new: number;
  /** Whether a partner with the old map is told: by the other `length`, or by `nothing`. */
  readonly toldBy: "length" | "nothing";
}

/** Two revisions compared. */
export interface Comparison {
  readonly station: { readonly old: string; readonly new: string };
  readonly sizes: { readonly inputs: SizeChange; readonly outputs: SizeChange };
  /** Every point of either revision, inputs first. */
  readonly points: readonly PointChange[];
  /** How many points are of each kind; a point may count in several. */
  readonly totals: Readonly<Record<PointChangeKind, number>>;
  readonly modules: readonly ModuleChange[];
  readonly artefacts: readonly AffectedArtefact[];
  readonly addresses: readonly AffectedAddress[];
  /** What a partner that goes on with the old map would read or drive; empty where it would notice nothing wrong. */
  readonly stale: readonly StalePoint[];
}

/** How addresses are written. */
export interface CompareOptions {
  readonly addresses?: { readonly inputs?: AddressOptions; readonly outputs?: AddressOptions };
}

/**
 * Compares two revisions of a station.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { compare } from "@byterail/commissioning";
 * const tank = { name: "tank", inputs: [{ name: "level", type: "uint16" }] } as const;
 * const valve = { name: "valve", inputs: [{ name: "isOpen", type: "bit" }] } as const;
 * const old = assemble({ format: 1, name: "rig", byteOrder: "big", modules: [tank] });
 * const now = assemble({ format: 1, name: "rig", byteOrder: "big", modules: [valve, tank] });
 * const { points, stale } = compare(old, now);
 * points.map(({ name, changes }) => [name, ...changes]); // → [["isOpen", "added"], ["level", "moved"]]
 * stale[0]!.overlaps; // → [{ name: "level", bits: 8 }, { name: "isOpen", bits: 1 }]
 * ```
 */
export function compare(oldLayout: Layout, newLayout: Layout, { addresses = {} }: CompareOptions = {}): Comparison {
  const sizes = { inputs: sizeOf(oldLayout, newLayout, "inputs"), outputs: sizeOf(oldLayout, newLayout, "outputs") };
  const pairs = (direction: Direction) =>
    pairPoints(oldLayout[direction], newLayout[direction], addresses[direction] ?? {});
  const [inputs, outputs] = [pairs("inputs"), pairs("outputs")];
  const points = [...inputs, ...outputs].map(({ change }) => change);
  const totals = Object.fromEntries(pointChangeKinds.map((kind) => [kind, 0])) as Record<PointChangeKind, number>;
  for (const { changes } of points) for (const kind of changes) totals[kind]++;
  const resized = sizes.inputs.old !== sizes.inputs.new || sizes.outputs.old !== sizes.outputs.new;
  const kinds = new Set(pointChangeKinds.filter((kind) => totals[kind] > 0));
  return {
    station: { old: oldLayout.station.name, new: newLayout.station.name },
    sizes,
    points,
    totals,
    modules: compareModules(oldLayout, newLayout),
    artefacts: affectedArtefacts(new Set([...kinds, ...(resized ? (["resized"] as const) : [])])),
    addresses: affectedAddresses(points),
    stale: [...stalePoints(newLayout.inputs, inputs), ...stalePoints(newLayout.outputs, outputs)],
  };
}

function sizeOf(before: Layout, after: Layout, direction: Direction): SizeChange {
  const [old, now] = [before[direction].byteLength, after[direction].byteLength];
  return { old, new: now, toldBy: old === now ? "nothing" : "length" };
}
