/**
 * The target `html`: the byte map of both directions as one page that works offline. Picture and table stand in it as plain
 * HTML, so they can be read and printed without a script; the script adds the search and reads a payload with the very
 * core that made the map. Its security policy allows this script and these styles, by their digests, and nothing else.
 */
import type { Direction } from "byterail";
import { sha256 as scriptSha256, text as script } from "text:html/page/page.ts";
import { sha256 as styleSha256, text as style } from "text:html/page/page.css";
import { sha256 as mapSha256 } from "text:svg/byteMap.css";
import { ioList } from "../list/ioList.js";
import { indent, jsonText, textOf } from "../snippet.js";
import { byteMapParts, byteMapStyle } from "../svg/byteMapSvg.js";
import type { Source, Target } from "../target.js";
import { xmlComment, xmlText } from "../xml.js";
import { tableOf } from "./table.js";

/** The target `html`. */
export const html: Target = {
  id: "html",
  title: "Byte map as one page: picture, table, search, and the values of a payload",
  generate: (source) => ({
    files: [{ path: `${source.layout.station.name}.html`, text: textOf(page(source)) }],
    notes: [],
  }),
};

const policy = [
  "default-src 'none'",
  `script-src 'sha256-${scriptSha256}'`,
  `style-src 'sha256-${styleSha256}' 'sha256-${mapSha256}'`,
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

// As many rows as fit on a sheet of A4 below the heading.
const rowsOfPart = 16;

function page(source: Source): string[] {
  const { layout, header } = source;
  const { station, warnings } = layout;
  const title = xmlText(station.title ?? "") || station.name;
  return [
    "<!DOCTYPE html>",
    ...header.map(xmlComment),
    '<html lang="en">',
    "<head>",
    '  <meta charset="utf-8">',
    `  <meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '  <meta name="viewport" content="width=device-width, initial-scale=1">',
    '  <meta name="referrer" content="no-referrer">',
    `  <title>Byte map of ${title}</title>`,
    // Not indented: the digests in the policy are those of these very texts.
    `  <style>${byteMapStyle}</style>`,
    `  <style>${style}</style>`,
    "</head>",
    "<body>",
    "  <header>",
    `    <h1>${title}</h1>`,
    ...header.map((line) => `    <p class="source">${xmlText(line)}</p>`),
    `    <p class="caution">Check this map against the station as built. It only reads: it is no safety function and no permit to force an output. Site procedure and local codes come first.</p>`,
    "  </header>",
    "  <main>",
    ...indent(search(), "    "),
    ...indent(warningList(warnings.map(({ path, message }) => `${path}: ${message}`)), "    "),
    ...indent(section(source, "inputs"), "    "),
    ...indent(section(source, "outputs"), "    "),
    "  </main>",
    `  <script type="application/json" id="station">${inScript(jsonText(station))}</script>`,
    `  <script>${script}</script>`,
    "</body>",
    "</html>",
  ];
}

function search(): string[] {
  return [
    '<div class="tools" id="tools" hidden>',
    '  <label for="search">Search</label>',
    '  <input id="search" type="search" placeholder="name, title, module, address" autocomplete="off" spellcheck="false">',
    '  <p id="found" role="status" aria-live="polite"></p>',
    "</div>",
    "<noscript><p>Search and payload need the script of this page; picture and table do not.</p></noscript>",
  ];
}

function warningList(warnings: readonly string[]): string[] {
  if (warnings.length === 0) return [];
  const items = warnings.map((warning) => `  <li>${xmlText(warning)}</li>`);
  const count = warnings.length === 1 ? "1 thing is" : `${warnings.length} things are`;
  return [
    "<details>",
    `  <summary>${count} legal but likely to bite</summary>`,
    "  <ul>",
    ...indent(items),
    "  </ul>",
    "</details>",
  ];
}

function section({ layout, options }: Source, direction: Direction): string[] {
  const { byteLength } = layout[direction];
  const [word, way] = direction === "inputs" ? ["Inputs", "station → controller"] : ["Outputs", "controller → station"];
  const bytes = `${byteLength} ${byteLength === 1 ? "byte" : "bytes"}`;
  const open = [
    `<section id="${direction}" aria-labelledby="${direction}-head">`,
    `  <h2 id="${direction}-head">${word}: ${bytes}, ${way}</h2>`,
  ];
  if (byteLength === 0) return [...open, "  <p>None.</p>", "</section>"];
  const addresses = options.addresses?.[direction];
  const parts = byteMapParts(layout, direction, rowsOfPart, { ...(addresses && { addresses }), style: "separate" });
  return [
    ...open,
    ...indent(payload(direction, bytes)),
    `  <div class="picture" role="region" aria-label="Picture of the ${direction}; the table below tells the same" tabindex="0">`,
    ...parts.flatMap((part) => indent(part.trimEnd().split("\n"), "    ")),
    "  </div>",
    ...indent(tableOf(ioList(layout[direction], addresses), direction)),
    "</section>",
  ];
}

function payload(direction: Direction, bytes: string): string[] {
  const id = `${direction}-payload`;
  return [
    '<div class="payload" hidden>',
    `  <label for="${id}">Payload of the ${direction}: ${bytes} in hex</label>`,
    `  <textarea id="${id}" rows="2" autocomplete="off" autocapitalize="off" spellcheck="false" aria-describedby="${id}-help ${id}-told"></textarea>`,
    '  <button type="button">Clear</button>',
    `  <p class="help" id="${id}-help">Two digits for each byte; spaces, line ends and | between them do not matter.</p>`,
    `  <p class="told" id="${id}-told" role="status" aria-live="polite"></p>`,
    "</div>",
  ];
}

// JSON that cannot end the element it stands in, nor open a comment: `<` only ever stands inside its strings.
function inScript(json: string): string {
  return json.replace(/[<>&\u2028\u2029]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
