/**
 * Arithmetic of a channel in whole numbers: counts → value · 10^decimals on an input, and back on an output, each as
 * (multiply · x + add) / divide with the largest number that turns up on the way. Whatever the width of the counts, a
 * controller that computes in a type which holds that number cannot overflow.
 */
import { acceptedValues, codeOfPoint, type Direction, numberOf, type PlacedPoint, type Ratio, ratioOf } from "byterail";
import { type Curve, curveOf } from "../point/curve.js";
import { inDecimals } from "../point/fixedPoint.js";

/** (multiply · x + add) / divide, divide > 0, rounded to the nearest whole number, ties to even. */
export interface Line {
  readonly multiply: bigint;
  readonly add: bigint;
  readonly divide: bigint;
}

/** A line and where the next one takes over; the last has no border. */
export interface LinePiece {
  /** This line holds where x `<` or `>` the border; on an input counts, on an output value · 10^decimals. */
  readonly border: { readonly sign: "<" | ">"; readonly at: bigint } | null;
  readonly line: Line;
}

/** The arithmetic of one channel. */
export interface ChannelArithmetic {
  /** The fixed-point value is the value times 10^decimals. */
  readonly decimals: number;
  readonly pieces: readonly LinePiece[];
  /** Lowest and highest x: every count that the point can hold, or every fixed-point value that it accepts. */
  readonly from: readonly [bigint, bigint];
  /** Lowest and highest result over that range. */
  readonly to: readonly [bigint, bigint];
  /** The largest number on the way, signs aside. */
  readonly largest: bigint;
}

/**
 * The arithmetic of a scaled integer, or null where there is none in whole numbers: no scale, a square root, a real, or
 * limits that leave no value of so many decimals.
 */
export function channelArithmetic(
  point: PlacedPoint,
  direction: Direction,
  decimals: number,
): ChannelArithmetic | null {
  const curve = curveOf(point);
  const code = codeOfPoint(point);
  if (!curve || !code || curve.shape === "squareRoot") return null;
  const counts = [BigInt(code.min), BigInt(code.max)] as const;
  const toValue = valuePieces(curve, decimals);
  const reach = resultRange(toValue, counts);
  if (direction === "inputs")
    return { decimals, pieces: toValue, from: counts, to: reach, largest: largestOf(toValue, counts) };
  // What the counts reach is rounded here, so that one digit more on either side is what surely reaches their ends.
  const from = within(acceptedFixed(point, decimals), [reach[0] - 1n, reach[1] + 1n]);
  if (from[0] > from[1]) return null;
  const pieces = countsPieces(curve, decimals);
  const [low, high] = resultRange(pieces, from);
  const kept = (n: bigint) => most(counts[0], least(n, counts[1]));
  return { decimals, pieces, from, to: [kept(low), kept(high)], largest: largestOf(pieces, from) };
}

/** The result of a line for x: the exact quotient, rounded, ties to even. */
export function onLine({ multiply, add, divide }: Line, x: bigint): bigint {
  const number = multiply * x + add;
  const floor = (number - (((number % divide) + divide) % divide)) / divide;
  const twice = 2n * (number - floor * divide);
  return twice > divide || (twice === divide && floor % 2n !== 0n) ? floor + 1n : floor;
}

/** The piece that holds for x. */
export function pieceAt(pieces: readonly LinePiece[], x: bigint): LinePiece {
  return pieces.find(({ border }) => !border || (border.sign === "<" ? x < border.at : x > border.at))!;
}

/** Lines of value · 10^decimals from counts, and of counts from that. */
export function forwardLine(ratio: Ratio, decimals: number): Line {
  const { a, b, c } = inDecimals(ratio, decimals);
  return { multiply: a, add: b, divide: c };
}

