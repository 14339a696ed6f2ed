/** The I/O list as Markdown tables, one for each direction. Columns are padded: the source reads as a table, too. */
import type { Direction } from "byterail";
import { oneLine, textOf } from "../snippet.js";
import type { Source, Target } from "../target.js";
import { xmlComment } from "../xml.js";
import { ioList, type ListRow, spanText } from "./ioList.js";

const columns: readonly (readonly [title: string, align: "left" | "right", cell: (row: ListRow) => string])[] = [
  ["Address", "left", ({ address }) => address ?? ""],
  ["Byte", "right", ({ byte }) => String(byte)],
  ["Bit", "right", ({ bit }) => String(bit ?? "")],
  ["Bits", "right", ({ bits }) => String(bits)],
  ["Name", "left", ({ name }) => name ?? ""],
  ["Title", "left", ({ title }) => markdownText(title ?? "")],
  ["Type", "left", ({ type }) => type],
  ["Counts", "right", ({ counts }) => spanText(counts)],
  ["Signal", "right", ({ signal, signalUnit }) => spanText(signal, signalUnit)],
  ["Value", "right", ({ value }) => spanText(value)],
  ["Unit", "left", ({ unit }) => markdownText(unit ?? "")],
  ["Module", "left", ({ module }) => module ?? ""],
  ["Slot", "right", ({ slot }) => String(slot ?? "")],
];

/** The target `markdown`. */
export const markdown: Target = {
  id: "markdown",
  title: "I/O list as Markdown tables",
  generate: (source) => ({
    files: [{ path: `${source.layout.station.name}.md`, text: textOf(document(source)) }],
    notes: [],
  }),
};

function document({ layout, options, header }: Source): string[] {
  const { name, title } = layout.station;
  return [
    ...header.map(xmlComment),
    "",
    `# ${markdownText(oneLine(title ?? "")) || name}`,
    ...section("inputs", layout.inputs.byteLength, ioList(layout.inputs, options.addresses?.inputs)),
    ...section("outputs", layout.outputs.byteLength, ioList(layout.outputs, options.addresses?.outputs)),
  ];
}

function section(direction: Direction, byteLength: number, rows: readonly ListRow[]): string[] {
  const [word, way] = direction === "inputs" ? ["Inputs", "station → controller"] : ["Outputs", "controller → station"];
  const heading = ["", `## ${word}: ${byteLength} ${byteLength === 1 ? "byte" : "bytes"}, ${way}`, ""];
  return [...heading, ...(rows.length === 0 ? ["None."] : table(rows))];
}

function table(rows: readonly ListRow[]): string[] {
  const cells = [columns.map(([title]) => title), ...rows.map((row) => columns.map(([, , cell]) => cell(row)))];
  const widths = columns.map((_, k) => Math.max(...cells.map((row) => [...row[k]!].length)));
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, k) => padded(cell, widths[k]!, columns[k]![1])).join(" | ")} |`;
  const rule = columns.map(([, align], k) =>
    align === "right" ? `${"-".repeat(widths[k]! - 1)}:` : "-".repeat(widths[k]!),
  );
  return [line(cells[0]!), line(rule), ...cells.slice(1).map(line)];
}

function padded(cell: string, width: number, align: "left" | "right"): string {
  const fill = " ".repeat(width - [...cell].length);
  return align === "right" ? fill + cell : cell + fill;
}

/** Free text so that Markdown shows it as it is: no mark-up, no HTML, no end of the cell. */
function markdownText(text: string): string {
  return text.replace(/[\\`*_{}[\]<>()#!|~&$]/g, "\\$&");
}
