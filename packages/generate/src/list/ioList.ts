/**
 * The I/O list: one row for each point, each declared spare and each gap of an image, in image order. The tables of every
 * target are made from it; it holds numbers and plain texts, and each target escapes them in its own way.
 */
import {
  characteristicOf,
  codeOfPoint,
  type Direction,
  type Gap,
  type ImageLayout,
  numberOf,
  type PlacedPoint,
  unitOf,
} from "byterail";
import { type AddressOptions, byteMap, type MapRow } from "byterail/map";
import { oneLine } from "../snippet.js";

/** The two ends of a span. Counts of 64-bit integers need `bigint`. */
export type Ends = readonly [number | bigint, number | bigint];

/** One row of an I/O list; null where a column does not apply. */
export interface ListRow {
  readonly direction: Direction;
  /** IEC 61131-3. */
  readonly address: string | null;
  /** First byte; for a field, of its packed word. */
  readonly byte: number;
  /** Lowest bit: of a bit in its byte, of a field in its packed word. */
  readonly bit: number | null;
  /** Width in bits. */
  readonly bits: number;
  readonly name: string | null;
  readonly title: string | null;
  /** Type of the point, `spare`, or what a gap is there for. */
  readonly type: string;
  /** Counts at the two ends of the scale; without one, the smallest and the largest that an integer can hold. */
  readonly counts: Ends | null;
  readonly signal: Ends | null;
  readonly signalUnit: string | null;
  /** Value at the two ends of the scale. */
  readonly value: Ends | null;
  readonly unit: string | null;
  readonly module: string | null;
  readonly slot: number | null;
}

/** What a gap is called where a reader meets it. */
export const gapWords: Readonly<Record<Gap["why"], string>> = {
  reserve: "reserve",
  pin: "padding before a pinned module",
  alignment: "padding for alignment",
  length: "padding to the length",
};

/** The I/O list of one direction. */
export function ioList(image: ImageLayout, addresses: AddressOptions = {}): ListRow[] {
  const { direction, points } = image;
  const byName = new Map(points.map((point) => [point.name, point]));
  const map = byteMap(image, addresses);
  const rows = [
    ...map.points.map((row) => mapRow(row, row.name === null ? undefined : byName.get(row.name), direction)),
    ...map.gaps.map((gap) => gapRow(gap, direction)),
  ];
  // Stable: rows of one byte keep the order of the map.
  return rows.sort((a, b) => a.byte - b.byte);
}

/** The ends of a span as one text, or an empty one: `4 … 20`. */
export function spanText(ends: Ends | null, unit: string | null = null): string {
  return ends === null ? "" : `${ends[0]} … ${ends[1]}${unit === null ? "" : ` ${unit}`}`;
}

function mapRow(row: MapRow, point: PlacedPoint | undefined, direction: Direction): ListRow {
  const { address, byte, bits, name, module, slot, type } = row;
  return {
    ...{ direction, address, byte, bit: row.bit ?? row.shift, bits, name },
    title: textOrNull(point?.description.title),
    type,
    ...(point ? spansOf(point) : noSpans),
    ...{ module, slot },
  };
}

function gapRow({ byte, bytes, why }: Gap, direction: Direction): ListRow {
  const place = { direction, address: null, byte, bit: null, bits: 8 * bytes, name: null, title: null };
  return { ...place, type: gapWords[why], ...noSpans, module: null, slot: null };
}

const noSpans = { counts: null, signal: null, signalUnit: null, value: null, unit: null };

function spansOf(point: PlacedPoint): Pick<ListRow, keyof typeof noSpans> {
  const scale = numberOf(point)?.scale;
  const code = codeOfPoint(point);
  const unit = textOrNull(unitOf(point));
  const curve = scale?.points;
  const counts = curve ? ([curve[0]![0], curve[curve.length - 1]![0]] as const) : scale?.counts;
  const characteristic = scale && characteristicOf(scale);
  if (!counts || !characteristic) return { ...noSpans, counts: code && [code.min, code.max], unit };
  const value = [characteristic.toValue(counts[0]), characteristic.toValue(counts[1])] as const;
  return { counts, signal: scale.signal ?? null, signalUnit: (scale.signal && scale.signalUnit) ?? null, value, unit };
}

function textOrNull(text: string | null | undefined): string | null {
  return oneLine(text ?? "") || null;
}
