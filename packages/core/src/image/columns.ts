/** Columns of a capture: many frames of one image, as one typed array per point. */
import type { ImageLayout } from "../layout/layout.js";
import type { PlacedPoint } from "../layout/point.js";
import { codeOf } from "../number/code.js";
import { widestNumber } from "../number/types.js";
import { fail, printable } from "../problem.js";
import { type ShortRun, shortRun } from "../number/pattern.js";
import type { Access } from "./access.js";
import { isPlainReal, type Line, lineOf } from "./lane.js";
import { type AnyImage, accessOf } from "./plan.js";

/** The values of one point, a frame a row. */
export type Column =
  | Float64Array
  | Float32Array
  | Int8Array
  | Uint8Array
  | Int16Array
  | Uint16Array
  | Int32Array
  | Uint32Array
  | BigInt64Array
  | BigUint64Array;

/** Columns by point. Rows from `frames` on are free. */
export interface Columns<N extends string = string, T = unknown> {
  /** How many rows are filled. */
  readonly frames: number;
  readonly points: { readonly [K in N]: Column };
  /** Whatever was given as `time`. */
  readonly time: T | undefined;
}

/** What to take out of a capture, and where to put it. */
export interface ColumnsOptions<N extends string = string, T = unknown> {
  /** The points to take; all, if not given. */
  readonly names?: readonly N[];
  /** Bytes from the start of one frame to that of the next; the size of the image, if not given. */
  readonly stride?: number;
  /** Bytes of a frame before its image, such as a header; 0, if not given. */
  readonly offset?: number;
  /**
   * `float64` (default) holds every value of up to 53 bits; `narrowest` takes the smallest array that holds every value
   * of the point exactly. Booleans are always a `Uint8Array` of 0 and 1. Integers of more than 53 bits are 64-bit integers,
   * which have one zero, not the two of sign and magnitude; of BCD so wide, `Float64Array` holds the nearest double.
   */
  readonly storage?: "float64" | "narrowest";
  /** Rows to make room for, where more frames are to follow. */
  readonly capacity?: number;
  /** Columns to go on filling, behind the rows they have. Their points are taken, whatever `names` says. */
  readonly into?: Columns<N, T>;
  /** Times of the frames, or anything else about them: handed through. */
  readonly time?: T;
  /** Told after each block how many of these frames are done. Returning `"stop"` ends there. */
  readonly progress?: (done: number, of: number) => "stop" | unknown;
}

/** Frames of a block: it and one column of it fit the fast memory of a processor. */
const blockBytes = 2 ** 18;

/**
 * Decodes a capture, frames one behind the other in one piece, into columns. Values are those of `decode`. To read a long
 * capture piece by piece, give `capacity` with the first piece and the result as `into` with each next one; a frame that
 * is cut off at the end of a piece is not taken. What was stopped goes on with
 * `frames.subarray(stride * done)`.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { columns, fromHex } from "byterail/frames";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "meter", inputs: [{ name: "flow", type: "uint16" }, { name: "full", type: "bit" }] }],
 * });
 * const { points } = columns(inputs, fromHex("02 2B 01 | 02 2C 00"));
 * points.flow; // → new Float64Array([555, 556])
 * points.full; // → new Uint8Array([1, 0])
 * ```
 * @throws `ByterailError` `value.unknown`; `columns.stride`, `columns.offset`, `columns.room` where the numbers do not fit
 */
