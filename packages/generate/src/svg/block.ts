/** One block of the picture: a point with its name, a spare, a gap, or bits that nobody uses. */
import { type Direction, type PlacedPoint, unitOf } from "byterail";
import { pointAddress, type AddressOptions } from "byterail/map";
import { gapWords } from "../list/ioList.js";
import { xmlText } from "../xml.js";
import type { Block, Chunk } from "./grid.js";
import { connector, joinsOf } from "./joins.js";
import { shortened, twoLines } from "./label.js";
import { type Box, boxOf, rowHeight, seam, type Sheet } from "./sheet.js";

/** What a block needs to know of the picture. */
export interface Picture {
  readonly sheet: Sheet;
  /** Begins the ids of the picture, so that several can stand in one page. */
  readonly id: string;
  readonly direction: Direction;
  readonly addresses: AddressOptions;
  /** The points that carry the sign of an odd byte: the first of each such word. */
  readonly odd: ReadonlySet<PlacedPoint>;
}

// Widths of a character in units, of the two sizes of text; a fixed-width face is asked for, which comes near to these.
const [nameSign, readingSign] = [7.3, 6.7];

/**
 * The lines of SVG for a block; none where another part of the picture shows it.
 *
 * @param lane where the lines run that join its parts; blocks side by side get different ones
 */
export function drawBlock(block: Block, picture: Picture, lane: number): string[] {
  const parts = block.chunks.flatMap((chunk) => {
    const box = boxOf(picture.sheet, chunk);
    return box ? [{ chunk, box }] : [];
  });
  if (parts.length === 0) return [];
  if (block.kind === "point") return drawPoint(block.point, parts, picture, lane);
  const boxes = parts.map(({ box }) => box);
  const path = `<path class="bm-${block.kind}" d="${outline(boxes)}"${fills(picture.id)[block.kind]}/>`;
  if (block.kind === "unused") return [path];
  const what = block.kind === "spare" ? "spare" : gapWords[block.why];
  const size = block.kind === "gap" ? 8 * block.bytes : block.bits;
  const amount = size % 8 === 0 ? plural(size / 8, "byte") : plural(size, "bit");
  const widest = widestOf(parts).box;
  const text = shortened(size > 4 ? `${what}, ${amount}` : what, Math.floor((widest.w - 12) / readingSign));
  return [path, ...plate(text, groupOf(widest, boxes))];
}

function fills(id: string) {
  return { spare: ` fill="url(#${id}-spare)"`, gap: ` fill="url(#${id}-gap)"`, unused: "" };
}

type Part = { readonly chunk: Chunk; readonly box: Box };

function drawPoint(
  point: PlacedPoint,
  parts: readonly Part[],
  { sheet, direction, addresses, odd }: Picture,
  lane: number,
): string[] {
  const boxes = parts.map(({ box }) => box);
  const label = widestOf(parts);
  const { bridges, groups, lines } = joinsOf(boxes);
  const home = groups[parts.indexOf(label)];
  // A part that hangs together with the label only by a line carries the name again.
  const again = parts.filter((_, k) => groups[k] !== home && groups.indexOf(groups[k]!) === k);
  return [
    `<g class="bm-point bm-${point.kind}" data-point="${xmlText(point.name)}">`,
    `  <title>${xmlText(told(point, pointAddress(point, direction, addresses)))}</title>`,
    `  <path class="bm-face" paint-order="stroke" d="${outline([...boxes, ...bridges])}"/>`,
    ...lines.map(([from, to]) => inner(connector(boxes[from]!, boxes[to]!, sheet, lane))),
    ...(point.bits > 1 ? parts.flatMap((part) => marks(part, part === label)) : []).map(inner),
    ...again
      .map(({ box }) => text("bm-again", box, 27, shortened(point.name, Math.floor((box.w - 8) / readingSign))))
      .map(inner),
    ...labelLines(point, label.chunk, groupOf(label.box, boxes)).map(inner),
    ...(odd.has(point) ? oddSign(boxes[0]!) : []).map(inner),
    "</g>",
  ];
}

