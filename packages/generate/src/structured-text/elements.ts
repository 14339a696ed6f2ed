/** The bit copies as expressions: a pattern out of elements, and a pattern into them. */
import type { BitCopy, ElementBits } from "../bit-copies/copies.js";
import { type BitString, bitStringFor, converted, patternLiteral, widthOf } from "./types.js";

/** Type of an element. */
export function elementType(bits: ElementBits): BitString {
  return bitStringFor(bits);
}

/** Assigns the pattern of a point, gathered from elements. More than two terms stand one a line. */
export function gathered(target: string, copies: readonly BitCopy[], elements: ElementBits, type: BitString): string[] {
  const from = elementType(elements);
  const terms = copies.map(({ element, elementBit, valueBit, bits }) => {
    const shifted = shift("SHR", `image[${element}]`, elementBit);
    const cut = elementBit + bits < elements ? `${shifted} AND ${maskOf(bits, from)}` : shifted;
    const part = converted(cut, from, type);
    return shift("SHL", part, valueBit);
  });
  const wrapped = terms.length > 1 ? terms.map(inBrackets) : terms;
  if (wrapped.length <= 2) return [`${target} := ${wrapped.join(" OR ")};`];
  return [
    `${target} := ${wrapped[0]}`,
    ...wrapped.slice(1, -1).map((term) => `  OR ${term}`),
    `  OR ${wrapped[wrapped.length - 1]};`,
  ];
}

/** Whether a bit of an element is set, as a condition. */
export function bitIsSet({ element, elementBit }: BitCopy, elements: ElementBits): string {
  const type = elementType(elements);
  return `(image[${element}] AND ${patternLiteral(1n << BigInt(elementBit), type)}) <> ${patternLiteral(0n, type)}`;
}

/** Sets one bit of an element. */
export function setBit({ element, elementBit }: BitCopy, elements: ElementBits): string {
  return `image[${element}] := image[${element}] OR ${patternLiteral(1n << BigInt(elementBit), elementType(elements))};`;
}

/** Spreads a pattern over elements whose bits are still 0 there. `width` is that of the point: above it the pattern is 0. */
export function spread(
  source: string,
  copies: readonly BitCopy[],
  elements: ElementBits,
  type: BitString,
  width: number,
): string[] {
  const to = elementType(elements);
  return copies.map(({ element, elementBit, valueBit, bits }) => {
    const shifted = shift("SHR", source, valueBit);
    const cut = valueBit + bits < width ? `${shifted} AND ${maskOf(bits, type)}` : shifted;
    const moved = shift("SHL", converted(cut, type, to), elementBit);
    return `image[${element}] := image[${element}] OR ${inBrackets(moved)};`;
  });
}

/** The mask of the lowest bits of a type. */
export function maskOf(bits: number, type: BitString): string {
  return patternLiteral((1n << BigInt(bits)) - 1n, type);
}

/** The highest bit of a pattern of so many bits, which tells its sign. */
export function signBit(bits: number, type: BitString): string {
  return patternLiteral(1n << BigInt(bits - 1), type);
}

/** Ones above the lowest bits of a type. */
export function onesAbove(bits: number, type: BitString): string {
  const all = (1n << BigInt(widthOf(type))) - 1n;
  return patternLiteral(all - ((1n << BigInt(bits)) - 1n), type);
}

function shift(way: "SHL" | "SHR", expression: string, by: number): string {
  return by === 0 ? expression : `${way}(${expression}, ${by})`;
}

// A term that is no call needs brackets beside OR.
function inBrackets(term: string): string {
  return /^\w+\(.*\)$|^[\w[\]]+$/.test(term) ? term : `(${term})`;
}
