/**
 * Scaling in REAL or LREAL: the lines of a curve, checked beforehand so that no step of it leaves the range of the type.
 */
import { acceptedValues, codeOfPoint, type Direction, numberOf, type PlacedPoint } from "byterail";
import { backwardLine, forwardLine, type Line } from "../bit-copies/arithmetic.js";
import { type Curve, curveOf } from "../point/curve.js";
import { largestReal, type Real } from "./types.js";

/** A line and where it ends: it holds where x `<` or `>` the border; the last has none. */
export interface RealPiece {
  readonly border: { readonly sign: "<" | ">"; readonly at: number } | null;
  readonly line: Line;
}

/** From counts to the value on an input, from the value to counts on an output. */
export interface RealScaling {
  readonly type: Real;
  readonly first: readonly RealPiece[];
  /** A square root: what comes after the first line, and the line after that. Both are mirrored below zero. */
  readonly after: { readonly step: "root" | "square"; readonly line: Line } | null;
  /** What x is limited to before anything else; null where every x will do. */
  readonly limits: readonly [number, number] | null;
}

/** The scaling of a point in a type, or null where its numbers do not fit one. */
export function realScaling(point: PlacedPoint, direction: Direction, type: Real): RealScaling | null {
  const curve = curveOf(point)!;
  const scaling = { type, ...(direction === "inputs" ? toValue(curve) : toCounts(curve)) };
  const code = codeOfPoint(point);
  if (direction === "inputs" && code)
    return fits(scaling, Number(code.min)) && fits(scaling, Number(code.max)) ? { ...scaling, limits: null } : null;
  const bound = boundOf(scaling);
  // A bound that cuts into ordinary values would falsify them: then the numbers do not fit.
  const [low, high] = wanted(point, direction, type);
  if (bound === null || (code && (low < -bound || high > bound))) return null;
  const limits = [Math.max(low, -bound), Math.min(high, bound)] as const;
  return {
    ...scaling,
    limits: direction === "inputs" && bound >= largestReal[point.bits === 32 ? "REAL" : "LREAL"] ? null : limits,
  };
}

function wanted(point: PlacedPoint, direction: Direction, type: Real): readonly [number, number] {
  const everything = [-largestReal[type], largestReal[type]] as const;
  if (direction === "inputs") return everything;
  const limits = (numberOf(point) && acceptedValues(point, "outputs")) ?? everything;
  const code = codeOfPoint(point);
  if (!code) return limits;
  // Limits beyond what the counts reach would only make the numbers larger.
  const back = { type, ...toValue(curveOf(point)!) };
  const ends = [code.min, code.max].map((end) => valueAt(back, Number(end)));
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const inside = (value: number) => Math.min(Math.max(value, low), high);
  return [inside(limits[0]), inside(limits[1])];
}

type Steps = Omit<RealScaling, "limits">;
type Curved = Pick<RealScaling, "first" | "after">;

function toValue(curve: Curve): Curved {
  if (curve.shape === "squareRoot")
    return {
      first: [{ border: null, line: forwardLine(curve.fraction, 0) }],
      after: { step: "root", line: forwardLine(curve.scale, 0) },
    };
  if (curve.shape === "linear") return { first: [{ border: null, line: forwardLine(curve.ratio, 0) }], after: null };
  const pieces = curve.pieces.map(({ ratio }, k): RealPiece => {
    const next = curve.pieces[k + 1];
    return { border: next ? { sign: "<", at: next.counts } : null, line: forwardLine(ratio, 0) };
  });
  return { first: pieces, after: null };
}

function toCounts(curve: Curve): Curved {
  if (curve.shape === "squareRoot")
    return {
      first: [{ border: null, line: backwardLine(curve.scale, 0) }],
      after: { step: "square", line: backwardLine(curve.fraction, 0) },
    };
  if (curve.shape === "linear") return { first: [{ border: null, line: backwardLine(curve.ratio, 0) }], after: null };
  const sign = curve.values === "rise" ? "<" : ">";
  const pieces = curve.pieces.map(({ ratio }, k): RealPiece => {
    const next = curve.pieces[k + 1];
    return { border: next ? { sign, at: next.value } : null, line: backwardLine(ratio, 0) };
  });
  return { first: pieces, after: null };
}

function valueAt({ first, after }: Steps, x: number): number {
  const { line } = first.find(({ border }) => !border || (border.sign === "<" ? x < border.at : x > border.at))!;
  const y = through(line, x);
  return after ? through(after.line, bent(after.step, y)) : y;
}

function through({ multiply, add, divide }: Line, x: number): number {
  return (Number(multiply) * x + Number(add)) / Number(divide);
}

function bent(step: "root" | "square", y: number): number {
  return step === "root" ? Math.sign(y) * Math.sqrt(Math.abs(y)) : y * Math.abs(y);
}

// Whether every step stays well inside the type for x, on whichever line it is.
function fits({ type, first, after }: Steps, x: number): boolean {
  const lineFits = (line: Line, at: number) =>
    [line.multiply, line.add, line.divide].map(Number).every((n) => isInside(n, type)) &&
    [Number(line.multiply) * at, Number(line.multiply) * at + Number(line.add), through(line, at)].every((n) =>
      isInside(n, type),
    );
  return (
    isInside(x, type) &&
    first.every(({ line }) => {
      if (!lineFits(line, x)) return false;
      const y = after && bent(after.step, through(line, x));
      return y === null || (isInside(y, type) && lineFits(after!.line, y));
    })
  );
}

function isInside(n: number, type: Real): boolean {
  return Math.abs(n) <= largestReal[type];
}

// The largest x, by powers of two, up to which every step fits; null where there is none worth having.
function boundOf(scaling: Steps): number | null {
  for (let bound = largestReal[scaling.type]; bound >= 1; bound /= 2)
    if (fits(scaling, bound) && fits(scaling, -bound)) return bound;
  return null;
}
