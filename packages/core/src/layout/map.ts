/** The byte map as rows: points and declared spares, one a row, in the order of the image. What tables and files print. */
import { type AddressOptions, pointAddress } from "./address.js";
import { byPlace } from "./assemble.js";
import type { Gap, ImageLayout } from "./layout.js";
import { isPoint, type PlacedPoint } from "./point.js";

/** One row of a byte map; null where a key does not apply. */
export interface MapRow {
  readonly name: string | null;
  readonly module: string;
  readonly slot: number;
  readonly type: PlacedPoint["type"] | "spare";
  /** First byte; for a field, of its word. */
  readonly byte: number;
  readonly bit: number | null;
  readonly bits: number;
  readonly word: number | null;
  readonly shift: number | null;
  /** IEC 61131-3. */
  readonly address: string | null;
}

/** One direction of a byte map. */
export interface ByteMap {
  readonly byteLength: number;
  readonly points: readonly MapRow[];
  readonly gaps: readonly Gap[];
}

/** The byte map of an image. */
export function byteMap(
  image: Pick<ImageLayout, "direction" | "byteLength" | "points" | "spares" | "gaps">,
  options: AddressOptions = {},
): ByteMap {
  const rows = [...image.points, ...image.spares].sort(byPlace);
  const points = rows.map((row): MapRow => {
    const { module, slot, byte, bit, bits } = row;
    if (!isPoint(row))
      return { name: null, module, slot, type: "spare", byte, bit, bits, word: null, shift: null, address: null };
    const { name, type, word, shift } = row;
    return {
      name,
      module,
      slot,
      type,
      byte,
      bit,
      bits,
      word,
      shift,
      address: pointAddress(row, image.direction, options),
    };
  });
  return { byteLength: image.byteLength, points, gaps: image.gaps };
}
