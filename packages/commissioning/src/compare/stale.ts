/**
 * The quiet disaster: somebody goes on with the old map. What each old point would then read from the new image (or, as an
 * output, drive in it), found bit by bit.
 */
import type { Direction, ImageLayout } from "byterail";
import { imageBit, spelling } from "./place.js";
import type { Pair, PointChangeKind } from "./points.js";

/** What a consumer with the old map gets for one point. */
export interface StalePoint {
  readonly direction: Direction;
  /** The point as the old map calls it. */
  readonly name: string;
  /**
   * The worst that holds: bits of `anotherPoint`; bits `beyondEnd` of the new image; bits that mean `nothing`; the `sameBits`,
   * read as another type, in another order or on another scale.
   */
  readonly effect: "anotherPoint" | "beyondEnd" | "nothing" | "sameBits";
  /** The new points that it overlaps, with the bits of each. */
  readonly overlaps: readonly { readonly name: string; readonly bits: number }[];
  /** Bits that no new point uses. */
  readonly unused: number;
  /** Bits that lie beyond the end of the new image. */
  readonly beyond: number;
}

/** The old points that an old consumer gets wrong; those that it still gets right are left out. */
export function stalePoints(after: ImageLayout, pairs: readonly Pair[]): readonly StalePoint[] {
  const owners = new Int32Array(8 * after.byteLength).fill(-1);
  after.points.forEach((point, index) => {
    const bytes = spelling(point);
    for (let k = 0; k < point.bits; k++) owners[imageBit(bytes, point.low, k)] = index;
  });
  return pairs.flatMap(({ old, new: now, change }): StalePoint[] => {
    if (!old || change.changes.every((kind) => harmless.has(kind))) return [];
    const bytes = spelling(old);
    const counted = new Map<number, number>();
    let beyond = 0;
    for (let k = 0; k < old.bits; k++) {
      const owner = owners[imageBit(bytes, old.low, k)];
      if (owner === undefined) beyond++;
      else counted.set(owner, (counted.get(owner) ?? 0) + 1);
    }
    const unused = counted.get(-1) ?? 0;
    counted.delete(-1);
    const overlaps = [...counted].map(([index, bits]) => ({ name: after.points[index]!.name, bits }));
    const strange = overlaps.some(({ name }) => name !== now?.name);
    const effect = strange ? "anotherPoint" : beyond > 0 ? "beyondEnd" : unused > 0 ? "nothing" : "sameBits";
    return [{ direction: after.direction, name: old.name, effect, overlaps, unused, beyond }];
  });
}

const harmless: ReadonlySet<PointChangeKind> = new Set(["unchanged", "renamed", "redescribed"]);