export function columns<V, N extends keyof V & string = keyof V & string, T = undefined>(
  image: ImageLayout<V, unknown, unknown>,
  frames: Uint8Array,
  options: ColumnsOptions<N, T> = {},
): Columns<N, T> {
  const { offset = 0, stride = image.byteLength + offset, progress, into } = options;
  const count = countOf(image, frames, stride, offset);
  const first = into?.frames ?? 0;
  const accesses = (into ? Object.keys(into.points) : (options.names ?? image.points.map(({ name }) => name))).map(
    (name) => accessOf(image, name),
  );
  const points =
    into?.points ?? newColumns(accesses, Math.max(options.capacity ?? 0, count), options.storage ?? "float64");
  const fillings = fillingsOf(accesses, (access) => roomFor(points as never, access, first + count));
  const block = Math.max(1, Math.floor(blockBytes / stride));
  const patterns = new Uint32Array(block);
  let done = 0;
  while (done < count) {
    const end = Math.min(count, done + block);
    const rows = { frames, at: offset + done * stride, stride, row: first + done, end: first + end, patterns };
    for (const fill of fillings) fill(rows);
    done = end;
    if (progress?.(done, count) === "stop") break;
  }
  return { frames: first + done, points: points as Columns<N, T>["points"], time: options.time ?? into?.time };
}

function countOf(image: AnyImage, frames: Uint8Array, stride: number, offset: number): number {
  const { direction, byteLength } = image;
  if (!(frames instanceof Uint8Array)) fail("image.bytes", direction, "must be a Uint8Array (a Node Buffer is one)");
  if (!Number.isSafeInteger(offset) || offset < 0)
    fail("columns.offset", direction, `must be a whole number of bytes, 0 or more, not ${offset}`);
  if (!Number.isSafeInteger(stride) || stride < offset + byteLength || stride < 1)
    fail("columns.stride", direction, `must be at least ${Math.max(1, offset + byteLength)} bytes, not ${stride}`);
  return Math.floor((frames.length - offset - byteLength) / stride) + 1;
}

function roomFor(points: Readonly<Record<string, Column>>, { point }: Access, rows: number): Column {
  const column = points[point.name]!;
  return column.length >= rows
    ? column
    : fail("columns.room", printable(point.name), `needs ${rows} rows and has ${column.length}; give capacity`);
}

function newColumns(
  accesses: readonly Access[],
  rows: number,
  storage: "float64" | "narrowest",
): Record<string, Column> {
  return Object.fromEntries(accesses.map(({ point }) => [point.name, new (arrayFor(point, storage))(rows)]));
}

function arrayFor(point: PlacedPoint, storage: "float64" | "narrowest"): new (rows: number) => Column {
  if (point.kind === "boolean") return Uint8Array;
  const scaled = "scale" in point.description && point.description.scale !== undefined;
  // BCD that is no decimal number is NaN.
  if (scaled || point.code === "bcd") return Float64Array;
  if (point.code === null) return storage === "narrowest" && point.bits === 32 ? Float32Array : Float64Array;
  const { min, max } = codeOf(point.code, point.bits);
  if (point.bits > widestNumber) return min < 0 ? BigInt64Array : BigUint64Array;
  // −0 of sign-magnitude is a value of its own.
  if (storage === "float64" || point.code === "signMagnitude") return Float64Array;
  const holds = ([low, high]: readonly [number, number]) => min >= low && max <= high;
  return integerArrays.find(([, span]) => holds(span))?.[0] ?? Float64Array;
}

const integerArrays = [
  [Uint8Array, [0, 2 ** 8 - 1]],
  [Int8Array, [-(2 ** 7), 2 ** 7 - 1]],
  [Uint16Array, [0, 2 ** 16 - 1]],
  [Int16Array, [-(2 ** 15), 2 ** 15 - 1]],
  [Uint32Array, [0, 2 ** 32 - 1]],
  [Int32Array, [-(2 ** 31), 2 ** 31 - 1]],
] as const;

/** Where the frames of a block lie, and the rows they go to. */
interface Block {
  readonly frames: Uint8Array;
  readonly at: number;
  readonly stride: number;
  readonly row: number;
  readonly end: number;
  /** Room for a 32-bit pattern of each frame. */
  readonly patterns: Uint32Array;
}

type Filling = (block: Block) => void;

