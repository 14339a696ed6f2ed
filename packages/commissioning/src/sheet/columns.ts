/** The tables of a printed sheet: which columns, and each cell as text. HTML and Markdown print the same ones. */

import type { Connection, ImageSize } from "./connection.js";
import type { Contact } from "./contact.js";
import { decimalsFor, fixed, highEnd, lowEnd, short } from "./figures.js";
import type { ByteRun } from "./image.js";
import type { Loop, LoopRow } from "./loop.js";
import type { PlainNumber } from "./sheet.js";

/** A column of a printed table. `entry` columns are filled in by hand. */
export interface PrintColumn<Row> {
  readonly title: string;
  readonly kind: "text" | "name" | "mark" | "number" | "bytes" | "entry";
  readonly cell: (row: Row) => string;
}

const entries: readonly PrintColumn<unknown>[] = ["as found", "as left", "by", "date"].map((title) => ({
  title,
  kind: "entry",
  cell: () => "",
}));

/** The columns of the check of one analog point; decimals follow from its resolution. */
export function loopColumns(loop: Loop): readonly PrintColumn<LoopRow>[] {
  const { counts, value, signal, signalUnit, unit, direction } = loop;
  const steps = loop.type.startsWith("float") ? 10000 : Math.abs(counts[1] - counts[0]);
  const valueDecimals = decimalsFor(Math.abs(value[1] - value[0]) / steps);
  const signalDecimals = signal ? Math.max(2, decimalsFor(Math.abs(signal[1] - signal[0]) / steps)) : 0;
  const number = (title: string, cell: (row: LoopRow) => string): PrintColumn<LoopRow> => ({
    title,
    kind: "number",
    cell,
  });
  const range = ([low, high]: readonly [number, number], decimals: number) =>
    `${lowEnd(low, decimals)} … ${highEnd(high, decimals)}`;
  const accept =
    direction === "outputs" && signal
      ? number(`accept, ${signalUnit ?? "signal"}`, ({ acceptSignal }) => range(acceptSignal!, signalDecimals + 1))
      : number(`accept, ${unit ?? "value"}`, ({ accept }) => range(accept, valueDecimals + 1));
  return [
    { title: "run", kind: "mark", cell: ({ run }) => (run === "up" ? "↑" : "↓") },
    number("% span", ({ percent }) => short(percent)),
    number("counts", ({ counts }) => (Number.isInteger(counts) ? String(counts) : short(counts))),
    number("true %", ({ truePercent }) => fixed(truePercent, 3)),
    ...(signal ? [number(signalUnit ?? "signal", ({ signal }) => fixed(signal!, signalDecimals))] : []),
    number(unit ?? "value", ({ value }) => fixed(value, valueDecimals)),
    { title: "byte: hex", kind: "bytes", cell: ({ bytes }) => runsText(bytes) },
    accept,
    ...entries,
  ];
}

/** The columns of digital inputs or outputs. */
export function contactColumns(direction: Contact["direction"]): readonly PrintColumn<Contact>[] {
  const text = (title: string, cell: (row: Contact) => string): PrintColumn<Contact> => ({ title, kind: "text", cell });
  return [
    { title: "point", kind: "name", cell: ({ name }) => name },
    text("slot, module", ({ module, slot }) => `${slot} ${module}`),
    text("address", ({ address }) => address ?? ""),
    { title: "byte.bit", kind: "number", cell: ({ byte, bit }) => `${byte}.${bit}` },
    { title: "mask", kind: "bytes", cell: ({ mask }) => mask.map(({ hex }) => hex).join(" ") },
    text("actuate", ({ actuate }) => actuate),
    text("see", ({ see }) => see),
    ...(direction === "outputs" ? [text("network lost", ({ onNetworkLoss }) => onNetworkLoss ?? openBox)] : []),
    ...entries,
  ];
}

/** The columns of numbers without a span. */
export function numberColumns(direction: PlainNumber["direction"]): readonly PrintColumn<PlainNumber>[] {
  const text = (title: string, cell: (row: PlainNumber) => string): PrintColumn<PlainNumber> => ({
    title,
    kind: "text",
    cell,
  });
  return [
    { title: "point", kind: "name", cell: ({ name, title }) => (title ? `${name}: ${title}` : name) },
    text("slot, module", ({ module, slot }) => `${slot} ${module}`),
    text("address", ({ address }) => address ?? ""),
    { title: "byte", kind: "number", cell: ({ byte }) => String(byte) },
    text("type", ({ type, bits, shift }) => (type === "field" ? `${bits} bits, shift ${shift}` : type)),
    text("unit", ({ unit }) => unit ?? ""),
    { title: "mask", kind: "bytes", cell: ({ mask }) => (mask ? runsText(mask) : "") },
    text(direction === "outputs" ? "written" : "sent", () => openBox),
    text("seen", () => openBox),
    ...(direction === "outputs" ? [text("network lost", ({ onNetworkLoss }) => onNetworkLoss ?? openBox)] : []),
    ...entries,
  ];
}

