/** `byterail check`: everything that is wrong with a description, and what is legal but bites. */
import { ByterailError, type Problem } from "byterail";
import { examine } from "byterail/schema";
import { Command, Option } from "commander";
import { readJson } from "../json.js";
import { print, printJson } from "../print.js";
import { printable } from "../printable.js";
import { problemLine } from "../problems.js";
import { readFileOrInput } from "../source.js";
import { stationArgument } from "../station.js";

type Findings = Readonly<Record<"problems" | "warnings", readonly Problem[]>>;

export function checkCommand(): Command {
  return new Command("check")
    .summary("check the description of a station")
    .description(
      "Check the description of a station. Problems go to standard error, warnings (legal, but likely to bite) to standard output.",
    )
    .argument(...stationArgument)
    .addOption(new Option("--json", "print { problems, warnings } for machines; problems go to standard error as well"))
    .action(check);
}

async function check(name: string, { json }: { readonly json?: true }): Promise<void> {
  const { problems, warnings } = await findingsOf(name);
  if (json) printJson({ problems, warnings });
  else {
    print(warnings.map((warning) => `warning ${problemLine(warning)}\n`).join(""));
    print(
      `${printable(name === "-" ? "standard input" : name)}: ${counted(problems, "problem")}, ${counted(warnings, "warning")}\n`,
    );
  }
  if (problems.length > 0) throw new ByterailError(problems);
}

// A file that cannot be read, or is no JSON, is a finding like any other.
async function findingsOf(name: string): Promise<Findings> {
  try {
    return examine(readJson(await readFileOrInput(name)));
  } catch (error) {
    if (error instanceof ByterailError) return { problems: error.problems, warnings: [] };
    throw error;
  }
}

function counted(list: readonly unknown[], what: string): string {
  return `${list.length === 0 ? "no" : list.length} ${what}${list.length === 1 ? "" : "s"}`;
}
