/** Markdown tables. Columns are padded, so that the source reads as a table, too. */
import { oneLine } from "./snippet.js";

/** A column: its title, its side, and the cell of a row as escaped text. */
export type Column<R> = readonly [title: string, align: "left" | "right", cell: (row: R) => string];

/** A table with one line for each row. */
export function markdownTable<R>(columns: readonly Column<R>[], rows: readonly R[]): string[] {
  const cells = [columns.map(([title]) => title), ...rows.map((row) => columns.map(([, , cell]) => cell(row)))];
  const widths = columns.map((_, k) => Math.max(3, ...cells.map((row) => [...row[k]!].length)));
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, k) => padded(cell, widths[k]!, columns[k]![1])).join(" | ")} |`;
  const rule = columns.map(([, align], k) =>
    align === "right" ? `${"-".repeat(widths[k]! - 1)}:` : "-".repeat(widths[k]!),
  );
  return [line(cells[0]!), line(rule), ...cells.slice(1).map(line)];
}

/** Free text so that Markdown shows it as it is: no mark-up, no HTML, no end of the cell. */
export function markdownText(text: string): string {
  return oneLine(text).replace(/[\\`*_{}[\]<>()#!|~&$:@]/g, "\\$&");
}

function padded(cell: string, width: number, align: "left" | "right"): string {
  const fill = " ".repeat(width - [...cell].length);
  return align === "right" ? fill + cell : cell + fill;
}
