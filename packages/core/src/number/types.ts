/** The number types: width and kind of each. */
import type { CountsCode, IntegerType, NumberType, RealType } from "../station/description.js";

/** Whether a type is IEEE 754 rather than an integer. */
export function isReal(type: string): type is RealType {
  return type === "float32" || type === "float64";
}

/** Width of a type in bits: 8 to 64. */
export function widthOf(type: NumberType): number {
  return Number(/\d+/.exec(type)![0]);
}

/** How the bits of an integer stand for counts, the plain binary ones included. */
export type IntegerCode = "unsigned" | "twosComplement" | CountsCode;

/** The code of an integer type that has no `code` of its own. */
export function plainCode(type: IntegerType): IntegerCode {
  return type.startsWith("u") ? "unsigned" : "twosComplement";
}

/** Widest integer, in bits, that every `number` holds exactly; wider ones are `bigint`. */
export const widestNumber = 53;
