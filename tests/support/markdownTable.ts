/** Tables of the docs. */

/** A table with aligned columns: text to the left, in the columns named, numbers to the right. */
export function markdownTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  text: readonly number[] = [0, 1],
): string {
  const widths = head.map((title, k) => Math.max(3, title.length, ...rows.map((row) => row[k]!.length)));
  const padded = (cell: string, k: number) => (text.includes(k) ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!));
  const line = (row: readonly string[]) => `| ${row.map(padded).join(" | ")} |`;
  const dashes = (width: number, k: number) => (text.includes(k) ? "-".repeat(width + 2) : `${"-".repeat(width + 1)}:`);
  return [line(head), `|${widths.map(dashes).join("|")}|`, ...rows.map(line)].join("\n");
}
