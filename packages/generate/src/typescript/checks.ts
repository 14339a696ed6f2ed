/**
 * What encode checks of a point: conditions for the quick way, in which a value is refused, and a rule for the slow way,
 * which is taken only after a refusal and tells every problem.
 */
import {
  acceptedValues,
  characteristicOf,
  codeOfPoint,
  type Direction,
  numberOf,
  type PlacedPoint,
  roundTiesToEven,
} from "byterail";
import { curveOf } from "../point/curve.js";
import { isWide } from "./read.js";
import { unroundedCounts } from "./scaling.js";
import { literal, stringLiteral } from "./text.js";

/** The largest finite binary32. */
const largestFloat32 = (2 - 2 ** -23) * 2 ** 127;

/** Refusals that are judged by the value itself; `value` is the name of a local. */
export function valueConditions(point: PlacedPoint, direction: Direction, value: string): string[] {
  if (point.kind === "boolean") return [`typeof ${value} !== "boolean"`];
  const limits = acceptedValues(point, direction);
  const [special, code] = [specialOf(point), codeOfPoint(point)];
  if (curveOf(point))
    return limits
      ? [`typeof ${value} !== "number"`, `!(${value} >= ${literal(limits[0])} && ${value} <= ${literal(limits[1])})`]
      : [`!Number.isFinite(${value})`];
  const beyond = limits ? [`${value} < ${literal(limits[0])}`, `${value} > ${literal(limits[1])}`] : [];
  if (!code) {
    const finite = point.bits === 32 ? `!isFloat32(${value})` : `!Number.isFinite(${value})`;
    return [finite, ...beyond, ...special.map((counts) => `${value} === ${literal(counts)}`)];
  }
  const { min, max } = code;
  if (isWide(point)) {
    const type = `typeof ${value} !== "bigint"`;
    return [
      point.code === "signMagnitude" ? `(${type} && !Object.is(${value}, -0))` : type,
      ...[`${value} < ${literal(min)}`, `${value} > ${literal(max)}`],
      ...beyond,
      ...special.map((counts) => `${value} === ${literal(BigInt(counts))}`),
    ];
  }
  const [low, high] = limits ? [Math.max(Number(min), limits[0]), Math.min(Number(max), limits[1])] : [min, max];
  return [
    ...[`!Number.isInteger(${value})`, `${value} < ${literal(low)}`, `${value} > ${literal(high)}`],
    ...special.map((counts) => `${value} === ${literal(counts)}`),
  ];
}

/** Refusals of a scaled number that are judged by its counts; `counts` is the name of a local. */
export function countsConditions(point: PlacedPoint, direction: Direction, counts: string): string[] {
  const special = specialOf(point).map((number) => `${counts} === ${literal(number)}`);
  const code = codeOfPoint(point);
  if (!code) return [point.bits === 32 ? `!isFloat32(${counts})` : `!Number.isFinite(${counts})`, ...special];
  if (limitsHold(point, direction)) return special;
  return [`!(${counts} >= ${literal(code.min)} && ${counts} <= ${literal(code.max)})`, ...special];
}

/** The rule of a point for the slow way, as the properties of an object. */
export function ruleProperties(point: PlacedPoint, direction: Direction): string[] {
  const { name, module, kind, bits } = point;
  const start = [`name: ${stringLiteral(name)}`, `module: ${stringLiteral(module)}`];
  if (kind === "boolean") return [...start, `kind: "boolean"`];
  const code = codeOfPoint(point);
  const wide = isWide(point);
  const most = bits === 32 ? largestFloat32 : Number.MAX_VALUE;
  const limits = acceptedValues(point, direction);
  const special = specialOf(point);
  const exact = unroundedCounts(point, direction, "value");
  const counts = code ? `roundTiesToEven(${exact})` : exact;
  return [
    ...start,
    `kind: ${stringLiteral(code ? (wide ? "bigint" : "integer") : `float${bits}`)}`,
    ...(limits ? [`limits: [${limits.map(literal).join(", ")}]`] : []),
    `counts: [${(code ? [code.min, code.max] : [-most, most]).map(literal).join(", ")}]`,
    ...(curveOf(point) ? [`toCounts: (value) => ${counts}`] : []),
    ...(special.length > 0 ? [`special: [${special.map(literal).join(", ")}]`] : []),
    ...(wide && point.code === "signMagnitude" ? [`negativeZero: "counts"`] : []),
  ];
}

function specialOf(point: PlacedPoint): readonly number[] {
  return numberOf(point)?.specialCounts?.map(({ counts }) => counts) ?? [];
}

// Whether whatever lies within the limits stands for counts that the type holds. The counts of a line or a root rise or
// fall all the way, rounded too; where lines meet, rounding may not.
function limitsHold(point: PlacedPoint, direction: Direction): boolean {
  const limits = acceptedValues(point, direction);
  const scale = numberOf(point)?.scale;
  const code = codeOfPoint(point);
  if (!limits || !scale || !code || curveOf(point)?.shape === "pieces") return false;
  const { toCounts } = characteristicOf(scale)!;
  return limits.map((value) => roundTiesToEven(toCounts(value))).every((n) => n >= code.min && n <= code.max);
}
