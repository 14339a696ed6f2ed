/**
 * The picture of a byte map: one row a byte, or two bytes, bits across, every point a block with its name. What a block is
 * can be told without colour: by its words, its hatching and its edge. Nothing is measured, so the same station gives
 * the same bytes on every machine.
 */
import { type Direction, isAtOddByte, type Layout, type ModuleExtent, type PlacedPoint } from "byterail";
import { type AddressOptions, formatAddress } from "byterail/map";
import { indent, textOf } from "../snippet.js";
import { xmlText } from "../xml.js";
import { drawBlock, type Picture } from "./block.js";
import { type Block, blocksOf, partsOf, type Row, type RowUnit, rowsOf } from "./grid.js";
import { shortened } from "./label.js";
import { legend, legendHeight, patterns } from "./legend.js";
import { rowHeight, type Sheet, sheetOf } from "./sheet.js";
import { text } from "text:svg/byteMap.css";

/** The styles of the picture, for a page that shows several. */
export const byteMapStyle: string = text;

/** How a byte map is drawn. */
export interface ByteMapOptions {
  /** What stands in a row. Default `byte`. */
  readonly rows?: RowUnit;
  /** How the addresses at the left are written. */
  readonly addresses?: AddressOptions;
  /** Whether the picture carries its styles; `separate` where the page has `byteMapStyle` already. Default `included`. */
  readonly style?: "included" | "separate";
  /** Whether the signs are explained below. Default `shown`. */
  readonly legend?: "shown" | "none";
}

/**
 * Draws the byte map of one direction as one SVG element.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { byteMapSvg } from "@byterail/generate";
 * const layout = assemble({
 *   format: 1, name: "rig", byteOrder: "big", modules: [{ name: "level", inputs: [{ name: "tank", type: "uint16" }] }],
 * });
 * byteMapSvg(layout, "inputs").startsWith("<svg "); // → true
 * ```
 */
// biome-ignore lint/suspicious/noExplicitAny: a layout of any station, whatever types its values have
export function byteMapSvg(layout: Layout<any>, direction: Direction, options: ByteMapOptions = {}): string {
  const blocks = blocksOf(layout, direction);
  return svgOf(
    layout,
    direction,
    blocks,
    rowsOf(blocks, layout[direction].byteLength, options.rows ?? "byte"),
    options,
  );
}

/**
 * The same picture in parts of some rows each, for paper and for long images: torn between blocks only, unless one block is
 * longer than a part. The last part carries the legend.
 *
 * @param most rows of a part
 */
export function byteMapParts(
  // biome-ignore lint/suspicious/noExplicitAny: a layout of any station, whatever types its values have
  layout: Layout<any>,
  direction: Direction,
  most: number,
  options: ByteMapOptions = {},
): string[] {
  const blocks = blocksOf(layout, direction);
  const parts = partsOf(rowsOf(blocks, layout[direction].byteLength, options.rows ?? "byte"), blocks, most);
  return parts.map((rows, k) =>
    svgOf(layout, direction, blocks, rows, k < parts.length - 1 ? { ...options, legend: "none" } : options, k),
  );
}

function svgOf(
  layout: Layout,
  direction: Direction,
  blocks: readonly Block[],
  rows: readonly Row[],
  options: ByteMapOptions,
  part = 0,
): string {
  const { rows: unit = "byte", addresses = {}, style = "included" } = options;
  const sheet = sheetOf(rows, unit, options.legend === "none" ? 0 : legendHeight);
  const { width, height } = sheet;
  const id = `${direction}${part || ""}`;
  const picture: Picture = { sheet, id, direction, addresses, odd: oddWords(blocks) };
  const range = {
    first: rows[0]?.byte ?? 0,
    end: rows.reduce((end, { byte, bytes }) => Math.max(end, byte + bytes), 0),
  };
  const shown = blocks.filter(({ chunks }) => chunks.some(({ byte }) => byte >= range.first && byte < range.end));
  // Points come last, so that the lines that join their parts lie above everything.
  const drawn = [...shown.filter(({ kind }) => kind !== "point"), ...shown.filter(({ kind }) => kind === "point")];
  const content = [
    `<title id="${id}-map">${xmlText(titleOf(layout, direction, range))}</title>`,
    ...(style === "included" ? ["<style>", ...indent(byteMapStyle.trimEnd().split("\n")), "</style>"] : []),
    ...patterns(id),
    `<rect class="bm-ground" width="${width}" height="${height}"/>`,
    ...heads(sheet),
    ...rowLabels(sheet, direction, addresses),
    ...moduleLabels(sheet, layout[direction].modules),
    ...drawn.flatMap((block, k) => drawBlock(block, picture, k)),
    ...(options.legend === "none" ? [] : legend(sheet, id)),
  ];
  const box = `viewBox="0 0 ${width} ${height}" width="${width}" height="${height}"`;
  const open = `<svg class="bm" xmlns="http://www.w3.org/2000/svg" ${box} role="img" aria-labelledby="${id}-map">`;
  return textOf([open, ...indent(content), "</svg>"]);
}

