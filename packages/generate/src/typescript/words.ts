/** What the functions for one direction share: their words, their first check, and pieces of text. */
import type { ImageLayout, PlacedPoint } from "byterail";
import { indent } from "../snippet.js";
import { lineWidth } from "./text.js";

/** What the names of one direction are made of. */
export interface Words {
  /** `Inputs` or `Outputs`. */
  readonly type: string;
  /** `inputs` or `outputs`. */
  readonly value: string;
  /** `input` or `output`. */
  readonly one: string;
}

/** The check of the bytes with which every function begins. */
export function lengthCheck({ direction }: ImageLayout, { value, one }: Words): string[] {
  return [
    `if (!(bytes instanceof Uint8Array) || bytes.length !== ${value}Length)`,
    `  throw wrongBytes("${direction}", ${value}Length, bytes, ${one}Modules);`,
  ];
}

/** Points of one module. */
export function pointsOf({ points }: ImageLayout, module: string): PlacedPoint[] {
  return points.filter((point) => point.module === module);
}

/** The type that picks some points by name, between two texts. */
export function picked(before: string, type: string, names: readonly string[], after: string): string[] {
  if (names.length === 0) return [`${before}Record<string, never>${after}`];
  const line = `${before}Pick<${type}, ${names.join(" | ")}>${after}`;
  if (line.length <= lineWidth - 2) return [line];
  return [`${before}Pick<`, `  ${type},`, ...names.map((name) => `  | ${name}`), `>${after}`];
}

/** Lines between two signs, or the signs alone. */
export function braced(open: string, lines: readonly string[], close: string): string[] {
  return lines.length === 0 ? [open + close] : [open, ...indent(lines), close];
}
