/**
 * The sheet as one HTML page that needs no other file and runs no script. Printed, it fills landscape pages of any paper;
 * no row is torn, and each page says which station, which revision and which page it is.
 */
import { driveCaution } from "../../cautions.js";
import {
  contactColumns,
  loopColumns,
  loopFacts,
  loopNotes,
  numberColumns,
  type PrintColumn,
  sizeRows,
} from "../columns.js";
import { htmlText } from "../escape.js";
import type { Loop } from "../loop.js";
import { outline, type Section } from "../outline.js";
import type { Sheet } from "../sheet.js";
import { style } from "./style.js";

/** Prints a sheet as HTML. */
export function sheetHtml(sheet: Sheet): string {
  const { station, digest } = sheet;
  const title = station.title ?? station.name;
  const lines = [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    `<title>Loop check: ${htmlText(title)}</title>`,
    `<style>${style({ title, station: station.name, digest })}</style>`,
    "</head>",
    "<body>",
    "<main>",
    ...front(sheet, title),
    ...pictures(sheet),
    ...outline(sheet).flatMap(section),
    "</main>",
    "</body>",
    "</html>",
  ];
  return `${lines.join("\n")}\n`;
}

function front({ station, digest, cautions, method, connection }: Sheet, title: string): string[] {
  const field = (label: string) => `<div><dt>${label}</dt><dd class="line"></dd></div>`;
  return [
    "<header>",
    '<p class="kicker">Loop check</p>',
    `<h1>${htmlText(title)}</h1>`,
    '<dl class="facts">',
    `<div><dt>Station</dt><dd><code>${htmlText(station.name)}</code></dd></div>`,
    `<div><dt>Revision</dt><dd>${digest ? `<code>${htmlText(digest)}</code>` : "not given"}</dd></div>`,
    field("Site"),
    field("Permit"),
    field("Responsible"),
    field("Date"),
    "</dl>",
    "</header>",
    '<section class="cautions" aria-labelledby="cautions">',
    '<h2 id="cautions">Before anything is driven</h2>',
    `<ul>${cautions.map((caution) => `<li>${htmlText(caution)}</li>`).join("")}</ul>`,
    "</section>",
    '<section aria-labelledby="method">',
    '<h2 id="method">Acceptance band</h2>',
    `<p><span class="formula">${htmlText(method.formula)}</span></p>`,
    `<p class="source">${htmlText(method.source)}.</p>`,
    "</section>",
    '<section class="page" aria-labelledby="connection">',
    `<h2 id="connection">Connection${connection.network ? `: ${htmlText(connection.network)}` : ""}</h2>`,
    ...table("Connection sizes", sizeColumns, sizeRows(connection)),
    `<p class="source">Inputs travel from the station to the controller, outputs from the controller to the station. Revision ${digest ? `<code>${htmlText(digest)}</code>` : "not given"}.</p>`,
    "</section>",
  ];
}

const sizeColumns: readonly PrintColumn<readonly string[]>[] = [
  { title: "size", kind: "text", cell: ([what]) => what! },
  { title: "inputs", kind: "number", cell: ([, inputs]) => inputs! },
  { title: "outputs", kind: "number", cell: ([, , outputs]) => outputs! },
  { title: "source", kind: "text", cell: ([, , , source]) => source! },
];

// As images: nothing in a picture can run or restyle the page.
function pictures({ picture }: Sheet): string[] {
  if (!picture) return [];
  return (["inputs", "outputs"] as const).flatMap((direction) => {
    const parts = picture[direction];
    const image = (svg: string, k: number) => {
      const alt = `Byte map of the ${direction}${parts.length > 1 ? `, part ${k + 1} of ${parts.length}` : ""}`;
      return `<figure><div class="wide" role="region" aria-label="${alt}" tabindex="0"><img alt="${alt}" src="data:image/svg+xml,${encodeURIComponent(svg.replace(/\p{Cs}/gu, "\uFFFD"))}"></div></figure>`;
    };
    return parts.length > 0
      ? [`<section class="map"><h2>Byte map, ${direction}</h2>`, ...parts.map(image), "</section>"]
      : [];
  });
}

function section({ title, direction, loops, contacts, numbers }: Section): string[] {
  return [
    `<section class="${loops.length > 0 ? "page" : "more"}">`,
    `<h2>${title}</h2>`,
    ...(direction === "outputs" ? [`<p class="drive">${htmlText(driveCaution)}</p>`] : []),
    ...loops.flatMap(loopBlock),
    ...(contacts.length > 0 ? table(title, contactColumns(direction), contacts) : []),
    ...(numbers.length > 0 ? table(title, numberColumns(direction), numbers) : []),
    "</section>",
  ];
}

function loopBlock(loop: Loop): string[] {
  const { name, title, direction, rows } = loop;
  return [
    `<article class="${rows.length > 16 ? "long" : "short"}">`,
    `<h3><code>${htmlText(name)}</code>${title ? ` ${htmlText(title)}` : ""}</h3>`,
    `<p class="facts-line">${loopFacts(loop)
      .map((fact) => `<span>${htmlText(fact)}</span>`)
      .join(" ")}</p>`,
    ...loopNotes(loop).map((note) => `<p class="note">${htmlText(note)}</p>`),
    ...(rows.length > 0 ? table(`${name}, ${direction}`, loopColumns(loop), rows) : []),
    "</article>",
  ];
}

function table<Row>(label: string, columns: readonly PrintColumn<Row>[], rows: readonly Row[]): string[] {
  const head = columns.map(({ title, kind }) => `<th scope="col" class="${kind}">${htmlText(title)}</th>`).join("");
  const body = rows.map(
    (row) => `<tr>${columns.map(({ cell, kind }) => `<td class="${kind}">${htmlText(cell(row))}</td>`).join("")}</tr>`,
  );
  return [
    `<div class="wide" role="region" aria-label="${htmlText(label)}" tabindex="0">`,
    `<table><thead><tr>${head}</tr></thead>`,
    `<tbody>\n${body.join("\n")}\n</tbody></table>`,
    "</div>",
  ];
}
