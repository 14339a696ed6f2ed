/** Reads a payload and shows what it says: in the picture, in the table, and in one sentence. */
import { ByterailError, type ImageLayout, type PlacedPoint } from "byterail";
import { type Inspected, inspect } from "byterail/map";
import { fromHex } from "byterail/frames";
import { shortened } from "../../svg/label.js";
import { healthWords, readingOf } from "./words.js";

/** Shows the payload of a field in its section; an empty field takes all values away. */
export function readPayload(image: ImageLayout, section: HTMLElement, field: HTMLTextAreaElement): void {
  const told = section.querySelector<HTMLElement>(".told")!;
  const tell = (text: string, wrong: boolean) => {
    told.textContent = text;
    told.classList.toggle("wrong", wrong);
    field.setAttribute("aria-invalid", String(wrong));
  };
  if (field.value.trim() === "") {
    show(section, null, []);
    return tell("", false);
  }
  try {
    const bytes = fromHex(field.value);
    const points = inspect(image, bytes).map((point, k) => withPattern(point, image.points[k]!));
    show(section, bytes, points);
    tell(summary(bytes, points), false);
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    show(section, null, []);
    tell(`Not read: ${error.problems.map(({ path, message }) => `${path} ${message}`).join("; ")}.`, true);
  }
}

function summary(bytes: Uint8Array, points: readonly Inspected[]): string {
  const suspects = points.filter(({ health }) => isSuspect(health));
  const names = suspects.slice(0, 5).map(({ name, health }) => `${name} ${healthWords[health]}`);
  const more = suspects.length > 5 ? ` and ${suspects.length - 5} more` : "";
  const read = `${bytes.length} ${bytes.length === 1 ? "byte" : "bytes"} read.`;
  return names.length === 0 ? read : `${read} To look at: ${names.join(", ")}${more}.`;
}

// The counts of a real are its pattern, which only hexadecimal makes readable.
function withPattern(point: Inspected, { kind, bits }: PlacedPoint): Inspected {
  if (kind !== "real") return point;
  return {
    ...point,
    raw: `16#${point.raw
      .toString(16)
      .toUpperCase()
      .padStart(bits / 4, "0")}`,
  };
}

function isSuspect(health: Inspected["health"]): boolean {
  return health !== "ok" && health !== "none";
}

function show(section: HTMLElement, bytes: Uint8Array | null, points: readonly Inspected[]): void {
  const byName = new Map(points.map((point) => [point.name, point]));
  section.querySelector(".list")!.classList.toggle("read", bytes !== null);
  for (const row of section.querySelectorAll<HTMLElement>("tr[data-point]"))
    fillRow(row, byName.get(row.dataset.point!));
  for (const block of section.querySelectorAll<SVGElement>("g[data-point]"))
    fillBlock(block, byName.get(block.dataset.point!));
  for (const text of section.querySelectorAll<SVGElement>("[data-byte]")) {
    const [first, count] = [Number(text.dataset.byte), Number(text.dataset.bytes)];
    const part = bytes ? Array.from(bytes.subarray(first, first + count)) : [];
    text.textContent = part.map((byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
  }
}

function fillRow(row: HTMLElement, point: Inspected | undefined): void {
  const reading = point && readingOf(point);
  for (const cell of row.querySelectorAll<HTMLElement>("[data-of]")) {
    cell.textContent = reading ? reading[cell.dataset.of as keyof typeof reading] : "";
  }
  row.classList.toggle("suspect", point !== undefined && isSuspect(point.health));
}

function fillBlock(block: SVGElement, point: Inspected | undefined): void {
  const text = block.querySelector<SVGTextElement>(".bm-reading");
  block.classList.toggle("bm-on", point?.value === true);
  block.classList.toggle("bm-suspect", point !== undefined && isSuspect(point.health));
  if (!text) return;
  // The type stands there first; it is kept, to come back when the payload goes.
  text.dataset.plain ??= text.textContent!;
  if (!point) {
    text.textContent = text.dataset.plain;
    return;
  }
  const { value, unit } = readingOf(point);
  const sign = isSuspect(point.health) ? "▲ " : "";
  text.textContent = shortened(`${sign}${value}${unit && ` ${unit}`}`, Number(text.dataset.room));
}