// Name in one line or two, and below them the reading: the type at first, the value once there is a payload.
function labelLines(point: PlacedPoint, { high, low }: Chunk, box: Box): string[] {
  const lines = twoLines(point.name, Math.max(1, Math.floor((box.w - 6) / nameSign)));
  const room = Math.floor((box.w - (point.bits > 1 && high > low ? 44 : 6)) / readingSign);
  const middle = box.y + box.h / 2;
  const first = middle - (lines.length === 2 ? 9 : 4);
  const names = lines.map((line, k) => text("bm-name", { ...box, y: first, h: 0 }, 12 * k, line));
  const unit = unitOf(point);
  const kind = point.type === "field" ? (point.kind === "boolean" ? "bit" : `${point.bits} bits`) : point.type;
  const reading = shortened(unit ? `${kind}, ${unit}` : kind, room);
  return [
    ...names,
    text("bm-reading", { ...box, y: middle, h: 0 }, lines.length === 2 ? 17 : 14, reading, ` data-room="${room}"`),
  ];
}

function text(name: string, { x, y, w }: Box, dy: number, content: string, more = ""): string {
  return `<text class="${name}" x="${round(x + w / 2)}" y="${round(y + dy)}"${more}>${xmlText(content)}</text>`;
}

// Which bits of the value stand at the ends of a part: the order of bytes can be read from them.
function marks({ chunk, box }: Part, labelled: boolean): string[] {
  const { high, low, pointLow } = chunk;
  const y = box.y + box.h - 5;
  const pointHigh = pointLow + high - low;
  if (high === low) return labelled ? [] : [`<text class="bm-mark" x="${box.x + 5}" y="${y}">${pointHigh}</text>`];
  return [
    `<text class="bm-mark" x="${box.x + 5}" y="${y}">${pointHigh}</text>`,
    `<text class="bm-mark bm-end" x="${box.x + box.w - 5}" y="${y}">${pointLow}</text>`,
  ];
}

function oddSign({ x, y }: Box): string[] {
  return [
    `<rect class="bm-odd" x="${x + 6}" y="${y - 8}" width="32" height="14" rx="2"/><text class="bm-odd-word" x="${x + 22}" y="${y + 3}">odd</text>`,
  ];
}

// Hatching would run through a text, so the text stands on a plate.
function plate(content: string, { x, y, w, h }: Box): string[] {
  if (content === "") return [];
  const width = content.length * readingSign + 10;
  const [cx, cy] = [x + w / 2, y + h / 2];
  return [
    `<rect class="bm-plate" x="${round(cx - width / 2)}" y="${round(cy - 9)}" width="${round(width)}" height="18" rx="3"/>`,
    `<text class="bm-empty" x="${round(cx)}" y="${round(cy + 4)}">${xmlText(content)}</text>`,
  ];
}

function told(
  { name, description, type, kind, bits, byte, word, shift, module, slot }: PlacedPoint,
  address: string | null,
): string {
  const title = description.title ? `${name}: ${description.title}` : name;
  const what =
    type !== "field"
      ? type
      : kind === "boolean"
        ? `bit ${shift} of a ${word}-bit word`
        : `${bits} bits from bit ${shift} of a ${word}-bit word`;
  return [title, what, address, `byte ${byte}`, `module ${module}, slot ${slot}`].filter(Boolean).join(" · ");
}

function widestOf(parts: readonly Part[]): Part {
  return parts.reduce((best, part) => (part.box.w > best.box.w ? part : best));
}

// Boxes of the same columns right above one another, the given one among them, as one.
function groupOf(box: Box, boxes: readonly Box[]): Box {
  const same = boxes.filter(({ x, w }) => x === box.x && w === box.w).sort((a, b) => a.y - b.y);
  let end = same.indexOf(box);
  while (end + 1 < same.length && same[end + 1]!.y - same[end]!.y <= rowHeight + seam) end++;
  return { ...box, h: same[end]!.y + rowHeight - box.y };
}

function outline(boxes: readonly Box[]): string {
  return boxes.map(({ x, y, w, h }) => `M${x} ${y}h${w}v${h}h${-w}z`).join("");
}

function inner(line: string): string {
  return `  ${line}`;
}

function round(x: number): number {
  return Math.round(10 * x) / 10;
}

function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? "" : "s"}`;
}
