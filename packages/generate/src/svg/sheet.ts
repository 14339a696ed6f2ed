/** Where rows and columns of the picture stand, in its own units. */
import type { Chunk, Row, RowUnit } from "./grid.js";

/** Sizes that the drawing goes by. */
export interface Sheet {
  readonly unit: RowUnit;
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly cell: number;
  readonly columns: readonly { readonly x: number; readonly bit: number }[];
  readonly rows: readonly (Row & { readonly y: number })[];
  /** The row of a byte, or undefined where another part shows it. */
  readonly rowOf: (byte: number) => number | undefined;
}

/** A rectangle. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Height of a row, and of the seam below it, in which the lines that join the parts of a value run. */
export const rowHeight = 46;
export const seam = 10;
const top = 24;
const gutters = { left: 74, right: 118 };
// Between the two bytes of a word.
const middle = 10;

/** The sheet for some rows; `footer` is kept free below them. */
export function sheetOf(rows: readonly Row[], unit: RowUnit, footer: number): Sheet {
  const cell = unit === "byte" ? 84 : 58;
  const columns = Array.from({ length: unit === "byte" ? 8 : 16 }, (_, k) => ({
    x: gutters.left + k * cell + (k > 7 ? middle : 0),
    bit: 7 - (k & 7),
  }));
  const right = columns[columns.length - 1]!.x + cell;
  const placed = rows.map((row, k) => ({ ...row, y: top + k * (rowHeight + seam) }));
  const index = new Map(placed.flatMap(({ byte, bytes }, k) => Array.from({ length: bytes }, (_, i) => [byte + i, k])));
  return {
    ...{ unit, columns, right, cell, rows: placed, left: gutters.left, width: right + gutters.right },
    height: top + rows.length * (rowHeight + seam) + footer,
    rowOf: (byte) => index.get(byte),
  };
}

/** The rectangle of a chunk, or null where another part shows it. */
export function boxOf({ unit, columns, cell, rows, rowOf }: Sheet, { byte, high, low }: Chunk): Box | null {
  const row = rowOf(byte);
  if (row === undefined) return null;
  const first = unit === "word" && byte % 2 === 1 ? 8 : 0;
  const x = columns[first + 7 - high]!.x;
  return { x: x + 3, y: rows[row]!.y, w: columns[first + 7 - low]!.x + cell - x - 6, h: rowHeight };
}

/** What lies between two boxes that touch across a seam or side by side, else null. */
export function bridge(a: Box, b: Box): Box | null {
  if (a.y === b.y) {
    const [left, right] = a.x < b.x ? [a, b] : [b, a];
    const gap = right.x - left.x - left.w;
    return gap <= middle + 6 ? { x: left.x + left.w, y: a.y, w: gap, h: a.h } : null;
  }
  const [upper, lower] = a.y < b.y ? [a, b] : [b, a];
  if (lower.y - upper.y - upper.h > seam) return null;
  const [x, end] = [Math.max(a.x, b.x), Math.min(a.x + a.w, b.x + b.w)];
  return end > x ? { x, y: upper.y + upper.h, w: end - x, h: seam } : null;
}
