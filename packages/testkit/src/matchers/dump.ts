/** The annotated hex dump of core, with a note behind the points that have one. */
import { hexdump } from "byterail/frames";
import type { AnyImage } from "./result.js";

/** Lines shown in full; of a longer dump, those with a note and the ones beside them. */
const longest = 40;
const beside = 2;

/** A frame as a dump: offset, bytes, point, value; `✗` and the note of a point stand on its line. */
export function annotated(image: AnyImage, bytes: Uint8Array, notes: ReadonlyMap<string, string>): string {
  const lines = dumpLines(image, bytes);
  const width = Math.max(0, ...lines.filter(({ point }) => notes.has(point ?? "")).map(({ text }) => text.length));
  const shown = lines.map(({ point, text }) => {
    const note = point === null ? undefined : notes.get(point);
    return note === undefined ? `  ${text}` : `✗ ${text.padEnd(width)}  ${note}`;
  });
  return excerpt(shown);
}

/** Lines as one text; of many, those that are marked with the ones beside them. */
export function excerpt(lines: readonly string[]): string {
  if (lines.length <= longest) return lines.join("\n");
  const isNear = (k: number) =>
    lines.slice(Math.max(0, k - beside), k + beside + 1).some((line) => line.startsWith("✗"));
  return lines.flatMap((line, k) => (isNear(k) ? [line] : k === 0 || isNear(k - 1) ? ["  …"] : [])).join("\n");
}

/** The lines of the dump of an image, each with its point; null for spares and gaps. */
export function dumpLines(
  image: AnyImage,
  bytes: Uint8Array,
): readonly { readonly point: string | null; readonly text: string }[] {
  if (image.byteLength === 0) return [];
  const names = image.points.map(({ name }) => name);
  // The dump lists the points in the order of the image. Columns are parted by two spaces, so that a line of four is a
  // point's: a spare or a gap has no name.
  return hexdump(image, bytes)
    .split("\n")
    .map((text) => ({ point: text.split(/ {2,}/).length > 3 ? names.shift()! : null, text }));
}
