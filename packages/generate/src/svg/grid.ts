/**
 * The byte map in cells, before anything is drawn: rows of one byte or two, columns from bit 7 down to bit 0, and what
 * stands in them. A block is a point, a spare, a gap or the bits that nobody uses; a chunk is its part of one byte.
 */
import { type Direction, type Gap, type Layout, type PlacedPoint, type PlacedSpare, touchedBytes } from "byterail";

/** How many bytes stand in a row. */
export type RowUnit = "byte" | "word";

/** The bits `high` down to `low` of one image byte; `pointLow` is the bit of the point that stands in `low`. */
export interface Chunk {
  readonly byte: number;
  readonly high: number;
  readonly low: number;
  readonly pointLow: number;
}

/** Something that stands in the image. Chunks are in image order. */
export type Block =
  | { readonly kind: "point"; readonly point: PlacedPoint; readonly chunks: readonly Chunk[] }
  | { readonly kind: "spare"; readonly bits: number; readonly chunks: readonly Chunk[] }
  | { readonly kind: "gap"; readonly why: Gap["why"]; readonly bytes: number; readonly chunks: readonly Chunk[] }
  | { readonly kind: "unused"; readonly chunks: readonly Chunk[] };

/** A row: the bytes that it stands for, more than its cells where many bytes of one spare or gap are folded into it. */
export interface Row {
  readonly byte: number;
  readonly bytes: number;
}

/** Everything that stands in an image, in image order. */
export function blocksOf(layout: Layout, direction: Direction): Block[] {
  const { points, spares, gaps, byteLength } = layout[direction];
  const used: Block[] = [
    ...points.map((point): Block => ({ kind: "point", point, chunks: pointChunks(point) })),
    ...spares.map((spare): Block => ({ kind: "spare", bits: spare.bits, chunks: spareChunks(spare) })),
    ...gaps.map(({ byte, bytes, why }): Block => ({ kind: "gap", why, bytes, chunks: wholeBytes(byte, bytes) })),
  ];
  const free = freeBits(used, byteLength).map((chunk): Block => ({ kind: "unused", chunks: [chunk] }));
  return [...used, ...free].sort(
    (a, b) => a.chunks[0]!.byte - b.chunks[0]!.byte || b.chunks[0]!.high - a.chunks[0]!.high,
  );
}

/** The rows of an image. Four rows or more that one spare or gap fills become one. */
export function rowsOf(blocks: readonly Block[], byteLength: number, unit: RowUnit): Row[] {
  const size = unit === "byte" ? 1 : 2;
  const folds = new Map(blocks.flatMap((block) => foldOf(block, size)));
  const rows: Row[] = [];
  for (let byte = 0; byte < byteLength; ) {
    const bytes = folds.get(byte) ?? Math.min(size, byteLength - byte);
    rows.push({ byte, bytes });
    byte += bytes;
  }
  return rows;
}

/** Rows in parts of `most` rows or fewer, so that no block is torn unless it is longer than a part. */
export function partsOf(rows: readonly Row[], blocks: readonly Block[], most: number): Row[][] {
  const torn = new Set(
    blocks.flatMap(({ chunks }) => {
      const [first, last] = [chunks[0]!.byte, chunks[chunks.length - 1]!.byte];
      return Array.from({ length: last - first }, (_, k) => first + 1 + k);
    }),
  );
  const parts: Row[][] = [];
  for (let start = 0; start < rows.length; ) {
    const furthest = Math.min(start + most, rows.length);
    let end = furthest;
    while (end > start && end < rows.length && torn.has(rows[end]!.byte)) end--;
    if (end === start) end = furthest;
    parts.push(rows.slice(start, end));
    start = end;
  }
  return parts;
}

function pointChunks(point: PlacedPoint): Chunk[] {
  const { positions, low, bits } = point;
  return touchedBytes(point).map((byte) => {
    // Bits 8k to 8k + 7 of the integer stand in this byte.
    const from = 8 * positions.indexOf(byte);
    const [first, last] = [Math.max(low, from), Math.min(low + bits, from + 8) - 1];
    return { byte, high: last - from, low: first - from, pointLow: first - low };
  });
}

function spareChunks({ byte, bit, bits, bitOrder }: PlacedSpare): Chunk[] {
  if (bit === null) return wholeBytes(byte, bits >> 3);
  const falls = bitOrder === "msbFirst";
  const chunks: Chunk[] = [];
  let start = falls ? 7 - bit : bit;
  for (let left = bits, at = byte; left > 0; at++) {
    const count = Math.min(left, 8 - start);
    const end = start + count - 1;
    chunks.push({ byte: at, high: falls ? 7 - start : end, low: falls ? 7 - end : start, pointLow: 0 });
    left -= count;
    start = 0;
  }
  return chunks;
}

function wholeBytes(byte: number, bytes: number): Chunk[] {
  return Array.from({ length: bytes }, (_, k) => ({ byte: byte + k, high: 7, low: 0, pointLow: 0 }));
}

// Runs of bits that no block has.
function freeBits(blocks: readonly Block[], byteLength: number): Chunk[] {
  const taken = new Uint8Array(byteLength);
  for (const { byte, high, low } of blocks.flatMap(({ chunks }) => chunks))
    taken[byte]! |= ((2 << (high - low)) - 1) << low;
  return Array.from(taken, (bits, byte) => {
    const runs: Chunk[] = [];
    for (let low = 0; low < 8; low++) {
      if ((bits >> low) & 1) continue;
      let high = low;
      while (high < 7 && !((bits >> (high + 1)) & 1)) high++;
      runs.push({ byte, high, low, pointLow: 0 });
      low = high;
    }
    return runs;
  }).flat();
}

function foldOf({ kind, chunks }: Block, size: number): [number, number][] {
  if (kind === "point" || kind === "unused") return [];
  const whole = chunks.filter(({ high, low }) => high === 7 && low === 0);
  const first = Math.ceil((whole[0]?.byte ?? 0) / size) * size;
  const end = Math.floor(((whole[whole.length - 1]?.byte ?? -1) + 1) / size) * size;
  return end - first >= 4 * size ? [[first, end - first]] : [];
}
