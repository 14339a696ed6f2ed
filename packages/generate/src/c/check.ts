/** What may be written: the checks of counts and of values, in the order of the core, and the functions that make them. */
import { countsText, type Curve, doubleText } from "../point/curve.js";
import { patternText } from "./pattern.js";
import type { Shape } from "./shape.js";
import { wholeText } from "./text.js";

/** Statements that return a status for counts out of a range, where their type lets that happen. */
export function rangeStatements(
  { holds, counts }: Pick<Shape, "holds" | "counts">,
  variable: string,
  status: string,
  { min, max }: { readonly min: bigint; readonly max: bigint } = counts!,
): string[] {
  const kind = holds.min < 0n ? "signed" : "unsigned";
  const tests = [
    ...(min > holds.min ? [`${variable} < ${wholeText(min, kind)}`] : []),
    ...(max < holds.max ? [`${variable} > ${wholeText(max, kind)}`] : []),
  ];
  return tests.length === 0 ? [] : refuse(tests.join(" || "), status);
}

function refuse(condition: string, status: string): string[] {
  return [`if (${condition}) {`, `    return ${status};`, "}"];
}

/** The function that checks a value and finds its pattern. */
export function checkFunction(shape: Shape, status: string, macros: string): string[] {
  const { name, way, valueType, patternType, curve } = shape;
  const variable = shape.point.kind === "integer" && !curve ? "counts" : "value";
  return [
    ...(curve ? [...curveFunction(shape, curve), ""] : []),
    `static ${status} ${way}_check_${name}(${valueType} ${variable}, ${patternType} *bits)`,
    "{",
    ...statements(shape, macros).map((line) => (line === "" ? "" : `    ${line}`)),
    "}",
  ];
}

function statements(shape: Shape, macros: string): string[] {
  if (shape.point.kind === "real") return realStatements(shape, macros);
  return shape.curve ? scaledStatements(shape, macros) : plainStatements(shape, macros);
}

function plainStatements(shape: Shape, macros: string): string[] {
  const { limits, holds } = shape;
  const within = limits && { min: ceiling(limits[0]), max: floor(limits[1]) };
  if (within && (within.min > holds.max || within.max < holds.min || within.min > within.max))
    return ["(void)counts;", "(void)bits;", `return ${macros}_BEYOND_LIMITS; /* the limits lie outside the type */`];
  return [
    ...(within ? rangeStatements(shape, "counts", `${macros}_BEYOND_LIMITS`, within) : []),
    ...rangeStatements(shape, "counts", `${macros}_OUT_OF_RANGE`),
    ...specialStatements(shape, "counts", macros),
    `*bits = ${patternText(shape, "counts")};`,
    `return ${macros}_OK;`,
  ];
}

function scaledStatements(shape: Shape, macros: string): string[] {
  const { name, way, rawType, counts } = shape;
  const { min, max } = counts!;
  return [
    "double exact;",
    "int64_t counts;",
    "",
    ...valueStatements(shape, macros),
    `exact = ${way}_counts_${name}(value);`,
    ...refuse(`!(exact > ${doubleText(min - 1n)} && exact < ${doubleText(max + 1n)})`, `${macros}_OUT_OF_RANGE`),
    "counts = nearest_even(exact);",
    ...refuse(`counts < ${wholeText(min)} || counts > ${wholeText(max)}`, `${macros}_OUT_OF_RANGE`),
    ...specialStatements({ ...shape, holds: { min: -(1n << 63n), max: 1n << 63n } }, "counts", macros),
    `*bits = ${patternText(shape, `(${rawType})counts`)};`,
    `return ${macros}_OK;`,
  ];
}

function realStatements(shape: Shape, macros: string): string[] {
  const { name, way, point, curve } = shape;
  const counts = curve ? `${way}_counts_${name}(value)` : point.bits === 32 ? "(double)value" : "value";
  return [
    `double counts;`,
    "",
    ...valueStatements(shape, macros),
    `counts = ${counts};`,
    ...refuse(point.bits === 32 ? "!fits_float(counts)" : "!is_finite(counts)", `${macros}_OUT_OF_RANGE`),
    ...specialStatements(shape, "counts", macros),
    `*bits = bits_of_${point.bits === 32 ? "float" : "double"}(counts);`,
    `return ${macros}_OK;`,
  ];
}

function valueStatements({ limits }: Shape, macros: string): string[] {
  return [
    ...refuse("!is_finite(value)", `${macros}_NOT_FINITE`),
    ...(limits
      ? refuse(`!(value >= ${doubleText(limits[0])} && value <= ${doubleText(limits[1])})`, `${macros}_BEYOND_LIMITS`)
      : []),
  ];
}

function specialStatements({ judgement, point, holds }: Shape, variable: string, macros: string): string[] {
  const kind = holds.min < 0n ? "signed" : "unsigned";
  const literal = (n: number) => (point.kind === "real" ? doubleText(n) : wholeText(BigInt(n), kind));
  const tests = (judgement?.special ?? []).map(({ counts }) => `${variable} == ${literal(counts)}`);
  return tests.length === 0 ? [] : refuse(tests.join(" || "), `${macros}_SPECIAL_COUNTS`);
}

// Value → counts, not rounded.
function curveFunction({ name, way }: Shape, curve: Curve): string[] {
  return [
    `static double ${way}_counts_${name}(double value)`,
    "{",
    ...toCounts(curve).map((line) => `    ${line}`),
    "}",
  ];
}

function toCounts(curve: Curve): string[] {
  switch (curve.shape) {
    case "linear":
      return [`return ${countsText(curve.ratio, "value")};`];
    case "squareRoot":
      return [
        `const double x = squared(${countsText(curve.scale, "value")});`,
        `return ${countsText(curve.fraction, "x")};`,
      ];
    case "pieces": {
      const sign = curve.values === "rise" ? ">=" : "<=";
      const [first, ...others] = curve.pieces.map((piece) => ({
        ...piece,
        text: `return ${countsText(piece.ratio, "value")};`,
      }));
      return [
        ...others
          .reverse()
          .flatMap(({ value, text }) => [`if (value ${sign} ${doubleText(value)}) {`, `    ${text}`, "}"]),
        first!.text,
      ];
    }
  }
}

function ceiling(limit: number): bigint {
  return BigInt(Math.ceil(limit));
}

function floor(limit: number): bigint {
  return BigInt(Math.floor(limit));
}
