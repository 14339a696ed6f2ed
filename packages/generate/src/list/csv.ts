/**
 * The I/O list as comma-separated values (RFC 4180), in UTF-8. The first two records tell what made the file; they begin
 * with `#`, which many readers skip as a comment, and have as many fields as the others, as the RFC asks.
 *
 * A spreadsheet runs a cell that begins with `=`, `+`, `-` or `@` as a formula. A text that begins so, white space aside,
 * gets an apostrophe before it. Numbers are written from numbers and stay numbers: `-5` is a value and no formula.
 */
import type { Source, Target } from "../target.js";
import { type Ends, ioList, type ListRow } from "./ioList.js";

type Cell = string | number | bigint | null;

const columns: readonly (readonly [title: string, cell: (row: ListRow) => Cell])[] = [
  ["direction", ({ direction }) => direction],
  ["address", ({ address }) => address],
  ["byte", ({ byte }) => byte],
  ["bit", ({ bit }) => bit],
  ["bits", ({ bits }) => bits],
  ["name", ({ name }) => name],
  ["title", ({ title }) => title],
  ["type", ({ type }) => type],
  ...ends("counts", ({ counts }) => counts),
  ...ends("signal", ({ signal }) => signal),
  ["signal unit", ({ signalUnit }) => signalUnit],
  ...ends("value", ({ value }) => value),
  ["unit", ({ unit }) => unit],
  ["module", ({ module }) => module],
  ["slot", ({ slot }) => slot],
];

/** The target `csv`. */
export const csv: Target = {
  id: "csv",
  title: "I/O list as comma-separated values (RFC 4180)",
  generate: (source) => ({ files: [{ path: `${source.layout.station.name}.csv`, text: csvText(source) }], notes: [] }),
};

function csvText({ layout, options, header }: Source): string {
  const rows = [
    ...ioList(layout.inputs, options.addresses?.inputs),
    ...ioList(layout.outputs, options.addresses?.outputs),
  ];
  const padding = ",".repeat(columns.length - 1);
  const records = [
    ...header.map((line) => `# ${bare(line)}${padding}`),
    columns.map(([title]) => field(title)).join(","),
    ...rows.map((row) => columns.map(([, cell]) => field(cell(row))).join(",")),
  ];
  return records.map((record) => `${record}\r\n`).join("");
}

function ends(title: string, of: (row: ListRow) => Ends | null): [string, (row: ListRow) => Cell][] {
  return [
    [`${title} low`, (row) => of(row)?.[0] ?? null],
    [`${title} high`, (row) => of(row)?.[1] ?? null],
  ];
}

function field(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell !== "string") return String(cell);
  const safe = startsFormula.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

// The full-width forms of the signs are taken for the signs by some spreadsheets. A text in quotes could hide one, too.
const startsFormula = /^[\s"']*[=+\-@＝＋－＠]|^[\t\r\n]/u;

// A line that a reader may skip by its first sign must not begin with a quote, so it has nothing to be quoted.
function bare(line: string): string {
  return line.replaceAll('"', "'").replaceAll(",", ";");
}
