/** The functions of one point: their prototypes with a comment for the header, their bodies for the source. */
import { unitOf } from "byterail";
import { type Curve, doubleText, valueText, zeroOf } from "../point/curve.js";
import { inDecimals, largestTerm } from "../point/fixedPoint.js";
import { checkFunction, rangeStatements } from "./check.js";
import { healthStatements } from "./health.js";
import { countsStatements, patternFunctions, patternText } from "./pattern.js";
import { hasFloat, hasPattern, hasValue, type Shape } from "./shape.js";
import { comment, commentText, hexText, wholeText } from "./text.js";

/** One function: its prototype without the semicolon, and the statements of its body. */
interface Routine {
  readonly prototype: string;
  readonly body: readonly string[];
}

/** The lines of the header for a point. */
export function pointHeader(shape: Shape, station: string): string[] {
  return [
    ...comment(aboutPoint(shape).map(commentText)),
    ...defines(shape, station.toUpperCase()),
    ...routines(shape, station).map(({ prototype }) => `${prototype};`),
    "",
  ];
}

/** The lines of the source for a point. */
export function pointSource(shape: Shape, station: string): string[] {
  const check =
    shape.point.kind === "boolean"
      ? []
      : [patternFunctions(shape), checkFunction(shape, `${station}_status`, station.toUpperCase())];
  const bodies = routines(shape, station).map(({ prototype, body }) => [
    prototype,
    "{",
    ...body.map((line) => (line === "" ? "" : `    ${line}`)),
    "}",
  ]);
  return [...comment([shape.point.name]), ...[...check, ...bodies].flatMap((lines) => [...lines, ""])];
}

/** How the value of a point is read, as an expression. */
export function readText({ prefix, name, point, curve }: Shape): string {
  const getter =
    curve || (point.kind === "real" && point.bits === 64) ? "value" : point.kind === "real" ? "valuef" : "raw";
  return `${prefix}_${getter}_${name}(image)`;
}

function aboutPoint({ point, invalid, fixed, limits }: Shape): string[] {
  const { name, module, slot, type, bits, description } = point;
  const unit = unitOf(point);
  const what = type === "field" ? (point.kind === "boolean" ? "bit of a word" : `field of ${bits} bits`) : type;
  return [
    `${name}${unit === null ? "" : ` in ${unit}`}${description.title === undefined ? "" : `: ${description.title}`}`,
    `${what} of module ${module}, slot ${slot}`,
    ...(limits ? [`Accepted: ${limits[0]} to ${limits[1]}`] : []),
    ...(invalid ? [`Counts are ${invalid} where a digit is above 9.`] : []),
    ...(fixed && "missing" in fixed ? [`No fixed-point form: ${fixed.missing}.`] : []),
  ];
}

function defines({ point, way, name, fixed }: Shape, macros: string): string[] {
  const define = (what: string, value: string) => `#define ${macros}_${way.toUpperCase()}_${what}_${name} ${value}`;
  return [
    define("BYTE", `${point.byte}U`),
    ...(point.bit === null ? [] : [define("BIT", `${point.bit}U`)]),
    ...(point.shift === null ? [] : [define("SHIFT", `${point.shift}U`)]),
    ...(point.kind === "boolean" ? [] : [define("BITS", `${point.bits}U`)]),
    ...(fixed && "decimals" in fixed ? [define("DECIMALS", String(fixed.decimals))] : []),
  ];
}

function routines(shape: Shape, station: string): Routine[] {
  const { point, prefix, name, way, rawType, patternType, valueType, judgement } = shape;
  const get = (type: string, what: string, body: readonly string[]): Routine => ({
    prototype: `${type} ${prefix}_${what}_${name}(const uint8_t *image)`,
    body,
  });
  const set = (what: string, argument: string, body: readonly string[]): Routine => ({
    prototype: `${station}_status ${prefix}_${what}_${name}(uint8_t *image, ${argument})`,
    body,
  });
  const macros = station.toUpperCase();
  if (point.kind === "boolean") return booleanRoutines(shape);
  const write = (pattern: string) => [`${way}_write_${name}(image, ${pattern});`, `return ${macros}_OK;`];
  const wide = {
    holds: { min: 0n, max: (1n << BigInt(shape.room)) - 1n },
    counts: { min: 0n, max: (1n << BigInt(point.bits)) - 1n },
  };
  return [
    get(rawType, "raw", countsStatements(shape)),
    set("setraw", `${rawType} counts`, [
      ...(shape.counts ? rangeStatements(shape, "counts", `${macros}_OUT_OF_RANGE`) : []),
      ...write(patternText(shape, "counts")),
    ]),
    ...(hasPattern(shape)
      ? [
          get(patternType, "bits", [`return ${way}_read_${name}(image);`]),
          set("setbits", `${patternType} bits`, [
            ...rangeStatements(wide, "bits", `${macros}_OUT_OF_RANGE`),
            ...write("bits"),
          ]),
        ]
      : []),
    ...(hasValue(shape) ? [get("double", "value", valueBody(shape))] : []),
    ...(hasFloat(shape) ? [get("float", "valuef", floatBody(shape))] : []),
    ...(shape.fixed && "decimals" in shape.fixed
      ? [get("int64_t", "fixed", fixedBody(shape, shape.fixed.decimals))]
      : []),
    set("setvalue", `${valueType} value`, [
      `${patternType} bits = 0;`,
      `const ${station}_status status = ${way}_check_${name}(value, &bits);`,
      "",
      `if (status == ${macros}_OK) {`,
      `    ${way}_write_${name}(image, bits);`,
      "}",
      "return status;",
    ]),
    ...(judgement ? [get(`${station}_health`, "health", healthStatements(shape, judgement, macros))] : []),
  ];
}

