/** The functions from bytes to values: one flat object, or one object for each module. */
import type { ImageLayout, PlacedPoint } from "byterail";
import { indent } from "../snippet.js";
import { countsExpression, typeOf, zeroOf } from "./read.js";
import { valueExpression } from "./scaling.js";
import { brokenCall, stringLiteral } from "./text.js";
import { braced, lengthCheck, picked, pointsOf, type Words } from "./words.js";

/** Object literals from 128 properties on become hash tables in V8; an object made by a class keeps its shape somewhat longer. */
const largestLiteral = 127;
const largestClass = 300;

/** Both functions, with the classes that they need. */
export function decodeBlocks(image: ImageLayout, words: Words): string[][] {
  return [...decodeFlat(image, words), ...decodeGrouped(image, words)];
}

function decodeFlat(image: ImageLayout, words: Words): string[][] {
  const { type, value } = words;
  const className = `All${type}`;
  const { before, body } = objectOf(image, image.points, className, type);
  return [
    ...before,
    [
      `/** The values in the bytes of the ${value}. Nothing is clamped: what the station sent is a fact. */`,
      `export function decode${type}(bytes: Uint8Array): ${type} {`,
      ...indent(lengthCheck(image, words)),
      ...indent(body),
      "}",
    ],
  ];
}

function decodeGrouped(image: ImageLayout, words: Words): string[][] {
  const { type, value } = words;
  const classes: string[][] = [];
  const entries = image.modules.flatMap(({ name }) => {
    const points = pointsOf(image, name);
    if (!needsClass(points)) return braced(`${name}: {`, properties(image, points), "},");
    const names = points.map((point) => stringLiteral(point.name));
    const className = `${type}Of${name[0]!.toUpperCase()}${name.slice(1)}`;
    const { before, body } = objectOf(image, points, className, picked("", type, names, "").join(" "));
    const maker = `decode${className}`;
    classes.push(...before, [`function ${maker}(bytes: Uint8Array): ${className} {`, ...indent(body), "}"]);
    return [`${name}: ${maker}(bytes),`];
  });
  return [
    ...classes,
    [
      `/** The values in the bytes of the ${value}, in one object for each module. */`,
      `export function decode${type}ByModule(bytes: Uint8Array): ${type}ByModule {`,
      ...indent([...lengthCheck(image, words), ...braced("return {", entries, "};")]),
      "}",
    ],
  ];
}

function needsClass(points: readonly PlacedPoint[]): boolean {
  return points.length > largestLiteral && points.length <= largestClass;
}

function objectOf(
  image: ImageLayout,
  points: readonly PlacedPoint[],
  className: string,
  type: string,
): { before: string[][]; body: string[] } {
  if (!needsClass(points)) return { before: [], body: braced("return {", properties(image, points), "};") };
  const fields = points.map((point) => {
    const types = typeOf(point);
    return types.includes("|") ? `${point.name}: ${types} = ${zeroOf(point)};` : `${point.name} = ${zeroOf(point)};`;
  });
  const start = [
    "// A class keeps its shape in memory where a literal of so many properties would become a hash table.",
    ...braced(`class ${className} implements ${type} {`, fields, "}"),
  ];
  const lines = points.flatMap((point) => brokenCall(`values.${point.name} = ${decoded(image, point)};`));
  return { before: [start], body: [`const values = new ${className}();`, ...lines, "return values;"] };
}

function properties(image: ImageLayout, points: readonly PlacedPoint[]): string[] {
  return points.flatMap((point) => brokenCall(`${point.name}: ${decoded(image, point)},`));
}

function decoded({ direction }: ImageLayout, point: PlacedPoint): string {
  return valueExpression(point, direction, countsExpression(point));
}
