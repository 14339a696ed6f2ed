/**
 * Bit copies: how a controller that sees the image as elements of 8, 16 or 32 bits gets at a point. A word at an odd byte
 * lies across elements, so it takes several copies. The table for those who program by hand and the Structured Text are
 * both made from these copies.
 */
import { ByterailError, type ImageLayout, type PlacedPoint, type Problem } from "byterail";
import { partsOf } from "../point/parts.js";
import type { GenerateOptions } from "../target.js";

/** Width of an element in bits. */
export type ElementBits = 8 | 16 | 32;
/** Which byte of an element holds the lower image byte. Without meaning for elements of 8 bits. */
export type ElementOrder = "lowFirst" | "highFirst";

/** How the controller or scanner exposes an image. */
export interface Elements {
  readonly bits: ElementBits;
  readonly order: ElementOrder;
}

/** One copy of neighbouring bits between an element and a value. For outputs read it from the value to the element. */
export interface BitCopy {
  /** Element, counted from 0, and the lowest of the copied bits in it. */
  readonly element: number;
  readonly elementBit: number;
  /** The image byte in which that bit stands, and its number there. */
  readonly imageByte: number;
  readonly imageBit: number;
  /** Lowest of the copied bits in the value, counted from its least significant bit. */
  readonly valueBit: number;
  /** How many bits. */
  readonly bits: number;
}

/** The copies of one point, from its least significant bit up. */
export interface PointCopies {
  readonly point: PlacedPoint;
  readonly copies: readonly BitCopy[];
}

/** The copies of every point of an image. */
export function derive(image: ImageLayout, elements: Elements): PointCopies[] {
  return image.points.map((point) => ({ point, copies: copiesOf(point, elements) }));
}

/** How many elements an image takes; the last may be used in part only. */
export function elementCount({ byteLength }: ImageLayout, { bits }: Elements): number {
  return Math.ceil((8 * byteLength) / bits);
}

/**
 * How the image is exposed by the options: 8 bits, lower byte first, unless they say otherwise.
 *
 * @throws `ByterailError` `option.elements`, `option.elementOrder`
 */
export function elementsOf({ elements = 8, elementOrder = "lowFirst" }: GenerateOptions): Elements {
  const problems: Problem[] = [];
  if (![8, 16, 32].includes(elements)) {
    problems.push({
      code: "option.elements",
      path: "options.elements",
      message: `must be 8, 16 or 32 bits, not ${elements}`,
    });
  }
  if (!["lowFirst", "highFirst"].includes(elementOrder)) {
    const message = `must be lowFirst or highFirst, not ${elementOrder}`;
    problems.push({ code: "option.elementOrder", path: "options.elementOrder", message });
  }
  if (problems.length > 0) throw new ByterailError(problems);
  return { bits: elements, order: elementOrder };
}

function copiesOf(point: PlacedPoint, { bits: width, order }: Elements): BitCopy[] {
  const bytes = width / 8;
  const copies: BitCopy[] = [];
  for (const { byte, bit, bits, weight } of partsOf(point)) {
    const element = Math.floor(byte / bytes);
    const place = order === "lowFirst" ? byte % bytes : bytes - 1 - (byte % bytes);
    const copy = { element, elementBit: 8 * place + bit, imageByte: byte, imageBit: bit, valueBit: weight, bits };
    const last = copies[copies.length - 1];
    // Bytes that follow one another in the element as they do in the value go in one copy.
    if (last && last.element === element && last.elementBit + last.bits === copy.elementBit) {
      copies[copies.length - 1] = { ...last, bits: last.bits + bits };
    } else copies.push(copy);
  }
  return copies;
}
