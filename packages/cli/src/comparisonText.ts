/** Two revisions compared, as a page for people. */
import type { Comparison, PointChange, PointPlace, StalePoint } from "@byterail/commissioning";
import { printable } from "./printable.js";
import type { Colours } from "./screen.js";
import { type Cell, type Column, tableText } from "./table.js";
import { wrapped } from "./wrap.js";

/** Writes a comparison: sizes, changed points and modules, what is affected, and what an old partner would get. */
export function comparisonText(comparison: Comparison, width: number, colours: Colours): string {
  const { station, totals, points, modules, addresses, artefacts, stale } = comparison;
  const changed = points.filter(({ changes }) => !changes.includes("unchanged"));
  const changedModules = modules.filter(({ changes }) => !changes.includes("unchanged"));
  const counted = Object.entries(totals).filter(([, count]) => count > 0);
  const part = (title: string, columns: readonly Column[], rows: readonly (readonly Cell[])[], note = "") =>
    rows.length === 0
      ? []
      : [
          `${[colours.bold(title), ...(note ? [wrapped(note, width)] : [])].join("\n")}\n${tableText(columns, rows, width, colours)}`,
        ];
  const parts = [
    [
      station.old === station.new ? station.new : `${station.old} → ${station.new}`,
      `Points: ${counted.map(([kind, count]) => `${count} ${kind}`).join(", ") || "none"}`,
      ...(["inputs", "outputs"] as const).map((direction) => sizeText(comparison, direction)),
    ].join("\n"),
    ...part(
      "Points",
      pointColumns,
      changed.map((change) => pointRow(change, colours)),
    ),
    ...part(
      "Modules",
      moduleColumns,
      changedModules.map(({ name, changes, renamedBy }) => [
        name,
        changes.map((kind) => (kind === "renamed" ? renamedText(renamedBy) : kind)).join(", "),
      ]),
    ),
    ...part(
      "To be made anew",
      artefactColumns,
      artefacts.map(({ artefact, because }) => [artefactNames[artefact], because.join(", ")]),
    ),
    ...part(
      "Addresses in the controller",
      addressColumns,
      addresses.map(({ direction, name, old, new: now }) => [direction, name, old ?? "–", now ?? "–"]),
    ),
    ...part(
      "With the old map",
      staleColumns,
      stale.map((point) => staleRow(point, colours)),
      staleNote(comparison),
    ),
  ];
  return `${parts.join("\n\n")}\n`;
}

/** What happened to a point, in one line: `moved, rescaled: %IW0 → %IW2`. */
export function moveText(change: PointChange): string {
  const { changes, old, new: now, renamedBy, details } = change;
  const kinds = changes
    .map((kind) => (kind === "renamed" ? `${renamedText(renamedBy)} (was ${old!.name})` : kind))
    .join(", ");
  const [from, to] = [old && placeText(old), now && placeText(now)];
  const where = from && to ? (from === to ? from : `${from} → ${to}`) : (from ?? to);
  return printable([`${kinds}: ${where}`, ...details].join("; "));
}

const pointColumns: readonly Column[] = [
  { title: "Image" },
  { title: "Point", room: "wrapped" },
  { title: "Change", room: "wrapped" },
  { title: "Old" },
  { title: "New" },
  { title: "Details", room: "wrapped" },
];
const moduleColumns: readonly Column[] = [
  { title: "Module", room: "wrapped" },
  { title: "Change", room: "wrapped" },
];
const artefactColumns: readonly Column[] = [{ title: "What" }, { title: "Because of points", room: "wrapped" }];
const addressColumns: readonly Column[] = [
  { title: "Image" },
  { title: "Point", room: "wrapped" },
  { title: "Old" },
  { title: "New" },
];
const staleColumns: readonly Column[] = [
  { title: "Image" },
  { title: "Old point", room: "wrapped" },
  { title: "Gets", room: "wrapped" },
];

function pointRow(change: PointChange, { yellow }: Colours): Cell[] {
  const { direction, name, changes, old, new: now, renamedBy, details } = change;
  const kinds = changes
    .map((kind) => (kind === "renamed" ? `${renamedText(renamedBy)} (was ${old!.name})` : kind))
    .join(", ");
  return [
    direction,
    name,
    { text: kinds, paint: yellow },
    old ? placeText(old) : "",
    now ? placeText(now) : "",
    printable(details.join("; ")),
  ];
}

function renamedText(by: "case" | "guess" | null): string {
  return by === "guess" ? "renamed, a guess" : "renamed";
}

function placeText({ address, byte, bit, type, bits }: PointPlace): string {
  const size =
    type === "bit" || (type === "field" && bits === 1) ? "" : type === "field" ? ` ${bits} bits` : ` ${type}`;
  return `${address ?? `byte ${byte}${bit === null ? "" : `.${bit}`}`}${size}`;
}

function sizeText({ sizes }: Comparison, direction: "inputs" | "outputs"): string {
  const { old, new: now } = sizes[direction];
  const name = direction === "inputs" ? "Inputs" : "Outputs";
  return old === now
    ? `${name}: ${now} bytes, as before`
    : `${name}: ${old} → ${now} bytes; the connection must be configured anew`;
}

function staleRow({ direction, name, overlaps, unused, beyond, effect }: StalePoint, { red }: Colours): Cell[] {
  const bits = (count: number) => (count === 1 ? "1 bit" : `${count} bits`);
  const parts = [
    ...overlaps.map((each) => `${each.name} (${bits(each.bits)})`),
    ...(unused > 0 ? [`nothing (${bits(unused)})`] : []),
    ...(beyond > 0 ? [`beyond the end (${bits(beyond)})`] : []),
  ];
  const text = effect === "sameBits" ? `${parts.join(", ")}, taken for something else` : parts.join(", ");
  return [direction, name, effect === "anotherPoint" ? { text, paint: red } : text];
}

function staleNote({ stale, sizes }: Comparison): string {
  const quiet = (["inputs", "outputs"] as const).filter(
    (direction) => sizes[direction].toldBy === "nothing" && stale.some((point) => point.direction === direction),
  );
  const what = "What a partner that goes on with the old map reads as each old input, and drives as each old output.";
  return quiet.length === 0
    ? what
    : `${what} Of the ${quiet.join(" and the ")} the length is as before: nothing would tell.`;
}

const artefactNames = {
  connection: "connection sizes in the scanner or controller",
  code: "generated code",
  controllerDeclarations: "declarations in the controller",
  controllerScaling: "scaling in the controller",
  tables: "I/O lists",
  drawing: "drawings of the byte map",
  checkSheet: "loop-check sheet",
} as const;
