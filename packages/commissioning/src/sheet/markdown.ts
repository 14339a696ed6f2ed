/** The sheet as Markdown: tables that read as tables in the source, too. */
import { driveCaution } from "../cautions.js";
import {
  contactColumns,
  loopColumns,
  loopFacts,
  loopNotes,
  numberColumns,
  type PrintColumn,
  sizeRows,
} from "./columns.js";
import { markdownLine, markdownText } from "./escape.js";
import { outline } from "./outline.js";
import type { Sheet } from "./sheet.js";

/** Prints a sheet as Markdown. The picture is left out: Markdown shows no drawing of its own. */
export function sheetMarkdown(sheet: Sheet): string {
  const { station, digest, method, connection } = sheet;
  const sections = outline(sheet).flatMap(({ title, direction, loops, contacts, numbers }) => [
    "",
    `## ${title}`,
    ...(direction === "outputs" ? ["", `**${driveCaution}**`] : []),
    ...loops.flatMap((loop) => [
      "",
      `### ${markdownLine(loop.title ? `${loop.name}: ${loop.title}` : loop.name)}`,
      "",
      ...loopFacts(loop).map((fact) => `- ${markdownLine(fact)}`),
      ...loopNotes(loop).map((note) => `- ${markdownLine(note)}`),
      ...(loop.rows.length > 0 ? ["", ...table(loopColumns(loop), loop.rows)] : []),
    ]),
    ...(contacts.length > 0 ? ["", ...table(contactColumns(direction), contacts)] : []),
    ...(numbers.length > 0 ? ["", ...table(numberColumns(direction), numbers)] : []),
  ]);
  const lines = [
    `# Loop check: ${markdownText(station.title ?? station.name)}`,
    "",
    `Station ${markdownText(station.name)}${digest ? `, revision ${markdownText(digest)}` : ""}`,
    "",
    "## Before anything is driven",
    "",
    ...sheet.cautions.map((caution) => `- ${markdownLine(caution)}`),
    "",
    "## Acceptance band",
    "",
    `${markdownLine(method.formula)}.`,
    `Source: ${markdownText(method.source)}.`,
    "",
    `## Connection${connection.network ? `: ${connection.network}` : ""}`,
    "",
    ...table(sizeColumns, sizeRows(connection)),
    ...sections,
  ];
  return `${lines.join("\n")}\n`;
}

const sizeColumns: readonly PrintColumn<readonly string[]>[] = [
  { title: "", kind: "text", cell: ([what]) => what! },
  { title: "inputs", kind: "number", cell: ([, inputs]) => inputs! },
  { title: "outputs", kind: "number", cell: ([, , outputs]) => outputs! },
  { title: "source", kind: "text", cell: ([, , , source]) => source! },
];

function table<Row>(columns: readonly PrintColumn<Row>[], rows: readonly Row[]): string[] {
  const cells = [
    columns.map(({ title }) => markdownText(title)),
    ...rows.map((row) => columns.map(({ cell }) => markdownText(cell(row)))),
  ];
  const widths = columns.map((_, k) => Math.max(3, ...cells.map((row) => [...row[k]!].length)));
  const isNumber = (k: number) => columns[k]!.kind === "number";
  const padded = (text: string, k: number) => {
    const fill = " ".repeat(widths[k]! - [...text].length);
    return isNumber(k) ? fill + text : text + fill;
  };
  const line = (row: readonly string[]) => `| ${row.map(padded).join(" | ")} |`;
  const rule = widths.map((width, k) => (isNumber(k) ? `${"-".repeat(width - 1)}:` : "-".repeat(width)));
  return [line(cells[0]!), line(rule), ...cells.slice(1).map(line)];
}
