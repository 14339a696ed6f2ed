/**
 * The look of a sheet: light and dark on screen, black on white on paper, nothing told by colour alone. The header and the
 * page number of each page are margin boxes of CSS paged media; a browser without them prints its own.
 */
import { cssString } from "../escape.js";

/** What the header of each page tells. */
export interface PageHeader {
  readonly title: string;
  readonly station: string;
  readonly digest: string | null;
}

/** The style sheet. */
export function style({ title, station, digest }: PageHeader): string {
  const cut = (text: string) => ([...text].length > 60 ? `${[...text].slice(0, 59).join("")}…` : text);
  const revision = digest ? `revision ${digest}` : "revision not given";
  return `
:root { color-scheme: light dark; --ink: #1b1f24; --soft: #57606a; --ground: #fbfbf9; --card: #fff; --line: #b9bec5; --rule: #1b1f24; --band: #f0f1ee; --mark: #7a4b00; --entry: #fffdf2; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e7e9ec; --soft: #a2abb5; --ground: #14171b; --card: #1b1f25; --line: #474f59; --rule: #8d97a3; --band: #232930; --mark: #f0c070; --entry: #22231c; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--ground); color: var(--ink); font: 15px/1.45 system-ui, "Segoe UI", "Liberation Sans", sans-serif; }
main { max-width: 76rem; margin: 0 auto; padding: 1.5rem clamp(0.75rem, 3vw, 2rem) 4rem; }
h1 { margin: 0 0 0.75rem; font-size: 1.7rem; line-height: 1.2; }
h2 { margin: 2.2rem 0 0.6rem; padding-bottom: 0.25rem; border-bottom: 2px solid var(--rule); font-size: 1.15rem; }
h3 { margin: 0 0 0.2rem; font-size: 1rem; }
p { margin: 0.3rem 0; }
h1, h3, p, li, dd { overflow-wrap: anywhere; }
code, .number, .bytes, .formula { font-family: ui-monospace, "Cascadia Mono", "Liberation Mono", Menlo, monospace; font-variant-numeric: tabular-nums; }
code, .formula { font-size: 0.95em; }
.kicker { margin: 0; color: var(--soft); letter-spacing: 0.08em; text-transform: uppercase; font-size: 0.8rem; }
.facts { display: grid; grid-template-columns: repeat(auto-fit, minmax(13rem, 1fr)); gap: 0.5rem 1.5rem; margin: 0; }
.facts dt { color: var(--soft); font-size: 0.8rem; }
.facts dd { margin: 0; min-height: 1.5em; }
.facts .line { border-bottom: 1px solid var(--line); }
.cautions { margin-top: 1.5rem; padding: 0.2rem 1.2rem 0.8rem; border: 3px double var(--mark); background: var(--card); }
.cautions h2 { margin-top: 0.6rem; border: 0; color: var(--mark); }
.cautions ul { margin: 0; padding-left: 1.2rem; }
.cautions li { margin: 0.15rem 0; }
.source, .facts-line, .note { color: var(--soft); font-size: 0.86rem; }
.facts-line span:not(:last-child)::after { content: " ·"; }
.note::before { content: "Note: "; font-weight: 600; color: var(--ink); }
.drive { padding: 0.35rem 0.7rem; border-left: 5px solid var(--mark); background: var(--band); font-weight: 600; }
article { margin: 1.4rem 0 1.8rem; }
.wide { overflow-x: auto; }
.wide:focus-visible { outline: 2px solid var(--mark); outline-offset: 2px; }
table { width: 100%; border-collapse: collapse; background: var(--card); font-size: 0.86rem; }
th, td { padding: 0.28rem 0.45rem; border: 1px solid var(--line); text-align: left; vertical-align: top; }
th { background: var(--band); font-weight: 600; font-family: inherit; }
th.number, td.number { text-align: right; white-space: nowrap; }
td.bytes { white-space: nowrap; }
td.text, td.name { overflow-wrap: anywhere; min-width: 5.5rem; }
td.name { min-width: 9rem; font-weight: 600; }
td.mark { width: 1.8rem; text-align: center; }
th.entry { min-width: 5.2rem; white-space: nowrap; }
td.entry { background: var(--entry); }
figure { margin: 0.8rem 0; }
figure img { max-width: 100%; min-width: 34rem; height: auto; }
@media (max-width: 40rem) {
  body { font-size: 14px; }
  h1 { font-size: 1.35rem; }
  .cautions { padding: 0.2rem 0.8rem 0.6rem; }
}
@page {
  size: landscape;
  margin: 15mm 11mm 13mm;
  @top-left { content: ${cssString(cut(title))}; font: 8.5pt sans-serif; }
  @top-right { content: ${cssString(`${cut(station)} · ${revision}`)}; font: 8.5pt sans-serif; }
  @bottom-left { content: "Loop check. No permit, no safety function: the site's procedure governs."; font: 8.5pt sans-serif; }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8.5pt sans-serif; }
}
@media print {
  :root { color-scheme: light; --ink: #000; --soft: #222; --ground: #fff; --card: #fff; --line: #555; --rule: #000; --band: #ececec; --mark: #000; --entry: #fff; }
  body { font-size: 9.5pt; line-height: 1.3; }
  main { max-width: none; padding: 0; }
  h1 { font-size: 17pt; }
  h2 { margin-top: 5mm; font-size: 12pt; }
  h2, h3, .facts-line, .note, .drive { break-after: avoid; }
  .page { break-before: page; }
  .page > h2 { margin-top: 0; }
  .cautions, article.short, figure, tr { break-inside: avoid; }
  thead { display: table-header-group; }
  table { font-size: 8.5pt; }
  th, td { padding: 0.7mm 1.4mm; }
  td { height: 5.6mm; vertical-align: middle; }
  article { margin: 0 0 5mm; }
  .wide { overflow: visible; }
  td.name { min-width: 27mm; }
  td.text { min-width: 19mm; }
  th.number, th.bytes { width: 1%; white-space: nowrap; }
  th { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  th.entry { width: 21mm; min-width: 17mm; }
  figure img { min-width: 0; max-width: 100%; max-height: 150mm; }
}
`;
}
