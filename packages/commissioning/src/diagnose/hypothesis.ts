/** A hypothesis: one cause at one place, how frames would then be read, and the change that would make it right. */
import type { Direction, PlacedPoint, Station } from "byterail";
import type { Base } from "./base.js";
import type { Key } from "./facts.js";

/** The causes that are tried. */
export type CauseName =
  | "byteOrder"
  | "wordOrder"
  | "shift"
  | "modulesExchanged"
  | "moduleMissing"
  | "moduleExtra"
  | "sign"
  | "justification"
  | "signalRange"
  | "countFormat"
  | "channelsExchanged"
  | "bitOrder"
  | "registerBytes"
  | "length"
  | "stuck"
  | "failureLevel";

/** Where a cause is; what does not apply is null, and all null is the whole station. */
export interface Where {
  readonly direction: Direction | null;
  readonly module: string | null;
  readonly point: string | null;
}

/** What is done to the bytes of a frame before they are read, where no description can say it. */
export interface FrameEdit {
  readonly direction: Direction;
  readonly does: "exchangeRegisterBytes" | "reverseBits" | "lacksFirstBytes" | "startsWithHeader";
  /** Bytes that the frame lacks, or that its header has; 0 for the others. */
  readonly bytes: number;
}

/** How known points are read under a hypothesis, as far as it differs from the base. */
export interface Effect {
  /** Points that stand elsewhere or mean something else; null: not in the image. */
  readonly points?: ReadonlyMap<Key, PlacedPoint | null>;
  /** Bytes by which the points of a module, told by its index, are shifted; null: not in the image. */
  readonly moved?: (direction: Direction, module: number) => number | null;
  /** Lengths of images. */
  readonly lengths?: Readonly<Partial<Record<Direction, number>>>;
  /** Lengths that frames may have beside. */
  readonly cut?: Base["cut"];
  readonly frame?: FrameEdit;
  /** A point whose facts its signal accounts for. */
  readonly excused?: Key;
}

/** One cause at one place. */
export interface Hypothesis {
  readonly cause: CauseName;
  readonly where: Where;
  /** What it says, as one sentence. */
  readonly says: string;
  /** How much it assumes: orders explanations of one rank, nothing more. */
  readonly assumes: number;
  readonly effect: Effect;
  /** The description that would be right; null where no description can be. */
  readonly station: (() => Station) | null;
  /** Whether the changed entry can stand in a description; asked only where it makes a fact right. */
  readonly stands?: () => boolean;
}

/** Makes hypotheses of one cause for a base. */
export type Cause = (base: Base) => Iterable<Hypothesis>;

/** Nowhere in particular. */
export const everywhere: Where = { direction: null, module: null, point: null };
