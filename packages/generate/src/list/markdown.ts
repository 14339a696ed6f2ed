/** The I/O list as Markdown tables, one for each direction. */
import type { Direction } from "byterail";
import { type Column, markdownTable, markdownText } from "../markdownTable.js";
import { textOf } from "../snippet.js";
import type { Source, Target } from "../target.js";
import { xmlComment } from "../xml.js";
import { ioList, type ListRow, spanText } from "./ioList.js";

const columns: readonly Column<ListRow>[] = [
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
    `# ${markdownText(title ?? "") || name}`,
    ...section("inputs", layout.inputs.byteLength, ioList(layout.inputs, options.addresses?.inputs)),
    ...section("outputs", layout.outputs.byteLength, ioList(layout.outputs, options.addresses?.outputs)),
  ];
}

function section(direction: Direction, byteLength: number, rows: readonly ListRow[]): string[] {
  const [word, way] = direction === "inputs" ? ["Inputs", "station → controller"] : ["Outputs", "controller → station"];
  const heading = ["", `## ${word}: ${byteLength} ${byteLength === 1 ? "byte" : "bytes"}, ${way}`, ""];
  return [...heading, ...(rows.length === 0 ? ["None."] : markdownTable(columns, rows))];
}
