/**
 * Warnings for what is legal but bites: a word at an odd byte, and a point that lies across two 16-bit registers though
 * it would fit in one. Both cost the controller bit moves, and are where bytes get swapped.
 */
import type { Problem } from "../problem.js";
import type { Direction } from "../station/description.js";
import { type PlacedPoint, touchedBytes } from "./point.js";

/** Adds the warnings of one image. */
export function warnBoundaries(points: readonly PlacedPoint[], direction: Direction, warnings: Problem[]): void {
  let last = -1;
  for (const point of points) {
    const { byte, module, name, bits } = point;
    const odd = isAtOddByte(point);
    // One warning for a packed word is enough, whatever the number of its fields.
    if (odd ? byte === last : !straddles(point)) continue;
    if (odd) last = byte;
    const message = odd
      ? `its word starts at odd byte ${byte}, so 16-bit registers cut it; alignment 2 would even it out`
      : `its ${bits} bits lie across two 16-bit registers; read both in one request`;
    warnings.push({
      code: odd ? "placement.oddByte" : "placement.straddle",
      path: `${direction} › ${module} › ${name}`,
      message,
    });
  }
}

/** Whether a point is a word of two bytes or more, or lies in one, that starts at an odd byte. */
export function isAtOddByte({ byte, positions }: PlacedPoint): boolean {
  return byte % 2 === 1 && positions.length > 1;
}

/** Whether a point of at most 16 bits touches two registers. */
function straddles(point: PlacedPoint): boolean {
  return point.bits > 1 && point.bits <= 16 && new Set(touchedBytes(point).map((byte) => byte >> 1)).size > 1;
}