function booleanRoutines({ point, prefix, name }: Shape): Routine[] {
  const byte = `image[${point.positions[point.low >> 3]!}]`;
  const on = 1 << (point.low & 7);
  return [
    {
      prototype: `bool ${prefix}_raw_${name}(const uint8_t *image)`,
      body: [`return (${byte} & ${hexText(BigInt(on))}) != 0;`],
    },
    {
      prototype: `void ${prefix}_setraw_${name}(uint8_t *image, bool on)`,
      body: [`${byte} = (uint8_t)((${byte} & ${hexText(BigInt(0xff & ~on))}) | (on ? ${hexText(BigInt(on))} : 0U));`],
    },
  ];
}

/** The counts as a double, before any scale. */
export function countsAsDouble({ point, way, prefix, name }: Shape): string {
  if (point.kind !== "real") return `(double)${prefix}_raw_${name}(image)`;
  const pattern = `${way}_read_${name}(image)`;
  return point.bits === 32 ? `(double)float_of_bits(${pattern})` : `double_of_bits(${pattern})`;
}

function valueBody(shape: Shape): string[] {
  const { curve } = shape;
  if (!curve) return [...invalidReturns(shape, "NAN"), `return ${countsAsDouble(shape)};`];
  return [
    `const double n = ${countsAsDouble(shape)};`,
    "",
    ...invalidReturns(shape, "NAN"),
    ...toValue(curve, zeroOf(shape.point)),
  ];
}

function invalidReturns({ invalid, prefix, name }: Shape, result: string): string[] {
  return invalid ? [`if (${prefix}_raw_${name}(image) == ${invalid}) {`, `    return ${result};`, "}"] : [];
}

function toValue(curve: Curve, zero: "signed" | "unsigned"): string[] {
  switch (curve.shape) {
    case "linear":
      return [`return ${valueText(curve.ratio, "n", zero)};`];
    case "squareRoot":
      return [`return ${valueText(curve.scale, `rooted(${valueText(curve.fraction, "n", zero)})`, "signed")};`];
    case "pieces":
      return piecesBody(curve, doubleText, ({ ratio }) => valueText(ratio, "n", zero));
  }
}

type Pieces = Extract<Curve, { shape: "pieces" }>;

function piecesBody(
  { pieces }: Pieces,
  literal: (counts: number) => string,
  result: (piece: Pieces["pieces"][number]) => string,
): string[] {
  const [first, ...others] = pieces;
  return [
    ...others
      .reverse()
      .flatMap((piece) => [`if (n >= ${literal(piece.counts)}) {`, `    return ${result(piece)};`, "}"]),
    `return ${result(first!)};`,
  ];
}

// In whole numbers up to the one division, where that is as exact as float can be: no double is needed then.
function floatBody(shape: Shape): string[] {
  const { point, curve, prefix, name, way } = shape;
  if (!curve) return [`return float_of_bits(${way}_read_${name}(image));`];
  const lines = curve.shape === "squareRoot" || point.kind === "real" ? null : linesOf(curve);
  const terms = lines?.map((ratio) => largestTerm(ratio, point)) ?? [];
  const most = terms.reduce((a, b) => (a > b ? a : b), 0n);
  if (!lines || most >> 63n || lines.some(({ c }) => c >> 24n))
    return [`return (float)${prefix}_value_${name}(image);`];
  const type = most >> 31n ? "int64_t" : "int32_t";
  const quotient = (ratio: { a: bigint; b: bigint; c: bigint }) =>
    `(float)${wholeSum(ratio) === "n" ? "n" : `(${wholeSum(ratio)})`}${ratio.c === 1n ? "" : ` / ${doubleText(ratio.c)}F`}`;
  return [
    `const ${type} n = (${type})${prefix}_raw_${name}(image);`,
    "",
    ...invalidReturns(shape, "NAN"),
    ...wholeBody(curve, quotient),
  ];
}

function fixedBody(shape: Shape, decimals: number): string[] {
  const { curve, prefix, name } = shape;
  const quotient = (ratio: { a: bigint; b: bigint; c: bigint }) => {
    const fixed = inDecimals(ratio, decimals);
    return fixed.c === 1n ? wholeSum(fixed) : `divided_even(${wholeSum(fixed)}, ${wholeText(fixed.c)})`;
  };
  return [
    `const int64_t n = (int64_t)${prefix}_raw_${name}(image);`,
    "",
    ...invalidReturns(shape, "INT64_MIN"),
    ...wholeBody(curve!, quotient),
  ];
}

function wholeBody(curve: Curve, quotient: (ratio: { a: bigint; b: bigint; c: bigint }) => string): string[] {
  if (curve.shape === "pieces")
    return piecesBody(
      curve,
      (n) => wholeText(BigInt(n)),
      ({ ratio }) => quotient(ratio),
    );
  return linesOf(curve).map((ratio) => `return ${quotient(ratio)};`);
}

function linesOf(curve: Curve) {
  return curve.shape === "linear"
    ? [curve.ratio]
    : curve.shape === "pieces"
      ? curve.pieces.map(({ ratio }) => ratio)
      : [];
}

function wholeSum({ a, b }: { readonly a: bigint; readonly b: bigint }): string {
  const product = a === 1n ? "n" : `${wholeText(a)} * n`;
  return b === 0n ? product : b < 0n ? `${product} - ${wholeText(-b)}` : `${product} + ${wholeText(b)}`;
}