// One sign a word is enough, whatever the number of its fields.
function oddWords(blocks: readonly Block[]): Set<PlacedPoint> {
  const first = new Map<number, PlacedPoint>();
  for (const block of blocks) {
    if (block.kind !== "point" || !isAtOddByte(block.point) || first.has(block.point.byte)) continue;
    first.set(block.point.byte, block.point);
  }
  return new Set(first.values());
}

function titleOf({ station }: Layout, direction: Direction, { first, end }: { first: number; end: number }): string {
  const bytes = end === 0 ? "no bytes" : end - first === 1 ? `byte ${first}` : `bytes ${first} to ${end - 1}`;
  return `Byte map of ${station.title ?? station.name}: ${direction}, ${bytes}`;
}

function heads({ columns, cell }: Sheet): string[] {
  return columns.map(({ x, bit }) => `<text class="bm-head" x="${x + cell / 2}" y="14">${bit}</text>`);
}

// Byte number, address, and a place for the byte of a payload.
function rowLabels({ rows, unit, left }: Sheet, direction: Direction, addresses: AddressOptions): string[] {
  const size = unit === "byte" ? 1 : 2;
  return rows.flatMap(({ byte, bytes, y }) => {
    const number = bytes === 1 ? `${byte}` : `${byte}–${byte + bytes - 1}`;
    const address = formatAddress({ direction, size: bytes === 2 ? "W" : "B", byte, bit: null }, addresses);
    return [
      `<text class="bm-row" x="${left - 12}" y="${y + 15}">${number}</text>`,
      ...(bytes > size ? [] : [`<text class="bm-address" x="${left - 12}" y="${y + 28}">${address ?? ""}</text>`]),
      ...(bytes > size
        ? []
        : [`<text class="bm-byte" x="${left - 12}" y="${y + 41}" data-byte="${byte}" data-bytes="${bytes}"></text>`]),
    ];
  });
}

// A bracket along the rows of each module; neighbours that share a row stand in different lanes, their names one below the other.
function moduleLabels({ rows, rowOf, right }: Sheet, modules: readonly ModuleExtent[]): string[] {
  const begun = new Map<number, number>();
  return modules.flatMap(({ name, title, slot, byte, bytes }, k) => {
    const covered = Array.from({ length: bytes }, (_, i) => rowOf(byte + i)).filter((row) => row !== undefined);
    if (covered.length === 0) return [];
    const [from, to] = [covered[0]!, covered[covered.length - 1]!];
    const line = begun.get(from) ?? 0;
    begun.set(from, line + 1);
    const x = right + 6 + 4 * (k % 2);
    const y = rows[from]!.y;
    const told = `Module ${title ? `${name}: ${title}` : name}, slot ${slot}`;
    const label = line < 3 ? shortened(`${slot} ${name}`, 14) : line === 3 ? "…" : "";
    return [
      `<g><title>${xmlText(told)}</title>`,
      `  <path class="bm-bracket" d="M${x - 3} ${y + 1 + 2 * line}H${x}V${rows[to]!.y + rowHeight - 1}H${x - 3}"/>`,
      ...(label
        ? [`  <text class="bm-module" x="${right + 16}" y="${y + 13 + 13 * line}">${xmlText(label)}</text>`]
        : []),
      "</g>",
    ];
  });
}
