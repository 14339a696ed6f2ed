/** The functions from values to bytes: checked first, in comparisons of their own, then written byte by byte. */
import type { ImageLayout, PlacedPoint } from "byterail";
import { type NameTable, nameTable } from "../names.js";
import { curveOf } from "../point/curve.js";
import { indent } from "../snippet.js";
import { countsConditions, valueConditions } from "./checks.js";
import { helperNames } from "./helpers.js";
import { reserved } from "./reserved.js";
import { unroundedCounts } from "./scaling.js";
import { lineWidth, listed } from "./text.js";
import { lengthCheck, type Words } from "./words.js";
import { type LocalName, patternStatements, writeChunks, writeStatements } from "./write.js";

/** Points in one function of encode. The compiler follows each use of a local back through all that stands before it. */
const largestFunction = 64;

/** The functions, the exported ones first. */
export function encodeBlocks(image: ImageLayout, words: Words): string[][] {
  const { points } = image;
  const { type, value, one } = words;
  const nameOf = localNames(image);
  const checks = checkFunctions(image, words, nameOf);
  const writes = writeFunctions(image, nameOf);
  return [
    [
      "/**",
      ` * The bytes of the ${value}; spare bits are 0.`,
      " *",
      " * @throws ProcessImageError with one problem for every value that is missing, unknown or not accepted",
      " */",
      `export function encode${type}(values: ${type}): Uint8Array {`,
      `  return encode${type}Into(new Uint8Array(${value}Length), values);`,
      "}",
    ],
    [
      "/** Encodes into bytes that are there already; a failing call leaves them untouched. */",
      `export function encode${type}Into(bytes: Uint8Array, values: ${type}): Uint8Array {`,
      ...indent([
        ...lengthCheck(image, words),
        `if (Object.keys(Object(values)).length !== ${points.length}) throw refused("${value}", values, ${one}Rules);`,
        ...numbered(`check${type}`, checks).map((name) => `${name}(values);`),
        ...numbered(`write${type}`, writes).map((name, k) => `${name}(${writes[k]!.needs.join(", ")});`),
        "return bytes;",
      ]),
      "}",
    ],
    ...numbered(`check${type}`, checks).map((name, k) => [
      `function ${name}(values: ${type}): void {`,
      ...indent(checks[k]!),
      "}",
    ]),
    ...numbered(`write${type}`, writes).map((name, k) => [
      `function ${name}(bytes: Uint8Array${writes[k]!.needs.length > 1 ? `, values: ${type}` : ""}): void {`,
      ...indent(writes[k]!.body),
      "}",
    ]),
  ];
}

// A name for each of several functions: one alone needs no number.
function numbered(name: string, bodies: readonly unknown[]): string[] {
  return bodies.map((_, k) => (bodies.length === 1 ? name : `${name}${k + 1}`));
}

function checkFunctions(image: ImageLayout, { value, one }: Words, nameOf: LocalName): string[][] {
  const { direction, points } = image;
  const refuse = `throw refused("${value}", values, ${one}Rules);`;
  return chunks(points).map((chunk) => {
    const judged = chunk
      .filter((point) => curveOf(point))
      .map((point) => ({ point, conditions: countsConditions(point, direction, nameOf(point, "counts")) }))
      .filter(({ conditions }) => conditions.length > 0);
    return [
      ...destructured(chunk, nameOf),
      ...throwIf(
        chunk.flatMap((point) => valueConditions(point, direction, nameOf(point, "value"))),
        refuse,
      ),
      ...judged.map(({ point }) => countsStatement(point, image, nameOf)),
      ...throwIf(
        judged.flatMap(({ conditions }) => conditions),
        refuse,
      ),
    ];
  });
}

interface WriteFunction {
  /** What it takes: `bytes`, and `values` where there is a point to write. */
  readonly needs: readonly string[];
  readonly body: readonly string[];
}

function writeFunctions(image: ImageLayout, nameOf: LocalName): WriteFunction[] {
  const countsOf = (point: PlacedPoint) => nameOf(point, curveOf(point) ? "counts" : "value");
  return writeChunks(image, largestFunction).map((chunk) => ({
    needs: chunk.points.length === 0 ? ["bytes"] : ["bytes", "values"],
    body: [
      ...destructured(chunk.points, nameOf),
      ...chunk.points.filter((point) => curveOf(point)).map((point) => countsStatement(point, image, nameOf)),
      ...chunk.points.flatMap((point) => patternStatements(point, countsOf(point), nameOf)),
      ...writeStatements(chunk, countsOf, nameOf),
    ],
  }));
}

function chunks<T>(list: readonly T[]): T[][] {
  const count = Math.ceil(list.length / largestFunction);
  return Array.from({ length: count }, (_, k) => list.slice(k * largestFunction, (k + 1) * largestFunction));
}

function destructured(points: readonly PlacedPoint[], nameOf: LocalName): string[] {
  if (points.length === 0) return [];
  return listed(
    "const {",
    points.map((point) => bound(point, nameOf(point, "value"))),
    "} = values;",
  );
}

function countsStatement(point: PlacedPoint, image: ImageLayout, nameOf: LocalName): string {
  return `const ${nameOf(point, "counts")} = ${roundedCounts(point, image, nameOf(point, "value"))};`;
}

function bound({ name }: PlacedPoint, local: string): string {
  return local === name ? name : `${name}: ${local}`;
}

function roundedCounts(point: PlacedPoint, { direction }: ImageLayout, value: string): string {
  const counts = unroundedCounts(point, direction, value);
  return point.kind === "real" ? counts : `${counts} + tie - tie`;
}

function throwIf(conditions: readonly string[], refuse: string): string[] {
  if (conditions.length === 0) return [];
  const line = `if (${conditions.join(" || ")}) ${refuse}`;
  if (line.length <= lineWidth - 2) return [line];
  const head = `if (${conditions.join(" || ")})`;
  if (head.length <= lineWidth - 2) return [head, `  ${refuse}`];
  const last = conditions.length - 1;
  return ["if (", ...indent(conditions.map((text, k) => (k === last ? text : `${text} ||`))), ")", `  ${refuse}`];
}

// Names of locals: of points as they are, unless TypeScript or the module itself means something else by them.
function localNames({ points }: ImageLayout): LocalName {
  const suffixes = { value: "", counts: "Counts", pattern: "Pattern", low: "Low", high: "High" };
  const keys = (suffix: string) => points.map(({ name }) => `${name}#${suffix}`);
  const taken = new Set([...reserved, ...helperNames(), "bytes", "values"]);
  for (const direction of ["input", "output"])
    for (const word of ["sLength", "sLayout", "Modules", "Rules"]) taken.add(direction + word);
  const table: NameTable = nameTable(Object.values(suffixes).flatMap(keys), "", {
    ...{ target: "TypeScript", reserved: taken, case: "sensitive", maxLength: 200 },
    style: (name) => name.replace("#", ""),
  });
  return (point, what) => table.of(`${point.name}#${suffixes[what]}`);
}
