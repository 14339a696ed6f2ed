/**
 * The I/O list as an HTML table that can be heard as well as seen: a caption, two rows of heads with their scope, the name
 * of a point as the head of its row. The columns for the reading are empty until a payload is given.
 */
import type { Direction } from "byterail";
import { type ListRow, spanText } from "../list/ioList.js";
import { xmlText } from "../xml.js";

type Column = readonly [title: string, kind: "text" | "number" | "name", cell: (row: ListRow) => string];

const groups: readonly (readonly [title: string, columns: readonly Column[]])[] = [
  [
    "Place",
    [
      ["Address", "text", ({ address }) => address ?? ""],
      ["Byte", "number", ({ byte }) => String(byte)],
      ["Bit", "number", ({ bit }) => String(bit ?? "")],
    ],
  ],
  [
    "Point",
    [
      ["Name", "name", ({ name }) => name ?? "–"],
      ["Title", "text", ({ title }) => title ?? ""],
      [
        "Type",
        "text",
        ({ type, bits }) =>
          type === "field" || type === "spare" ? `${type}, ${bits} ${bits === 1 ? "bit" : "bits"}` : type,
      ],
    ],
  ],
  [
    "Scale",
    [
      ["Counts", "number", ({ counts }) => spanText(counts)],
      ["Signal range", "number", ({ signal, signalUnit }) => spanText(signal, signalUnit)],
      ["Value range", "number", ({ value, unit }) => (value ? spanText(value, unit) : (unit ?? ""))],
    ],
  ],
  [
    "Module",
    [
      ["Module", "text", ({ module }) => module ?? ""],
      ["Slot", "number", ({ slot }) => String(slot ?? "")],
    ],
  ],
];

/** Columns that a payload fills, in order; the script finds them by their key. */
const readings = [
  ["raw", "Raw"],
  ["signal", "Signal"],
  ["value", "Value"],
  ["unit", "Unit"],
  ["health", "Health"],
] as const;

/** The lines of the table of one direction. */
export function tableOf(rows: readonly ListRow[], direction: Direction): string[] {
  const columns = groups.flatMap(([, list]) => list);
  return [
    `<div class="list" role="region" aria-label="Table of the ${direction}" tabindex="0">`,
    "  <table>",
    `    <caption>Points of the ${direction} in image order</caption>`,
    "    <thead>",
    "      <tr>",
    ...groups.map(([title, list]) => `        <th scope="colgroup" colspan="${list.length}">${title}</th>`),
    `        <th scope="colgroup" colspan="${readings.length}" class="reading">Reading</th>`,
    "      </tr>",
    "      <tr>",
    ...columns.map(([title, kind]) => `        <th scope="col" class="${kind}">${title}</th>`),
    ...readings.map(([, title]) => `        <th scope="col" class="reading">${title}</th>`),
    "      </tr>",
    "    </thead>",
    "    <tbody>",
    ...rows.flatMap((row) => rowOf(row, columns, direction)).map((line) => `      ${line}`),
    "    </tbody>",
    "  </table>",
    "</div>",
  ];
}

function rowOf(row: ListRow, columns: readonly Column[], direction: Direction): string[] {
  const open = row.name === null ? '<tr class="empty">' : `<tr id="${direction}-${row.name}" data-point="${row.name}">`;
  const cells = columns.map(([, kind, cell]) => {
    const text = xmlText(cell(row));
    return kind === "name" ? `<th scope="row">${text}</th>` : `<td class="${kind}">${text}</td>`;
  });
  return [
    open,
    `  ${cells.join("")}`,
    `  ${readings.map(([key]) => `<td class="reading" data-of="${key}"></td>`).join("")}`,
    "</tr>",
  ];
}