/** What stands where the description does not say and a person has to. */
export const openBox = "☐";

/** What is told of an analog point above its table, one fact each. */
export function loopFacts(loop: Loop): readonly string[] {
  const { module, slot, address, type, bits, counts, value, signal, signalUnit, unit, mask, rows } = loop;
  const span = (ends: readonly [number, number], of: string | null) =>
    `${short(ends[0])} to ${short(ends[1])}${of ? ` ${of}` : ""}`;
  return [
    `module ${module}, slot ${slot}`,
    ...(address ? [address] : []),
    type === "field" ? `field of ${bits} bits` : type,
    `counts ${counts[0]} to ${counts[1]}`,
    ...(signal ? [span(signal, signalUnit)] : []),
    span(value, unit),
    ...(mask ? [`bits ${runsText(mask)}; the other bits of these bytes are shown as 0`] : []),
    ...(rows.length > 0 ? [bandText(loop)] : []),
    ...(loop.direction === "outputs" ? [`network lost: ${loop.onNetworkLoss ?? `${openBox} fill in`}`] : []),
  ];
}

/** What has to be known about an analog point before its band is trusted, and which points were left out. */
export function loopNotes({ leftOut, unknownErrors }: Loop): readonly string[] {
  const unknown =
    unknownErrors.length > 0
      ? [`The description gives no error of the ${unknownErrors.join(" and of the ")}: the band is without it.`]
      : [];
  return [...unknown, ...leftOut.map(({ percent, why }) => `Left out: ${short(percent)} %, as ${why}.`)];
}

function bandText({ rows, unit }: Loop): string {
  const widths = rows.map(({ band }) => band.halfWidth);
  const widest = rows[widths.indexOf(Math.max(...widths))]!.band;
  const parts = widest.parts.map(({ of, limit }) => `${of} ${short(limit)}`).join(", ");
  const same = Math.max(...widths) - Math.min(...widths) <= 1e-9 * Math.max(...widths);
  const of = unit ? ` ${unit}` : "";
  return `band ${same ? "" : "at most "}±${short(widest.halfWidth)}${of}${parts ? ` (${parts})` : ""}`;
}

/** The sizes of both images, as rows of a table. */
export function sizeRows({
  inputs,
  outputs,
  overhead,
  onTheWire,
}: Connection): readonly (readonly [what: string, inputs: string, outputs: string, source: string])[] {
  const elements = (count: (size: ImageSize) => number, unused: (size: ImageSize) => number) =>
    [inputs, outputs].map(
      (size) => `${count(size)}${unused(size) > 0 ? ` (the last holds ${unused(size)} unused)` : ""}`,
    ) as [string, string];
  const bytes = (count: number | null) => (count === null ? "see source" : String(count));
  return [
    ["image, bytes (8-bit elements)", String(inputs.bytes), String(outputs.bytes), "this description"],
    [
      "16-bit elements",
      ...elements(
        (size) => size.elements16,
        (size) => size.unused16,
      ),
      "rounded up; unused in bytes",
    ],
    [
      "32-bit elements",
      ...elements(
        (size) => size.elements32,
        (size) => size.unused32,
      ),
      "rounded up; unused in bytes",
    ],
    ["largest image, bytes", String(inputs.limit.bytes), String(outputs.limit.bytes), limitSource(inputs, outputs)],
    ...overhead.map(
      ({ what, inputs, outputs, source }) =>
        [`overhead: ${what}, bytes`, bytes(inputs), bytes(outputs), source] as const,
    ),
    ...(overhead.length > 0
      ? [["image with overhead, bytes", bytes(onTheWire.inputs), bytes(onTheWire.outputs), "sum of the above"] as const]
      : []),
  ];
}

function limitSource(inputs: ImageSize, outputs: ImageSize): string {
  const [a, b] = [inputs.limit.source, outputs.limit.source];
  return a === b ? a : `inputs: ${a}; outputs: ${b}`;
}

/** Bytes at their offset: `4: 0F A0`. */
export function runsText(runs: readonly ByteRun[]): string {
  return runs.map(({ byte, hex }) => `${byte}: ${hex}`).join("; ");
}
