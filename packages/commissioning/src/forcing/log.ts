/** The log of a forcing table: every change, in order, never shortened. */
import type { PointValue } from "byterail";

/** What changed. `expired`: the time of the force ran out; `disposed`: its scope ended with the force still on. */
export type ForceChange = "forced" | "changed" | "released" | "expired" | "disposed";

/** One change. */
export interface ForceLogEntry {
  /** When, in milliseconds on the table's clock; of an expiry, when the time ran out. */
  readonly at: number;
  readonly what: ForceChange;
  readonly name: string;
  /** The value forced, or the one that is no longer. */
  readonly value: PointValue;
  /** Who forced or released; null where nobody was named. */
  readonly by: string | null;
  /** Of whatever lets go: what to mind. Null of a force. */
  readonly caution: string | null;
}
