/** The byte map as a page for people: a table for each image, its notes, and the warnings. */
import {
  type Direction,
  type Gap,
  type ImageLayout,
  imageLimit,
  isAtOddByte,
  type Layout,
  type PlacedPoint,
  unitOf,
} from "byterail";
import { type AddressOptions, byteMap, type MapRow } from "byterail/map";
import { bitsText, bytesText, rangeText } from "./place.js";
import { printable } from "./printable.js";
import { problemLine } from "./problems.js";
import { scaleText } from "./scaleText.js";
import type { Colours } from "./screen.js";
import { type Cell, type Column, tableText } from "./table.js";
import { wrapped } from "./wrap.js";

/** Writes the map of a station. */
export function mapText(
  layout: Layout,
  addresses: (of: Direction) => AddressOptions,
  width: number,
  colours: Colours,
): string {
  const { station, inputs, outputs, warnings } = layout;
  const points = [...inputs.points, ...outputs.points];
  const part = (image: ImageLayout) => {
    const heading = colours.bold(headingOf(image, layout));
    const table = image.byteLength === 0 ? "" : `\n${imageText(image, addresses(image.direction), width, colours)}`;
    return `${heading}${table}`;
  };
  const notes = [
    ...(points.some(isAtOddByte) ? [oddNote] : []),
    ...(points.some(({ word }) => word !== null) ? [fieldNote] : []),
  ].map((note) => wrapped(note, width, "  "));
  const found = warnings.length === 0 ? "No warnings." : `Warnings: ${warnings.length}`;
  const lines = warnings.map((warning) => wrapped(`- ${problemLine(warning)}`, width, "  "));
  const title = wrapped(printable(station.title ? `${station.name}: ${station.title}` : station.name), width);
  const notesBlock = notes.length > 0 ? [notes.join("\n")] : [];
  return `${[title, part(inputs), part(outputs), ...notesBlock, [found, ...lines].join("\n")].join("\n\n")}\n`;
}

const oddNote = "* starts at an odd byte, so it lies across 16-bit registers.";
const fieldNote =
  "field/16 is a part of a packed word of 16 bits: Byte is where the word stands, Bit counts from its least significant bit.";

function headingOf({ direction, byteLength }: ImageLayout, { station }: Layout): string {
  const [title, way] =
    direction === "inputs" ? ["Inputs", "station → controller"] : ["Outputs", "controller → station"];
  const limited = station.network !== undefined || station.limits?.[direction] !== undefined;
  const most = limited ? ` of at most ${imageLimit(station, direction).bytes}` : "";
  return `${title}: ${byteLength} ${byteLength === 1 ? "byte" : "bytes"}${most} (${way})`;
}

const columns: readonly Column[] = [
  { title: "Byte" },
  { title: "Bit" },
  { title: "Address" },
  { title: "Name", room: "wrapped" },
  { title: "Type" },
  { title: "Module (slot)", room: "wrapped" },
  { title: "Counts", room: "wrapped" },
  { title: "Unit", room: "wrapped" },
];
const titleColumn: Column = { title: "Title", room: "wrapped" };
const roomForTitles = 100;

function imageText(image: ImageLayout, addresses: AddressOptions, width: number, colours: Colours): string {
  const map = byteMap(image, addresses);
  const byName = new Map(image.points.map((point) => [point.name, point]));
  const rows = [
    ...map.points.map((row) => ({ byte: row.byte, cells: rowOf(row, byName.get(row.name ?? ""), colours) })),
    ...map.gaps.map((gap) => ({ byte: gap.byte, cells: gapRow(gap, colours) })),
  ].sort((a, b) => a.byte - b.byte);
  const wide = width >= roomForTitles ? [...columns, titleColumn] : columns;
  return tableText(
    wide,
    rows.map(({ cells }) => cells),
    width,
    colours,
  );
}

function rowOf(row: MapRow, point: PlacedPoint | undefined, { yellow, dim }: Colours): Cell[] {
  const module = `${row.module} (${row.slot})`;
  if (!point) {
    const [bytes, size] =
      row.bit === null
        ? [rangeText(row.byte, row.byte + row.bits / 8 - 1), ""]
        : [String(row.byte), bitsSpared(row.bits)];
    return [bytes, String(row.bit ?? ""), "", "", "spare", module, size, "", ""].map((text) => ({ text, paint: dim }));
  }
  const type = point.word === null ? point.type : `field/${point.word}`;
  const bytes = isAtOddByte(point) ? { text: `${bytesText(point)}*`, paint: yellow } : bytesText(point);
  const { title } = point.description;
  return [
    ...[bytes, bitsText(point), row.address ?? "", point.name, type, module],
    ...[scaleText(point), printable(unitOf(point) ?? ""), printable(title ?? "")],
  ];
}

function bitsSpared(bits: number): string {
  return bits === 1 ? "1 bit" : `${bits} bits`;
}

const reasons: Readonly<Record<Gap["why"], string>> = {
  reserve: "reserved by the module",
  pin: "before a pinned module",
  alignment: "alignment",
  length: "up to the length",
};

function gapRow({ byte, bytes, why }: Gap, { dim }: Colours): Cell[] {
  const cells = [rangeText(byte, byte + bytes - 1), "", "", "", "gap", "", reasons[why], "", ""];
  return cells.map((text) => ({ text, paint: dim }));
}
