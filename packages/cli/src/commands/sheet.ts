/** `byterail sheet`: the loop-check sheet of a station. */
import { type Sheet, sheet, sheetCsv, sheetHtml, sheetMarkdown } from "@byterail/commissioning";
import { byteMapParts, descriptionDigest } from "@byterail/generate";
import type { Direction, Layout } from "byterail";
import { Command, InvalidArgumentError, Option } from "commander";
import { type AddressFlags, addressesOf, withAddresses } from "../addresses.js";
import { cautions } from "../caution.js";
import { outputTo } from "../output.js";
import { printJson } from "../print.js";
import { readStation, stationArgument } from "../station.js";

interface Options extends AddressFlags {
  readonly html?: true;
  readonly markdown?: true;
  readonly csv?: true;
  readonly json?: true;
  readonly steps?: readonly number[];
  readonly combine: "rss" | "worst-case";
  readonly out?: string;
}

export function sheetCommand(): Command {
  const command = new Command("sheet")
    .summary("the loop-check sheet of a station")
    .description(
      "Print the loop-check sheet of a station: for each point what to drive, what to see and how far off it may be.",
    )
    .argument(...stationArgument)
    .addOption(new Option("--html", "a page to print on A4 or Letter (default)").conflicts(["markdown", "csv", "json"]))
    .addOption(new Option("--markdown", "Markdown tables").conflicts(["csv", "json"]))
    .addOption(new Option("--csv", "comma-separated values (RFC 4180)").conflicts("json"))
    .option("--json", "the sheet as data for machines")
    .option("--steps <percentages>", "points of the span, rising (default: 0,25,50,75,100)", percentages)
    .addOption(
      new Option("--combine <how>", "how the errors of instrument, channel and rounding make the acceptance band")
        .choices(["rss", "worst-case"])
        .default("rss"),
    )
    .option("--out <file>", "write to this file instead of standard output");
  return withAddresses(command)
    .addHelpText("after", "\nExample:\n  byterail sheet station.json --html --out sheet.html")
    .addHelpText("after", cautions)
    .action(async (name: string, options: Options) => {
      const made = sheetOf(await readStation(name), options);
      if (options.json && options.out === undefined) printJson(made);
      else await outputTo(options.out, textOf(made, options));
    });
}

// Rows of the byte map that fill a landscape page.
const rowsOfPage = 12;

function sheetOf(layout: Layout, options: Options): Sheet {
  const picture = (direction: Direction) =>
    byteMapParts(layout, direction, rowsOfPage, { addresses: addressesOf(options, direction) });
  return sheet(layout, {
    ...(options.steps && { steps: options.steps }),
    combination: options.combine === "rss" ? "rootSumOfSquares" : "worstCase",
    addresses: { inputs: addressesOf(options, "inputs"), outputs: addressesOf(options, "outputs") },
    picture: { inputs: picture("inputs"), outputs: picture("outputs") },
    digest: descriptionDigest(layout.station),
  });
}

function textOf(made: Sheet, { markdown, csv, json }: Options): string {
  if (json) return `${JSON.stringify(made, null, 2)}\n`;
  return markdown ? sheetMarkdown(made) : csv ? sheetCsv(made) : sheetHtml(made);
}

function percentages(text: string): readonly number[] {
  const parts = text.split(",").map((part) => part.trim());
  const wrong = parts.find((part) => !/^-?\d+(\.\d+)?$/.test(part));
  if (wrong !== undefined) throw new InvalidArgumentError("Write percentages with commas between, such as 0,50,100.");
  return parts.map(Number);
}
