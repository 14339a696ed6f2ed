/** `byterail generate`: files of a station, for programs, controllers and people. */
import { basename } from "node:path";
import { type GeneratedFile, type GenerateOptions, generate, targets } from "@byterail/generate";
import { ByterailError, type Layout, type Problem } from "byterail";
import { Command, Option } from "commander";
import { type AddressFlags, addressesOf, withAddresses } from "../addresses.js";
import { caution, cautions } from "../caution.js";
import { print, printError } from "../print.js";
import { problemLine } from "../problems.js";
import { readStation, stationArgument } from "../station.js";
import { wholeNumber } from "../wholeNumber.js";
import { filesProblems, writeFiles } from "../writeFiles.js";

interface Options extends AddressFlags {
  readonly to: readonly string[];
  readonly out: string;
  readonly check?: true;
  readonly force?: true;
  readonly elements?: "8" | "16" | "32";
  readonly elementOrder?: "low-first" | "high-first";
  readonly arithmetic?: "integer" | "real" | "lreal";
  readonly decimals?: number;
}

export function generateCommand(): Command {
  const list = [...targets.values()].map(({ id, title }) => `  ${id.padEnd(16)} ${title}`).join("\n");
  const command = new Command("generate")
    .summary("code, controller arithmetic, tables and pictures")
    .description("Generate files from the station: code, controller arithmetic, tables, pictures.")
    .argument(...stationArgument)
    .addOption(
      new Option("--to <target...>", "what to generate; all stands for every target")
        .choices([...targets.keys(), "all"])
        .makeOptionMandatory(),
    )
    .requiredOption("--out <folder>", "folder that the files go to")
    .addOption(
      new Option("--check", "write nothing; exit status 1 where files are missing or differ").conflicts("force"),
    )
    .option("--force", "also overwrite files that were not generated")
    .addOption(new Option("--elements <bits>", "width of the controller's image elements").choices(["8", "16", "32"]))
    .addOption(
      new Option("--element-order <order>", "which byte of an element holds the lower image byte").choices([
        "low-first",
        "high-first",
      ]),
    )
    .addOption(new Option("--arithmetic <kind>", "scaling in Structured Text").choices(["integer", "real", "lreal"]))
    .option("--decimals <count>", "decimals of fixed-point values in Structured Text", wholeNumber(0, 6));
  return withAddresses(command)
    .addHelpText("after", `\nTargets:\n${list}`)
    .addHelpText("after", "\nExample:\n  byterail generate station.json --to c markdown --out generated")
    .addHelpText("after", cautions)
    .action(async (name: string, options: Options) => {
      const { files, notes } = filesOf(await readStation(name), basename(name), options);
      for (const note of notes) printError(`note ${problemLine(note)}\n`);
      if (options.check) {
        const stale = await filesProblems(options.out, files);
        if (stale.length > 0) throw new ByterailError(stale);
        return print(`${files.length} files are as the description gives them\n`);
      }
      const written = await writeFiles(options.out, files, options.force ? "overwrite" : "keep");
      if (process.stderr.isTTY) printError(`${caution}\n`);
      for (const { path, state } of written) print(`${state} ${path}\n`);
    });
}

// Target by target, so that the command in a file's header makes just that file again.
function filesOf(
  layout: Layout,
  station: string,
  options: Options,
): { files: readonly GeneratedFile[]; notes: readonly Problem[] } {
  const ids = options.to.includes("all") ? [...targets.keys()] : options.to;
  const made = [...new Set(ids)].map((id) =>
    generate(layout, [id], { ...chosen(options), command: commandOf(station, id, options) }),
  );
  return { files: made.flatMap(({ files }) => files), notes: made.flatMap(({ notes }) => notes) };
}

function chosen(options: Options): GenerateOptions {
  const { elements, elementOrder, arithmetic, decimals } = options;
  return {
    ...(elements && { elements: Number(elements) as 8 | 16 | 32 }),
    ...(elementOrder && { elementOrder: elementOrder === "low-first" ? "lowFirst" : "highFirst" }),
    ...(arithmetic && { arithmetic }),
    ...(decimals !== undefined && { decimals }),
    addresses: { inputs: addressesOf(options, "inputs"), outputs: addressesOf(options, "outputs") },
  };
}

function commandOf(
  station: string,
  id: string,
  { elements, elementOrder, arithmetic, decimals, count, inputsAt, outputsAt }: Options,
): string {
  const words = [`byterail generate ${station === "-" ? "station.json" : station} --to ${id}`];
  const add = (option: string, value: string | number | undefined, usual?: string | number) => {
    if (value !== undefined && value !== usual) words.push(`--${option} ${value}`);
  };
  add("elements", elements);
  add("element-order", elementOrder);
  add("arithmetic", arithmetic);
  add("decimals", decimals);
  add("count", count, "bytes");
  add("inputs-at", inputsAt, 0);
  add("outputs-at", outputsAt, 0);
  return words.join(" ");
}