function fillingsOf(accesses: readonly Access[], columnOf: (access: Access) => Column): Filling[] {
  const flagsByByte = new Map<number, Flag[]>();
  const fillings: Filling[] = [];
  for (const access of accesses) {
    const { point } = access;
    const column = columnOf(access);
    const run = shortRun(point.positions, point.low, point.bits);
    if (point.kind === "boolean" && run && column instanceof Uint8Array) {
      const flags = flagsByByte.get(run.p0) ?? [];
      flagsByByte.set(run.p0, flags);
      flags.push({ column, shift: run.shift });
    } else fillings.push(fillingOf(access, column, run));
  }
  for (const [p0, flags] of flagsByByte)
    while (flags.length > 0) {
      // Four at a time; where fewer are left, the last is written more than once.
      const [one, two = one, three = two, four = three] = flags.splice(0, 4) as [Flag, Flag, Flag, Flag];
      fillings.push((block) => fillFlags(block, p0, one, two, three, four));
    }
  return fillings;
}

/** A column of flags, and where its bit stands in its byte. */
interface Flag {
  readonly column: Uint8Array;
  readonly shift: number;
}

function fillingOf({ point, bits, toValue }: Access, column: Column, run: ShortRun | null): Filling {
  const line = point.kind === "boolean" ? null : lineOf(point);
  if (run && line && column instanceof Float64Array) {
    const numbers = { ...run, ...line };
    return (block) => fillLine(block, column, numbers);
  }
  if (point.bits === 32 && point.positions.length === 4 && column instanceof Float64Array) {
    const plain = point.kind === "real" && isPlainReal(point);
    return (block) => {
      const { row, end, patterns } = block;
      readPatterns(block, point.positions);
      if (plain) column.set(new Float32Array(patterns.buffer, 0, end - row), row);
      else if (line) convertPatterns(block, column, line);
      else for (let k = row; k < end; k++) column[k] = toValue(patterns[k - row]!) as number;
    };
  }
  const convert = column instanceof BigInt64Array || column instanceof BigUint64Array ? BigInt : Number;
  return ({ frames, at: from, stride, row, end }) => {
    for (; row < end; row++, from += stride) column[row] = convert(toValue(bits.read(frames, from)));
  };
}

// Short loops over bare numbers, each a function of its own, so that the engine compiles each into a few shifts; calls of
// the fast lane in them would cost four times as much. The formulas are the lane's, which the tests hold them to.

function fillFlags({ frames, at, stride, row, end }: Block, p0: number, ...flags: [Flag, Flag, Flag, Flag]): void {
  const [{ column: a, shift: sa }, { column: b, shift: sb }, { column: c, shift: sc }, { column: d, shift: sd }] =
    flags;
  for (let from = at + p0; row < end; row++, from += stride) {
    const byte = frames[from]!;
    a[row] = (byte >>> sa) & 1;
    b[row] = (byte >>> sb) & 1;
    c[row] = (byte >>> sc) & 1;
    d[row] = (byte >>> sd) & 1;
  }
}

function fillLine({ frames, at, stride, row, end }: Block, column: Float64Array, line: ShortRun & Line): void {
  const { p0, p1, shift, mask, flip, less, a, b, c } = line;
  for (; row < end; row++, at += stride) {
    const pattern = ((frames[at + p0]! | (frames[at + p1]! << 8)) >>> shift) & mask;
    column[row] = (a * ((pattern ^ flip) - less) + b) / c;
  }
}

function readPatterns({ frames, at, stride, row, end, patterns }: Block, positions: readonly number[]): void {
  const [p0 = 0, p1 = 0, p2 = 0, p3 = 0] = positions;
  for (let k = 0; k < end - row; k++, at += stride)
    patterns[k] = frames[at + p0]! | (frames[at + p1]! << 8) | (frames[at + p2]! << 16) | (frames[at + p3]! << 24);
}

function convertPatterns({ row, end, patterns }: Block, column: Float64Array, { flip, less, a, b, c }: Line): void {
  for (let k = 0; row < end; k++, row++) column[row] = (a * (((patterns[k]! ^ flip) >>> 0) - less) + b) / c;
}
