/** The functions from values to bytes: checked in comparisons of their own, then written byte by byte. */
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
  const { type, value, one } = words;
  const pieces = piecesOf(image, words);
  const types = { bytes: "Uint8Array", values: type };
  const keyCheck = `if (Object.keys(Object(values)).length !== ${image.points.length}) throw refused("${value}", values, ${one}Rules);`;
  // One piece checks all before it writes. Of several, a later one may refuse, so they write into a draft first.
  const write =
    pieces.length <= 1
      ? {
          whole: [`return encode${type}Into(new Uint8Array(${value}Length), values);`],
          into: [keyCheck, ...pieces.flatMap(({ body }) => body)],
          blocks: [],
        }
      : {
          whole: [`const bytes = new Uint8Array(${value}Length);`, `write${type}(bytes, values);`, "return bytes;"],
          into: [`write${type}(${value}Draft, values);`, `bytes.set(${value}Draft);`],
          blocks: [
            [
              "// Values are checked piece by piece, so they are written here first.",
              `const ${value}Draft = new Uint8Array(${value}Length);`,
            ],
            block(`function write${type}(bytes: Uint8Array, values: ${type}): void {`, [
              keyCheck,
              ...pieces.map(({ takes }, k) => `write${type}${k + 1}(${takes.join(", ")});`),
            ]),
            ...pieces.map(({ takes, body }, k) =>
              block(
                `function write${type}${k + 1}(${takes.map((name) => `${name}: ${types[name]}`).join(", ")}): void {`,
                body,
              ),
            ),
          ],
        };
  return [
    [
      "/**",
      ` * The bytes of the ${value}; spare bits are 0.`,
      " *",
      " * @throws ProcessImageError with one problem for every value that is missing, unknown or not accepted",
      " */",
      ...block(`export function encode${type}(values: ${type}): Uint8Array {`, write.whole),
    ],
    [
      "/** Encodes into bytes that are there already; a failing call leaves them untouched. */",
      ...block(`export function encode${type}Into(bytes: Uint8Array, values: ${type}): Uint8Array {`, [
        ...lengthCheck(image, words),
        ...write.into,
        "return bytes;",
      ]),
    ],
    ...write.blocks,
  ];
}

function block(head: string, body: readonly string[]): string[] {
  return [head, ...indent(body), "}"];
}

/** A part of encode: its points are checked, then its bytes are written. */
interface Piece {
  /** `values` where there is a point to write. */
  readonly takes: readonly ("bytes" | "values")[];
  readonly body: readonly string[];
}

function piecesOf(image: ImageLayout, { value, one }: Words): Piece[] {
  const { direction } = image;
  const nameOf = localNames(image);
  const countsOf = (point: PlacedPoint) => nameOf(point, curveOf(point) ? "counts" : "value");
  const refuse = `throw refused("${value}", values, ${one}Rules);`;
  return writeChunks(image, largestFunction).map((chunk) => {
    const scaled = chunk.points.filter((point) => curveOf(point));
    const body = [
      ...destructured(chunk.points, nameOf),
      ...throwIf(
        chunk.points.flatMap((point) => valueConditions(point, direction, nameOf(point, "value"))),
        refuse,
      ),
      ...scaled.map((point) => countsStatement(point, image, nameOf)),
      ...throwIf(
        scaled.flatMap((point) => countsConditions(point, direction, nameOf(point, "counts"))),
        refuse,
      ),
      ...chunk.points.flatMap((point) => patternStatements(point, countsOf(point), nameOf)),
      ...writeStatements(chunk, countsOf, nameOf),
    ];
    return { takes: chunk.points.length > 0 ? ["bytes", "values"] : ["bytes"], body };
  });
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
    for (const word of ["sLength", "sLayout", "sDraft", "Modules", "Rules"]) taken.add(direction + word);
  const table: NameTable = nameTable(Object.values(suffixes).flatMap(keys), "", {
    ...{ target: "TypeScript", reserved: taken, case: "sensitive", maxLength: 200 },
    style: (name) => name.replace("#", ""),
  });
  return (point, what) => table.of(`${point.name}#${suffixes[what]}`);
}