/** See {@link forwardLine}. A falling line changes all signs, so that what divides stays above 0. */
export function backwardLine(ratio: Ratio, decimals: number): Line {
  const { a, b, c } = inDecimals(ratio, decimals);
  return a > 0n ? { multiply: c, add: -b, divide: a } : { multiply: -c, add: b, divide: -a };
}

function valuePieces(curve: Exclude<Curve, { shape: "squareRoot" }>, decimals: number): LinePiece[] {
  if (curve.shape === "linear") return [{ border: null, line: forwardLine(curve.ratio, decimals) }];
  return curve.pieces.map(({ ratio }, k) => {
    const next = curve.pieces[k + 1];
    return { border: next ? { sign: "<", at: BigInt(next.counts) } : null, line: forwardLine(ratio, decimals) };
  });
}

// A border that is no fixed-point value is moved to the next one on the far side, which changes no comparison.
function countsPieces(curve: Exclude<Curve, { shape: "squareRoot" }>, decimals: number): LinePiece[] {
  if (curve.shape === "linear") return [{ border: null, line: backwardLine(curve.ratio, decimals) }];
  return curve.pieces.map(({ ratio }, k) => {
    const next = curve.pieces[k + 1];
    const line = backwardLine(ratio, decimals);
    if (!next) return { border: null, line };
    const [below, above] = fixedAround(next.value, decimals);
    return { border: curve.values === "rise" ? { sign: "<", at: above } : { sign: ">", at: below }, line };
  });
}

function acceptedFixed(point: PlacedPoint, decimals: number): readonly [bigint, bigint] | null {
  const limits = numberOf(point) && acceptedValues(point, "outputs");
  return limits && [fixedAround(limits[0], decimals)[1], fixedAround(limits[1], decimals)[0]];
}

function within(
  limits: readonly [bigint, bigint] | null,
  [low, high]: readonly [bigint, bigint],
): readonly [bigint, bigint] {
  if (!limits) return [low, high];
  // Limits beyond what the counts reach would only make the numbers larger.
  if (limits[0] > high) return [high, limits[1] < high ? limits[1] : high];
  if (limits[1] < low) return [limits[0] > low ? limits[0] : low, low];
  return [most(limits[0], low), least(limits[1], high)];
}

/** The fixed-point values at or next below, and at or next above, a number of a description. */
export function fixedAround(value: number, decimals: number): readonly [bigint, bigint] {
  if (value === 0) return [0n, 0n];
  // The line through 0 and the value: its rise is the value itself, as an exact fraction.
  const { a, c } = ratioOf([0, 1], [0, value]);
  const top = a * 10n ** BigInt(decimals);
  const floor = (top - (((top % c) + c) % c)) / c;
  return [floor, floor * c === top ? floor : floor + 1n];
}

function resultRange(pieces: readonly LinePiece[], x: readonly [bigint, bigint]): readonly [bigint, bigint] {
  const ends = x.map((end) => onLine(pieceAt(pieces, end).line, end));
  return ends[0]! < ends[1]! ? [ends[0]!, ends[1]!] : [ends[1]!, ends[0]!];
}

// Every line over the whole range of its own piece; at the borders lines meet, so the ends of each piece tell.
function largestOf(pieces: readonly LinePiece[], [low, high]: readonly [bigint, bigint]): bigint {
  const rising = pieces[0]!.border?.sign !== ">";
  let largest = 0n;
  let from = rising ? low : high;
  for (const { border, line } of pieces) {
    const end = rising ? high : low;
    const to = border ? (rising ? least(most(border.at, low), high) : most(least(border.at, high), low)) : end;
    for (const x of [from, to]) {
      const product = line.multiply * x;
      for (const term of [x, product, product + line.add, line.multiply, line.add, line.divide])
        largest = most(largest, term < 0n ? -term : term);
    }
    from = to;
  }
  return largest;
}

function most(a: bigint, b: bigint): bigint {
  return a > b ? a : b;
}

function least(a: bigint, b: bigint): bigint {
  return a < b ? a : b;
}
