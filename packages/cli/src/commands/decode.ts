/** `byterail decode`: the bytes of an image as named values. */
import { decode, decodeRaw, type Health, type ImageLayout, type PlacedPoint } from "byterail";
import { type Inspected, inspect } from "byterail/map";
import { Command } from "commander";
import { type DirectionOptions, directionOf, withDirection } from "../direction.js";
import { readHex } from "../hex.js";
import { rawText, valueText } from "../numberText.js";
import { bitsText, bytesText } from "../place.js";
import { print } from "../print.js";
import { printable } from "../printable.js";
import { type Colours, coloursOf, widthOf, withWidth } from "../screen.js";
import { onlyOneFromInput, readOption } from "../source.js";
import { readStation, stationArgument } from "../station.js";
import { type Cell, type Column, tableText } from "../table.js";
import { valuesToJson } from "../valuesJson.js";
import { wrapped } from "../wrap.js";

interface Options extends DirectionOptions {
  readonly raw?: true;
  readonly json?: true;
  readonly width?: number;
}

export function decodeCommand(): Command {
  const command = new Command("decode")
    .summary("bytes of an image as named values")
    .description(
      "Print the bytes of a process image as named values. Nothing is clamped: what the station sent is a fact.",
    )
    .argument(...stationArgument);
  withDirection(command, "hex", {
    inputs: "bytes of the inputs: hex pairs, @file, or - for standard input; white space and | are ignored",
    outputs: "bytes of the outputs, likewise",
  })
    .option("--raw", "counts, and of a real its bit pattern, in place of values")
    .option("--json", "print { name: value } for machines; 64-bit integers and what is not finite are texts");
  return withWidth(command)
    .addHelpText("after", `\nExample:\n  byterail decode station.json --inputs "01 F4 | 00 64" --json`)
    .action(decodeImage);
}

async function decodeImage(name: string, options: Options, command: Command): Promise<void> {
  const { direction, given } = directionOf(options, command);
  onlyOneFromInput(command, name, given);
  const image = (await readStation(name))[direction];
  const bytes = readHex(await readOption(`--${direction}`, given));
  if (options.json) {
    const json = options.raw
      ? valuesToJson(image, decodeRaw(image, bytes), "raw")
      : valuesToJson(image, decode(image, bytes), "value");
    print(`${json}\n`);
  } else print(inspectedText(image, bytes, options));
}

const place: readonly Column[] = [
  { title: "Name", room: "wrapped" },
  { title: "Module", room: "wrapped" },
  { title: "Byte.bit" },
  { title: "Raw", align: "right", room: "wrapped" },
];

const meaning: readonly Column[] = [
  { title: "Signal", align: "right" },
  { title: "Value", align: "right", room: "wrapped" },
  { title: "Unit", room: "wrapped" },
  { title: "Health" },
];

function inspectedText(image: ImageLayout, bytes: Uint8Array, options: Options): string {
  const found = inspect(image, bytes);
  if (found.length === 0) return `The ${image.direction} have no points.\n`;
  const [width, colours] = [widthOf(options), coloursOf()];
  const rows = found.map((each, k) => rowOf(each, image.points[k]!, colours));
  const [columns, cells] = options.raw
    ? [place, rows.map((row) => row.slice(0, place.length))]
    : [[...place, ...meaning], rows];
  const notes = image.points.some(({ word }) => word !== null) ? `\n${wrapped(fieldNote, width)}\n` : "";
  return `${tableText(columns, cells, width, colours)}\n${notes}`;
}

const fieldNote = "4:12 is bit 12, counted from the least significant, of the packed word that starts at byte 4.";

function rowOf(
  { name, module, raw, signal, signalUnit, value, unit, health }: Inspected,
  point: PlacedPoint,
  colours: Colours,
): Cell[] {
  const paint = paintOf(health, colours);
  return [
    ...[name, module, placeText(point), rawText(raw, point)],
    ...[signal === null ? "" : `${valueText(signal, point)} ${signalUnit ?? ""}`.trim(), valueText(value, point)],
    ...[printable(unit ?? ""), { text: health === "none" ? "" : health, paint }],
  ];
}

function placeText(point: PlacedPoint): string {
  if (point.word !== null) return `${point.byte}:${bitsText(point)}`;
  return point.bit === null ? bytesText(point) : `${point.byte}.${point.bit}`;
}

function paintOf(health: Health, { green, yellow, red }: Colours): (text: string) => string {
  if (health === "ok" || health === "none") return green;
  return health === "belowMeasuring" || health === "aboveMeasuring" ? yellow : red;
}
