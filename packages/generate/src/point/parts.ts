/** The bytes of a point: which bits of which image byte are which bits of the point. */
import type { PlacedPoint } from "byterail";

/** The bits that a point has in one image byte. */
export interface Part {
  /** Image byte. */
  readonly byte: number;
  /** Lowest bit in that byte. */
  readonly bit: number;
  /** How many bits, 1 to 8. */
  readonly bits: number;
  /** The bit of the point that stands there. */
  readonly weight: number;
}

/** The parts of a point, least significant first. */
export function partsOf({ positions, low, bits }: PlacedPoint): Part[] {
  const parts: Part[] = [];
  for (let weight = 0; weight < bits; ) {
    const at = low + weight;
    const here = Math.min(8 - (at & 7), bits - weight);
    parts.push({ byte: positions[at >> 3]!, bit: at & 7, bits: here, weight });
    weight += here;
  }
  return parts;
}
