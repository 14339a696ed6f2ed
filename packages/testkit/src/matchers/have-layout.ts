/** `toHaveLayout`: points stand where a test expects them. */
import type { ImageLayout } from "byterail";
import { type AddressOptions, byteMap, type MapRow, parseAddress } from "byterail/map";
import { reasonLines } from "./decode-to.js";
import { excerpt } from "./dump.js";
import { counted } from "./judge.js";
import { type AnyImage, attempt, checkImage, type MatcherResult } from "./result.js";

/**
 * Where a point stands: an address of IEC 61131-3 such as `%IW4`, or any keys of its row in the byte map, such as
 * `{ byte: 4, shift: 2, bits: 12 }`.
 */
export type Place = `%${string}` | Partial<Omit<MapRow, "name">>;

/** How `toHaveLayout` compares: how addresses are written, and the length. */
export interface LayoutOptions extends AddressOptions {
  /** Length of the image in bytes, padding included. */
  readonly byteLength?: number;
}

/** Whether the points of an image stand at the given places; points that are not named may stand anywhere. */
export function toHaveLayout(
  received: unknown,
  places: Readonly<Record<string, Place | undefined>>,
  options: LayoutOptions = {},
): MatcherResult {
  const image = received as AnyImage;
  checkImage(image, "toHaveLayout");
  const { points } = byteMap(image as ImageLayout, options);
  const rows = new Map(points.filter(({ name }) => name !== null).map((row) => [row.name!, row]));
  const differing = Object.entries(places).flatMap(([name, place]): Differing[] => {
    const row = rows.get(name);
    const wanted: Partial<MapRow> = typeof place === "string" ? { address: place.toUpperCase() } : (place ?? {});
    if (!row) return [{ name, text: "no such point", by: null }];
    const keys = (Object.keys(wanted) as (keyof MapRow)[]).filter((key) => wanted[key] !== row[key]);
    if (keys.length === 0) return [];
    const text = keys.map((key) => `${key} expected ${wanted[key]}, received ${row[key]}`).join("; ");
    return [{ name, text, by: distance(wanted, row, options) }];
  });
  const { byteLength = image.byteLength } = options;
  const sameLength = byteLength === image.byteLength;
  const pass = differing.length === 0 && sameLength;
  const message = () => {
    if (pass) return `expected the ${image.direction} not to have this layout`;
    const lengths = sameLength ? [] : [`byteLength expected ${byteLength}, received ${image.byteLength}`];
    const marked = new Map(differing.map(({ name, text }) => [name, text]));
    const unknown = differing.filter(({ name }) => !rows.has(name)).map(({ name, text }) => `✗ ${name}  ${text}`);
    return [
      `expected the ${image.direction} to have another layout`,
      "",
      ...lengths,
      excerpt(table(points, marked)),
      ...unknown,
      ...reasonLines(shifted(differing)),
    ].join("\n");
  };
  return { pass, message };
}

interface Differing {
  readonly name: string;
  readonly text: string;
  /** Bytes by which the point stands later than expected; null where that is not known. */
  readonly by: number | null;
}

function distance(wanted: Partial<MapRow>, row: MapRow, options: LayoutOptions): number | null {
  if (wanted.byte !== undefined) return row.byte - wanted.byte;
  if (typeof wanted.address !== "string" || row.address === null) return null;
  const [from, to] = [wanted.address, row.address].map((address) => attempt(() => parseAddress(address, options)));
  return "result" in from! && "result" in to! ? to.result.byte - from.result.byte : null;
}

// A module put in or left out moves everything behind it by the same number of bytes.
function shifted(differing: readonly Differing[]): readonly string[] {
  const [by, ...others] = new Set(differing.flatMap((each) => each.by ?? []));
  if (!by || others.length > 0 || differing.length < 2) return [];
  const where = `${counted(Math.abs(by), "byte")} ${by < 0 ? "earlier" : "later"}`;
  return [`all of them stand ${where}: a module or a spare before them differs`];
}

function table(rows: readonly MapRow[], notes: ReadonlyMap<string, string>): readonly string[] {
  const cells = rows.map((row) => [placeOf(row), row.address ?? "", row.name ?? "", row.type]);
  const widths = [0, 1, 2, 3].map((k) => Math.max(0, ...cells.map((cell) => cell[k]!.length)));
  return rows.map(({ name }, r) => {
    const text = cells[r]!.map((cell, k) => cell.padEnd(widths[k]!)).join("  ");
    const note = name === null ? undefined : notes.get(name);
    return note === undefined ? `  ${text}`.trimEnd() : `✗ ${text}  ${note}`;
  });
}

function placeOf({ byte, bit, shift, bits }: MapRow): string {
  return shift === null
    ? `${byte}${bit === null ? "" : `.${bit}`}`
    : `${byte}:${shift}${bits > 1 ? `-${shift + bits - 1}` : ""}`;
}
