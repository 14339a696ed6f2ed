/** Tables of plain text that keep to a width: columns that can wrap give way, the widest first. */
import Table from "cli-table3";
import stringWidth from "string-width";
import type { Colours } from "./screen.js";
import { linesOf } from "./wrap.js";

/** A column. */
export interface Column {
  readonly title: string;
  readonly align?: "left" | "right";
  /** What happens where the table is too wide: its cells stay whole (default), or are wrapped. */
  readonly room?: "whole" | "wrapped";
}

/** A cell, and what colour it has where there are colours. */
export type Cell = string | { readonly text: string; readonly paint: (text: string) => string };

/** Writes a table. Columns that are empty in every row are left out. */
export function tableText(
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  width: number,
  colours: Colours,
): string {
  const used = columns
    .map((column, index) => ({ column, index }))
    .filter(({ index }) => rows.some((row) => textOf(row[index]!) !== ""));
  const widths = widthsOf(
    used.map(({ column, index }) => ({ ...column, cells: rows.map((row) => textOf(row[index]!)) })),
    width,
  );
  const table = new Table({
    chars: noLines,
    style: { "padding-left": 0, "padding-right": 0, head: [], border: [] },
    colWidths: widths,
    colAligns: used.map(({ column }) => column.align ?? "left"),
  });
  table.push(used.map(({ column }, k) => painted({ text: column.title, paint: colours.bold }, widths[k]!)));
  for (const row of rows) table.push(used.map(({ index }, k) => painted(row[index]!, widths[k]!)));
  return table.toString().replace(trailing, "");
}

const gap = "  ";
const narrowest = 8;
const trailing = / +$/gm;

const noLines = {
  ...{ top: "", "top-mid": "", "top-left": "", "top-right": "", bottom: "", "bottom-mid": "", "bottom-left": "" },
  ...{ "bottom-right": "", left: "", "left-mid": "", mid: "", "mid-mid": "", right: "", "right-mid": "", middle: gap },
};

function textOf(cell: Cell): string {
  return typeof cell === "string" ? cell : cell.text;
}

// Broken here and not by the table, so that a colour never spans a line break.
function painted(cell: Cell, width: number): string {
  const lines = linesOf(textOf(cell), width);
  return (typeof cell === "string" ? lines : lines.map((line) => line && cell.paint(line))).join("\n");
}

/** A column with its cells as plain text. */
type Filled = Column & { readonly cells: readonly string[] };

// Texts give way first, down to their longest word; only then are words broken.
function widthsOf(columns: readonly Filled[], width: number): number[] {
  const widths = columns.map(({ title, cells }) => widest([title, ...cells]));
  const words = columns.map(({ title, cells }) => widest([title, ...cells].flatMap((text) => text.split(" "))));
  const free = width - gap.length * (columns.length - 1);
  const keeping = (least: (k: number) => number) =>
    columns.map(({ room }, k) => (room === "wrapped" ? least(k) : widths[k]!));
  shrink(
    widths,
    keeping((k) => words[k]!),
    free,
  );
  shrink(
    widths,
    keeping(() => narrowest),
    free,
  );
  return widths;
}

// The widest gives way first, down to the least width of each.
function shrink(widths: number[], least: readonly number[], free: number): void {
  for (let excess = widths.reduce((sum, each) => sum + each, 0) - free; excess > 0; excess--) {
    const most = Math.max(...widths.filter((each, k) => each > least[k]!));
    const index = widths.findIndex((each, k) => each === most && each > least[k]!);
    if (index < 0) return;
    widths[index]!--;
  }
}

function widest(texts: readonly string[]): number {
  return Math.max(...texts.map((text) => stringWidth(text)));
}
