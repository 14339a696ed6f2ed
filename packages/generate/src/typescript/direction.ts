/** The part of a module for one direction: constants, types, decode, encode. */
import type { ImageLayout } from "byterail";
import { ioList } from "../list/ioList.js";
import { ruleProperties } from "./checks.js";
import { decodeBlocks } from "./decode.js";
import { encodeBlocks } from "./encode.js";
import { typeOf } from "./read.js";
import { curveFunctions } from "./scaling.js";
import { commentText, listed, literal, stringLiteral } from "./text.js";
import { braced, picked, pointsOf, type Words } from "./words.js";

/** The blocks of one direction, each as lines; a blank line belongs between them. */
export function directionBlocks(image: ImageLayout): string[][] {
  const words = {
    type: image.direction === "inputs" ? "Inputs" : "Outputs",
    value: image.direction,
    one: image.direction.slice(0, -1),
  };
  return [
    [`/** Length of the ${words.value} in bytes. */`, `export const ${words.value}Length = ${image.byteLength};`],
    layoutConstant(image, words),
    valuesInterface(image, words),
    moduleInterface(image, words),
    ...decodeBlocks(image, words),
    ...encodeBlocks(image, words),
    ...image.points.flatMap((point) => curveFunctions(point, image.direction)),
    modulesConstant(image, words),
    rulesConstant(image, words),
  ];
}

function layoutConstant(image: ImageLayout, { value }: Words): string[] {
  const rows = new Map(ioList(image).map((row) => [row.name, row]));
  const entries = image.points.map((point) => {
    const { counts, signal, signalUnit, value: ends, unit } = rows.get(point.name)!;
    const { type, byte, bit, bits, word, shift } = point;
    const items = [
      ...[`type: ${stringLiteral(type)}`, `byte: ${byte}`],
      ...(bit === null ? [] : [`bit: ${bit}`]),
      `bits: ${bits}`,
      ...(word === null ? [] : [`word: ${word}`, `shift: ${shift}`]),
      ...endsItem("counts", counts),
      ...endsItem("signal", signal),
      ...(signalUnit === null ? [] : [`signalUnit: ${stringLiteral(signalUnit)}`]),
      ...endsItem("value", ends),
      ...(unit === null ? [] : [`unit: ${stringLiteral(unit)}`]),
    ];
    return listed(`${point.name}: {`, items, "},");
  });
  return [
    `/** Where each ${value.slice(0, -1)} stands, and what its counts and its value are at the two ends. */`,
    ...braced(`export const ${value}Layout = {`, entries.flat(), "} as const;"),
  ];
}

function endsItem(name: string, ends: readonly (number | bigint)[] | null): string[] {
  return ends === null ? [] : [`${name}: [${ends.map(literal).join(", ")}]`];
}

function valuesInterface(image: ImageLayout, { type, value }: Words): string[] {
  const units = new Map(ioList(image).map(({ name, unit }) => [name, unit]));
  const members = image.points.flatMap((point) => {
    const { title } = point.description;
    const about = [title, units.get(point.name)].filter((text) => text).map((text) => commentText(text!));
    const comment = about.length === 0 ? [] : [`/** ${about.join(", in ")} */`];
    return [...comment, `${point.name}: ${typeOf(point)};`];
  });
  return [
    `/** Values of the ${value}, in engineering units. */`,
    ...braced(`export interface ${type} {`, members, "}"),
  ];
}

function moduleInterface(image: ImageLayout, { type, value }: Words): string[] {
  const members = image.modules.flatMap(({ name, title }) => {
    const names = pointsOf(image, name).map((point) => stringLiteral(point.name));
    const comment = title ? [`/** ${commentText(title)} */`] : [];
    return [...comment, ...picked(`${name}: `, type, names, ";")];
  });
  return [`/** Values of the ${value} by module. */`, ...braced(`export interface ${type}ByModule {`, members, "}")];
}

function modulesConstant({ modules }: ImageLayout, { one }: Words): string[] {
  const items = modules.map(({ name, bytes }) => `[${stringLiteral(name)}, ${bytes}],`);
  return braced(`const ${one}Modules: Modules = [`, items, "];");
}

function rulesConstant({ points, direction }: ImageLayout, { one }: Words): string[] {
  const rows = points.flatMap((point) => listed("{", ruleProperties(point, direction), "},"));
  return braced(`const ${one}Rules: readonly Rule[] = [`, rows, "];");
}
