/** The scale of a point as expressions, with the very operations of the library, so that results agree bit for bit. */
import type { Direction, PlacedPoint, Ratio } from "byterail";
import { curveOf } from "../point/curve.js";
import { bracketed, literal } from "./text.js";

/** Value of counts, as an expression. */
export function valueExpression(point: PlacedPoint, direction: Direction, counts: string): string {
  const curve = curveOf(point);
  if (!curve) return counts;
  const zero = zeroOfCounts(point);
  if (curve.shape === "linear") return toValue(curve.ratio, counts, zero);
  if (curve.shape === "squareRoot")
    return toValue(curve.scale, `signedRoot(${toValue(curve.fraction, counts, zero)})`, "negativeToo");
  return `${curveName(point, direction, "Value")}(${counts})`;
}

/** Counts of a value, not rounded, as an expression over the name of the value. */
export function unroundedCounts(point: PlacedPoint, direction: Direction, value: string): string {
  const curve = curveOf(point);
  if (!curve) return value;
  if (curve.shape === "linear") return toCounts(curve.ratio, value);
  if (curve.shape === "squareRoot") return toCounts(curve.fraction, `signedSquare(${toCounts(curve.scale, value)})`);
  return `${curveName(point, direction, "Counts")}(${value})`;
}

/** The two functions of a piecewise linear characteristic, without a blank line around; none for any other. */
export function curveFunctions(point: PlacedPoint, direction: Direction): string[][] {
  const curve = curveOf(point);
  if (curve?.shape !== "pieces") return [];
  const { pieces, values } = curve;
  const before = values === "rise" ? "<" : ">";
  const zero = zeroOfCounts(point);
  return [
    [
      `function ${curveName(point, direction, "Value")}(counts: number): number {`,
      ...pieces.map(({ ratio }, k) => {
        const next = pieces[k + 1];
        const value = toValue(ratio, "counts", zero);
        return next ? `  if (counts < ${literal(next.counts)}) return ${value};` : `  return ${value};`;
      }),
      "}",
    ],
    [
      `function ${curveName(point, direction, "Counts")}(value: number): number {`,
      ...pieces.map(({ ratio }, k) => {
        const next = pieces[k + 1];
        const counts = toCounts(ratio, "value");
        return next ? `  if (value ${before} ${literal(next.value)}) return ${counts};` : `  return ${counts};`;
      }),
      "}",
    ],
  ];
}

function curveName({ name }: PlacedPoint, direction: Direction, what: "Value" | "Counts"): string {
  return `${direction.slice(0, -1)}${name[0]!.toUpperCase()}${name.slice(1)}${what}`;
}

/** Whether the argument of a line may be −0: only then does adding 0 change something. */
type Zero = "positive" | "negativeToo";

function zeroOfCounts({ kind, code }: PlacedPoint): Zero {
  return kind === "real" || code === "signMagnitude" ? "negativeToo" : "positive";
}

// value = (a·counts + b) / c. A falling line is written b − |a|·counts, which gives the same numbers.
function toValue({ a, b, c }: Ratio, counts: string, zero: Zero): string {
  const size = a < 0n ? -a : a;
  const product = size === 1n ? bracketed(counts) : `${double(size)} * ${bracketed(counts)}`;
  const rest = b === 0n ? (zero === "negativeToo" ? " + 0" : "") : b < 0n ? ` - ${double(-b)}` : ` + ${double(b)}`;
  const sum = a < 0n ? `${double(b)} - ${product}` : product + rest;
  if (c === 1n) return sum;
  return `${bracketed(sum)} / ${double(c)}`;
}

// counts = (value·c − b) / a. Taking 0 away changes nothing.
function toCounts({ a, b, c }: Ratio, value: string): string {
  const product = c === 1n ? value : `${value} * ${double(c)}`;
  const sum = b === 0n ? product : `${product} ${b < 0n ? "+" : "-"} ${double(b < 0n ? -b : b)}`;
  return a === 1n ? sum : `${bracketed(sum)} / ${double(a)}`;
}

function double(term: bigint): string {
  return literal(Number(term));
}
