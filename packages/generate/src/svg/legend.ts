/** What the signs of the picture mean, and the hatchings. */
import type { Sheet } from "./sheet.js";

export const legendHeight = 58;

/** The hatchings: oblique lines for a spare, dots for a gap. */
export function patterns(id: string): string[] {
  return [
    "<defs>",
    `  <pattern id="${id}-spare" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`,
    '    <path class="bm-hatch" d="M0 0V8"/>',
    "  </pattern>",
    `  <pattern id="${id}-gap" width="8" height="8" patternUnits="userSpaceOnUse">`,
    '    <circle class="bm-dot" cx="4" cy="4" r="1"/>',
    "  </pattern>",
    "</defs>",
  ];
}

/** The legend, below the last row. */
export function legend({ left, height }: Sheet, id: string): string[] {
  const y = height - legendHeight + 12;
  const swatch = (k: number, kind: string, fill: string) =>
    `<path class="bm-${kind}" d="M${left + 170 * k + 2} ${y}h26v14h-26z"${fill}/>`;
  const words = (k: number, row: number, text: string) =>
    `<text class="bm-note" x="${left + 170 * k + 36}" y="${y + 11 + 22 * row}">${text}</text>`;
  return [
    swatch(0, "spare", ` fill="url(#${id}-spare)"`),
    words(0, 0, "declared spare"),
    swatch(1, "gap", ` fill="url(#${id}-gap)"`),
    words(1, 0, "reserve or padding"),
    swatch(2, "unused", ""),
    words(2, 0, "bits without use"),
    `<rect class="bm-odd" x="${left}" y="${y + 22}" width="32" height="14" rx="2"/>`,
    `<text class="bm-odd-word" x="${left + 16}" y="${y + 33}">odd</text>`,
    words(0, 1, "a word at an odd byte: it lies across 16-bit registers"),
    words(2.36, 1, "15 … 8: which bits of the value"),
  ];
}
