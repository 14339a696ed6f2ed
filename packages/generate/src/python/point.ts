/** One row of the table that the machinery of the module works from. */
import { acceptedValues, codeOfPoint, type Direction, numberOf, type PlacedPoint } from "byterail";
import { countsText, type Curve, curveOf, doubleText, valueText, zeroOf } from "../point/curve.js";
import { judgementOf } from "../point/judgement.js";

/** The lines of a row. */
export function pointRow(point: PlacedPoint, attribute: string, direction: Direction): string[] {
  const { name, positions, low, bits } = point;
  const at = positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1);
  const place = `"${name}", "${attribute}", ${tuple(at.map(String))}, shift=${low & 7}, bits=${bits}`;
  const keys = keysOf(point, direction);
  if (keys.length === 0) return [`_Point(${place}, code="boolean"),`];
  return ["_Point(", ...[place, ...keys].map((key) => `    ${key},`), "),"];
}

function keysOf(point: PlacedPoint, direction: Direction): string[] {
  if (!numberOf(point)) return [];
  const code = codeOfPoint(point);
  const curve = curveOf(point);
  const limits = acceptedValues(point, direction);
  const judgement = judgementOf(point);
  const bands = judgement?.bands ?? [];
  const counts = (n: number) => (code ? String(BigInt(n)) : pythonReal(n));
  return [
    code ? `code="${code.name}", counts=(${code.min}, ${code.max})` : 'code="real"',
    ...(curve ? [`to_value=lambda n: ${toValue(curve, zeroOf(point))}`, `to_counts=lambda v: ${toCounts(curve)}`] : []),
    ...(limits ? [`limits=(${limits.map(doubleText).join(", ")})`] : []),
    ...pairs(
      "special",
      (judgement?.special ?? []).map(({ counts: n, health }) => `(${counts(n)}, "${health}")`),
    ),
    ...pairs(
      "health",
      bands.flatMap(({ upTo, health }) => (upTo === null ? [] : `(${counts(upTo)}, "${health}")`)),
    ),
    ...bands.slice(-1).flatMap(({ health }) => (health === "none" ? [] : `otherwise="${health}"`)),
  ];
}

function toValue(curve: Curve, zero: "signed" | "unsigned"): string {
  switch (curve.shape) {
    case "linear":
      return real(valueText(curve.ratio, "n", zero));
    case "squareRoot":
      return valueText(curve.scale, `_root(${valueText(curve.fraction, "n", zero)})`, "signed");
    case "pieces":
      return chain(
        curve.pieces.map(({ counts, ratio }) => [`n >= ${doubleText(counts)}`, real(valueText(ratio, "n", zero))]),
      );
  }
}

// Counts that are the value as they stand would stay an int.
function real(text: string): string {
  return text === "n" ? "float(n)" : text;
}

function toCounts(curve: Curve): string {
  switch (curve.shape) {
    case "linear":
      return countsText(curve.ratio, "v");
    case "squareRoot":
      return countsText(curve.fraction, `_square(${countsText(curve.scale, "v")})`);
    case "pieces": {
      const sign = curve.values === "rise" ? ">=" : "<=";
      return chain(curve.pieces.map(({ value, ratio }) => [`v ${sign} ${doubleText(value)}`, countsText(ratio, "v")]));
    }
  }
}

// The last piece is tried first; the first one holds for all that is left.
function chain(pieces: readonly (readonly [condition: string, expression: string])[]): string {
  const [[, first], ...others] = pieces as [(typeof pieces)[number], ...(typeof pieces)[number][]];
  return [...others.reverse().map(([condition, text]) => `${text} if ${condition} else`), first].join(" ");
}

function pairs(key: string, list: readonly string[]): string[] {
  return list.length === 0 ? [] : [`${key}=${tuple(list)}`];
}

function tuple(items: readonly string[]): string {
  return `(${items.join(", ")}${items.length === 1 ? "," : ""})`;
}

function pythonReal(value: number): string {
  return Object.is(value, -0) ? "-0.0" : doubleText(value);
}
