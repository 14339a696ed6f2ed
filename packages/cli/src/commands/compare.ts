/** `byterail compare`: what changed from one revision of a station to the next, and who is affected. */
import { type Comparison, compare, type PointChangeKind, pointChangeKinds } from "@byterail/commissioning";
import { ByterailError, type Problem } from "byterail";
import { Command, InvalidArgumentError } from "commander";
import { type AddressFlags, addressesOf, withAddresses } from "../addresses.js";
import { comparisonText, moveText } from "../comparisonText.js";
import { print, printJson } from "../print.js";
import { coloursOf, widthOf, withWidth } from "../screen.js";
import { onlyOneFromInput } from "../source.js";
import { readStation } from "../station.js";

interface Options extends AddressFlags {
  readonly json?: true;
  readonly failOn?: readonly FailKind[];
  readonly width?: number;
}

/** What `--fail-on` takes: kinds of change, and `resized` for the length of an image. */
type FailKind = PointChangeKind | "resized";
const failKinds: readonly FailKind[] = [...pointChangeKinds.filter((kind) => kind !== "unchanged"), "resized"];

export function compareCommand(): Command {
  const command = new Command("compare")
    .summary("what changed from one revision to the next")
    .description(
      "Compare two revisions of a station: what moved, what is read in another way, what must be made anew, and what a partner that goes on with the old map would get.",
    )
    .argument("<OLD>", "the revision before, a JSON file; - is standard input")
    .argument("<NEW>", "the revision after, likewise")
    .option("--json", "print the comparison as data for machines")
    .option("--fail-on <changes>", `exit with 1 where any of these is found: ${failKinds.join(",")}`, kindsOf);
  return withWidth(withAddresses(command))
    .addHelpText("after", "\nExample:\n  byterail compare released.json station.json --fail-on moved,retyped,removed")
    .action(async (before: string, after: string, options: Options, self: Command) => {
      onlyOneFromInput(self, before, after);
      const addresses = { inputs: addressesOf(options, "inputs"), outputs: addressesOf(options, "outputs") };
      const comparison = compare(await readStation(before), await readStation(after), { addresses });
      if (options.json) printJson(comparison);
      else print(comparisonText(comparison, widthOf(options), coloursOf()));
      const found = problemsOf(comparison, options.failOn ?? []);
      if (found.length > 0) throw new ByterailError(found);
    });
}

function problemsOf({ points, sizes }: Comparison, kinds: readonly FailKind[]): Problem[] {
  const ofPoints = points.flatMap((change) =>
    change.changes
      .filter((kind) => kinds.includes(kind))
      .map((kind) => ({
        code: `compare.${kind}`,
        path: `${change.direction} ${change.name}`,
        message: moveText(change),
      })),
  );
  const ofSizes = (["inputs", "outputs"] as const)
    .filter((direction) => kinds.includes("resized") && sizes[direction].toldBy === "length")
    .map((direction) => ({
      code: "compare.resized",
      path: direction,
      message: `${sizes[direction].old} → ${sizes[direction].new} bytes`,
    }));
  return [...ofPoints, ...ofSizes];
}

function kindsOf(text: string): readonly FailKind[] {
  const kinds = text.split(",").map((kind) => kind.trim());
  const wrong = kinds.find((kind) => !failKinds.includes(kind as FailKind));
  if (wrong !== undefined) throw new InvalidArgumentError(`Allowed, with commas between, are ${failKinds.join(", ")}.`);
  return kinds as FailKind[];
}
