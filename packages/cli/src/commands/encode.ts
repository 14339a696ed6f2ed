/** `byterail encode`: named values as the bytes of an image. */
import { ByterailError, encode, encodeRaw, type ImageLayout, type Problem, patch, patchRaw } from "byterail";
import { toHex } from "byterail/frames";
import { Command, Option } from "commander";
import { caution, cautions } from "../caution.js";
import { type DirectionOptions, directionOf, withDirection } from "../direction.js";
import { readHex } from "../hex.js";
import { readJsonObject } from "../json.js";
import { print, printError, printJson } from "../print.js";
import { onlyOneFromInput, readOption } from "../source.js";
import { readStation, stationArgument } from "../station.js";
import { isWide, type ValueKind, valueFromJson } from "../valuesJson.js";

interface Options extends DirectionOptions {
  readonly raw?: true;
  readonly onto?: string;
  readonly outOfRange: "reject" | "clamp";
  readonly json?: true;
}

type Json = Readonly<Record<string, unknown>>;

export function encodeCommand(): Command {
  const command = new Command("encode")
    .summary("named values as bytes of an image")
    .description(
      "Print the bytes of a process image made of named values, as hex pairs. Every point is needed and no other allowed.",
    )
    .argument(...stationArgument);
  withDirection(command, "json", {
    inputs: "values of the inputs, { name: value }: JSON, @file, or - for standard input",
    outputs: "values of the outputs, likewise",
  });
  return command
    .option("--raw", "the values are counts, and of a real its bit pattern")
    .option(
      "--onto <hex>",
      "bytes to change (hex, @file or -): only the named points are written, no other bit changes",
    )
    .addOption(
      new Option("--out-of-range <how>", "what to do with a value beyond what its point accepts")
        .choices(["reject", "clamp"])
        .default("reject")
        .conflicts("raw"),
    )
    .option("--json", `print { "bytes": hex } for machines`)
    .addHelpText("after", `\nExample:\n  byterail encode station.json --outputs '{ "rinse": true, "steam": false }'`)
    .addHelpText("after", cautions)
    .action(encodeImage);
}

async function encodeImage(name: string, options: Options, command: Command): Promise<void> {
  const { direction, given } = directionOf(options, command);
  onlyOneFromInput(command, name, given, options.onto);
  const image = (await readStation(name))[direction];
  const json = readJsonObject(await readOption(`--${direction}`, given));
  const onto = options.onto === undefined ? null : readHex(await readOption("--onto", options.onto));
  const bytes = toHex(bytesOf(image, json, onto, options));
  if (direction === "outputs" && process.stderr.isTTY) printError(`${caution}\n`);
  if (options.json) printJson({ bytes });
  else print(`${bytes}\n`);
}

function bytesOf(image: ImageLayout, json: Json, onto: Uint8Array | null, { raw, outOfRange }: Options): Uint8Array {
  const kind: ValueKind = raw ? "raw" : "value";
  const values = valuesOf(image, json, kind) as Record<string, never>;
  try {
    if (raw) return onto ? patchRaw(image, onto, values) : encodeRaw(image, values);
    return onto ? patch(image, onto, values, { outOfRange }) : encode(image, values, { outOfRange });
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    throw new ByterailError(error.problems.map((problem) => inTermsOfJson(problem, image, json, kind)));
  }
}

function valuesOf({ points }: ImageLayout, json: Json, kind: ValueKind): Record<string, unknown> {
  const byName = new Map(points.map((point) => [point.name, point]));
  const read = ([name, given]: [string, unknown]) => {
    const point = byName.get(name);
    return [name, point ? valueFromJson(given, point, kind) : given] as const;
  };
  return Object.fromEntries(Object.entries(json).map(read));
}

// JSON has no 64-bit integers: where one is wanted, the message of encode would name a type that nobody can write here.
function inTermsOfJson(problem: Problem, image: ImageLayout, json: Json, kind: ValueKind): Problem {
  const point = image.points.find(({ name }) => name === problem.path);
  if (!point || !isWide(point, kind) || problem.code === "value.missing") return problem;
  const read = valueFromJson(json[point.name], point, kind);
  if (typeof read === "bigint") return problem;
  return { ...problem, message: `${problem.message}; in JSON write it as a decimal text, such as "42"` };
}
