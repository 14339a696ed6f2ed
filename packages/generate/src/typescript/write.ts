/** Writing points: every byte of the image as one assignment, put together from the points that have bits in it. */
import type { ImageLayout, PlacedPoint } from "byterail";
import { type Part, partsOf } from "../point/parts.js";
import { isWide } from "./read.js";
import { joined, literal, mask, unbracketed } from "./text.js";

/** How a local name is found for a point: its value, its pattern, or a 32-bit half of its pattern. */
export type LocalName = (point: PlacedPoint, what: "value" | "counts" | "pattern" | "low" | "high") => string;

/**
 * Statements that make the pattern of a point from its counts, for a point whose counts are not written as they are.
 *
 * @param counts name of the local that holds the counts
 */
export function patternStatements(point: PlacedPoint, counts: string, nameOf: LocalName): string[] {
  const { kind, code, bits } = point;
  const [low, high] = [nameOf(point, "low"), nameOf(point, "high")];
  if (kind === "boolean") return [];
  if (kind === "real") {
    if (bits === 32) return [`scratch.setFloat32(0, ${counts});`, `const ${low} = scratch.getInt32(0);`];
    return [`scratch.setFloat64(0, ${counts});`, ...halves(low, high)];
  }
  const coded = codedPattern(point, counts);
  if (isWide(point)) return [`scratch.setBigInt64(0, ${coded});`, ...halves(low, high)];
  if (bits > 32) {
    const pattern = coded === counts ? counts : nameOf(point, "pattern");
    const line = coded === counts ? [] : [`const ${pattern} = ${coded};`];
    return [...line, `const ${low} = ${pattern} | 0;`, `const ${high} = Math.floor(${pattern} / ${2 ** 32});`];
  }
  return code === "unsigned" || code === "twosComplement" ? [] : [`const ${nameOf(point, "pattern")} = ${coded};`];
}

/** A run of image bytes, and every point that has bits in it. */
export interface Chunk {
  readonly from: number;
  /** The byte after the last. */
  readonly to: number;
  readonly points: readonly PlacedPoint[];
}

/** The image in runs of bytes that so many points, or a few more, have bits in. */
export function writeChunks({ byteLength, points }: ImageLayout, most: number): Chunk[] {
  const inByte = Array.from({ length: byteLength }, (): PlacedPoint[] => []);
  for (const point of points) for (const { byte } of partsOf(point)) inByte[byte]!.push(point);
  const chunks: Chunk[] = [];
  let [from, here] = [0, new Set<PlacedPoint>()];
  for (let byte = 0; byte < byteLength; byte++) {
    for (const point of inByte[byte]!) here.add(point);
    const goesOn = inByte[byte + 1]?.some((point) => here.has(point)) ?? false;
    if (byte + 1 < byteLength && (here.size < most || goesOn)) continue;
    chunks.push({ from, to: byte + 1, points: [...here] });
    [from, here] = [byte + 1, new Set()];
  }
  return chunks;
}

/** One assignment for every byte; bytes and bits without a point become 0. */
export function writeStatements(
  { from, to, points }: Chunk,
  countsOf: (point: PlacedPoint) => string,
  nameOf: LocalName,
): string[] {
  const inByte = new Map<number, string[]>();
  for (const point of points)
    for (const part of partsOf(point))
      inByte.set(part.byte, [...(inByte.get(part.byte) ?? []), partExpression(point, part, countsOf(point), nameOf)]);
  const lines: string[] = [];
  for (let byte = from; byte < to; byte++) {
    const operands = inByte.get(byte);
    if (operands) {
      const clean = operands.length === 1 ? [unbracketed(operands[0]!)] : operands;
      lines.push(...joined(`bytes[${byte}] =`, clean, "|"));
      continue;
    }
    let end = byte + 1;
    while (end < to && !inByte.has(end)) end++;
    lines.push(end === byte + 1 ? `bytes[${byte}] = 0;` : `bytes.fill(0, ${byte}, ${end});`);
    byte = end - 1;
  }
  return lines;
}

function halves(low: string, high: string): string[] {
  return [`const ${high} = scratch.getInt32(0);`, `const ${low} = scratch.getInt32(4);`];
}

function codedPattern({ code, bits }: PlacedPoint, counts: string): string {
  const wide = bits > 53;
  const half = literal(wide ? 1n << BigInt(bits - 1) : 2 ** (bits - 1));
  if (code === "offsetBinary") return `${counts} + ${half}`;
  if (code === "signMagnitude") return `toSignMagnitude${wide ? "64" : ""}(${counts}, ${half})`;
  if (code === "bcd") return `toBcd${wide ? "64" : ""}(${counts})`;
  return counts;
}

// A byte takes the lowest 8 bits of what is assigned to it, so only what would spill into bits of others is masked.
function partExpression(point: PlacedPoint, { bit, bits, weight }: Part, counts: string, nameOf: LocalName): string {
  const { kind, code } = point;
  if (kind === "boolean") return `(${counts} ? ${mask(1, bit)} : 0)`;
  const split = point.bits > 32;
  const plain = code === "unsigned" || code === "twosComplement";
  const low = split || kind === "real" ? nameOf(point, "low") : plain ? counts : nameOf(point, "pattern");
  const moved = split && weight + bits > 32 ? upperPart(low, nameOf(point, "high"), weight) : shifted(low, weight);
  // What lies above the last part is 0, save where a sign is copied: in two's complement and in 32-bit halves.
  const isLast = weight + bits === point.bits;
  const clean = isLast && point.bits < 32 && code !== "twosComplement";
  const masked = bit + bits < 8 && !clean ? `(${moved} & ${mask(bits)})` : moved;
  return bit === 0 ? masked : `(${masked} << ${bit})`;
}

function upperPart(low: string, high: string, weight: number): string {
  return weight >= 32 ? shifted(high, weight - 32) : `((${low} >>> ${weight}) | (${high} << ${32 - weight}))`;
}

function shifted(name: string, by: number): string {
  return by === 0 ? name : `(${name} >> ${by})`;
}
