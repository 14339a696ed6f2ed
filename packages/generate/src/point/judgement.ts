/**
 * Health as a table: special counts, then bands of counts, for targets that write the judgement out. The bands are found by
 * asking the core, which alone knows the rules.
 */
import { codeOfPoint, type Health, numberOf, type PlacedPoint } from "byterail";
import { healthOf } from "byterail/map";

/** Counts up to and including `upTo` are of this health; the last band has no end. */
export interface Band {
  readonly upTo: number | null;
  readonly health: Health;
}

/** What is known of the health of a point. */
export interface Judgement {
  readonly special: readonly { readonly counts: number; readonly health: Health }[];
  /** Rising; at least one. */
  readonly bands: readonly Band[];
}

/** The judgement of a point, or null for one that is never anything but `none`. */
export function judgementOf(point: PlacedPoint): Judgement | null {
  const number = numberOf(point);
  if (!number) return null;
  const { specialCounts: special = [], ...plain } = number;
  const health = healthOf(plain);
  const bands = bandsBetween(health, ...(point.code === null ? realRange : countsRange(point)));
  const [only] = bands;
  // Where nothing but special counts judges, the core is asked about counts that are not among them. Where a signal judges
  // too, its bands are all there is to know: counts outside the range of the code would be judged otherwise.
  if (bands.length === 1 && only!.health === "none" && special.length > 0) {
    const other = [...special.keys(), special.length].find((n) => special.every(({ counts }) => counts !== n))!;
    return { special, bands: [{ ...only!, health: healthOf(number)(other) }] };
  }
  const silent = bands.length === 1 && only!.health === "none" && point.code !== null;
  return silent ? null : { special, bands };
}

type Axis = { readonly of: (index: bigint) => number; readonly first: bigint; readonly last: bigint };

function countsRange(point: PlacedPoint): [Axis] {
  const { min, max } = codeOfPoint(point)!;
  return [{ of: Number, first: BigInt(min), last: BigInt(max) }];
}

// Finite doubles in their order, numbered by their patterns.
const realRange: [Axis] = [{ of: doubleAt, first: -0x7fef_ffff_ffff_ffffn, last: 0x7fef_ffff_ffff_ffffn }];

function doubleAt(index: bigint): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, index < 0n ? -index : index);
  return (index < 0n ? -1 : 1) * view.getFloat64(0);
}

// The health changes only one way along the counts, so each change is found by halving.
function bandsBetween(health: (counts: number) => Health, { of, first, last }: Axis): Band[] {
  const bands: Band[] = [];
  let from = first;
  for (;;) {
    const here = health(of(from));
    if (health(of(last)) === here) return [...bands, { upTo: null, health: here }];
    let [low, high] = [from, last];
    while (high - low > 1n) {
      const middle = (low + high) >> 1n;
      if (health(of(middle)) === here) low = middle;
      else high = middle;
    }
    bands.push({ upTo: of(low), health: here });
    from = high;
  }
}
