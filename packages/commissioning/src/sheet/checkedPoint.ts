/** What every check says of its point, whatever kind of point it is. */
import type { Direction } from "byterail";

/** The point of a check. */
export interface CheckedPoint {
  readonly direction: Direction;
  readonly name: string;
  readonly title: string | null;
  readonly module: string;
  readonly slot: number;
  /** IEC 61131-3, or null where no address can tell the point. */
  readonly address: string | null;
}
