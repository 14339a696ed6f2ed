/**
 * The acceptance band: how far a reading may lie from the value that its counts stand for. Three errors make it: that of
 * the instrument, that of the channel, and the rounding to counts. Each is a largest error ±a about which nothing else is
 * known, so a rectangular distribution of standard uncertainty a/√3 (JCGM 100:2008, 4.3.7). They are independent:
 * u² = Σ (c·a)²/3 (JCGM 100:2008, eq. 10), where c is the slope of the characteristic. The band is √3·u = √Σ(c·a)², or,
 * for the worst case, the plain sum.
 */
import type { Accuracy } from "byterail";

/** How errors are combined. */
export type Combination = "rootSumOfSquares" | "worstCase";

/** One error, as a largest deviation in value units. */
export interface BandPart {
  readonly of: "instrument" | "channel" | "rounding";
  readonly limit: number;
}

/** An acceptance band, in value units. */
export interface Band {
  readonly parts: readonly BandPart[];
  /** The reading may lie this far to either side. */
  readonly halfWidth: number;
  /** Standard uncertainty of the parts combined: √Σ(a²/3). */
  readonly standardUncertainty: number;
}

/** What a sheet prints about the way its bands were made. */
export interface Method {
  readonly combination: Combination;
  readonly formula: string;
  readonly source: string;
}

/** Combines errors to a band. */
export function bandOf(parts: readonly BandPart[], combination: Combination): Band {
  const squares = Math.hypot(...parts.map(({ limit }) => limit));
  const sum = parts.reduce((total, { limit }) => total + limit, 0);
  return {
    parts,
    halfWidth: combination === "worstCase" ? sum : squares,
    standardUncertainty: squares / Math.sqrt(3),
  };
}

/** An error given in the description as a largest deviation; `span` is that of the value. */
export function limitOf(accuracy: Accuracy, span: number): number {
  return "absolute" in accuracy ? Math.abs(accuracy.absolute) : Math.abs((accuracy.percentOfSpan / 100) * span);
}

/** The formula of a combination and where it comes from. */
export function methodOf(combination: Combination): Method {
  const source = "JCGM 100:2008 (GUM): each error ±a taken as rectangular, u = a/√3 (4.3.7)";
  if (combination === "worstCase")
    return {
      combination,
      formula: "± (a_instrument + a_channel + a_rounding), the worst case: all at their ends at once",
      source: `${source}; the plain sum bounds the error whatever the distribution`,
    };
  return {
    combination,
    formula: "± √(a_instrument² + a_channel² + a_rounding²) = ± √3 · u, with u = √(Σ a²/3); a in value units",
    source: `${source}; combined by eq. 10, independent; coverage factor √3`,
  };
}
