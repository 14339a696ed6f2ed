/** `byterail diagnose`: what is wrong with a description, from frames whose truth is known. */
import { writeFile } from "node:fs/promises";
import { applyChange, type Diagnosis, diagnose, type Observation } from "@byterail/commissioning";
import type { Station } from "byterail";
import { Command } from "commander";
import { diagnosisText } from "../diagnosisText.js";
import { readJson } from "../json.js";
import { print, printError, printJson } from "../print.js";
import { refuse } from "../problems.js";
import { coloursOf, widthOf, withWidth } from "../screen.js";
import { onlyOneFromInput, readFileOrInput } from "../source.js";
import { readStation, stationArgument } from "../station.js";
import { wholeNumber } from "../wholeNumber.js";
import { wrapped } from "../wrap.js";

interface Options {
  readonly json?: true;
  readonly apply?: string;
  readonly answer?: number;
  readonly limit?: number;
  readonly width?: number;
}

/** How many answers are listed; more of them help nobody at a machine. */
const listed = { people: 10, machines: 100 };

export function diagnoseCommand(): Command {
  const command = new Command("diagnose")
    .summary("why a number on the screen is wrong")
    .description(
      "Rank what could be wrong with a description, from frames in which something is known to be true. Explanations that do as well as each other are shown as a tie.",
    )
    .argument(...stationArgument)
    .argument("<OBSERVATIONS>", "a JSON file: a list of frames and what is known of them; - is standard input")
    .option("--json", "print the diagnosis as data for machines")
    .option("--apply <file>", "write the changed description to this new file")
    .option("--answer <number>", "the answer that --apply takes (default: the first)", wholeNumber(1, 1000))
    .option(
      "--limit <count>",
      `how many answers are listed (default: ${listed.people}, with --json ${listed.machines})`,
      wholeNumber(1, 1000),
    );
  return withWidth(command)
    .addHelpText("after", help)
    .action(async (name: string, file: string, options: Options, self: Command) => {
      onlyOneFromInput(self, name, file);
      if (options.answer !== undefined && options.apply === undefined)
        self.error("error: --answer says which answer --apply takes, and needs it");
      const { station } = await readStation(name);
      const observations = listOf(readJson(await readFileOrInput(file)));
      // People are shown a part of what is found, told from the whole: what is tied stays tied where the list ends.
      const limit = options.json ? (options.limit ?? listed.machines) : Math.max(options.limit ?? 0, listed.machines);
      const diagnosis = diagnose(station, observations, { limit });
      // Written before anything is printed, so that a failure is not lost above a page of text.
      const written =
        options.apply === undefined ? null : await apply(station, diagnosis, options.apply, options.answer);
      if (options.json) printJson(diagnosis);
      else print(diagnosisText(diagnosis, options.limit ?? listed.people, widthOf(options), coloursOf()));
      if (written) printError(`${options.json ? "" : "\n"}${wrapped(written, widthOf(options))}\n`);
    });
}

const help = `
OBSERVATIONS is a list of what was seen, such as
  [{ "inputs": "36 60 01", "known": { "supply": { "value": 6.2, "within": 0.1 }, "doorClosed": true } }]
with "inputs", "outputs" or both as hex pairs. A frame that is too long or too short is evidence, no error.

Example:
  byterail diagnose station.json observations.json --apply repaired.json

An answer explains facts; it proves nothing. Check it at the machine before anything relies on it.
Where an observation needs an output or a loop to be driven:
  The site's lockout procedure and a competent person govern; local codes and licensed practice come first.
  One point at a time, with the machine in view. An output that is off is no isolation.
  This is no safety function.`;

// One observation may stand for itself. Everything else about it is checked by the diagnosis.
function listOf(data: unknown): readonly Observation[] {
  const one = typeof data === "object" && data !== null && !Array.isArray(data);
  return (one ? [data] : data) as readonly Observation[];
}

async function apply(
  station: Station,
  { explanations, verdict, leading }: Diagnosis,
  file: string,
  answer = 1,
): Promise<string> {
  const chosen = explanations[answer - 1];
  if (!chosen)
    return refuse(
      "diagnose.answer",
      file,
      `is not written: there ${verdict === "noFault" ? "is nothing to change" : `is no answer ${answer}`}`,
    );
  if (!chosen.change)
    return refuse(
      "diagnose.change",
      file,
      `is not written: answer ${answer} does not change the description. ${chosen.says}`,
    );
  try {
    await writeFile(file, `${JSON.stringify(applyChange(station, chosen.change), null, 2)}\n`, { flag: "wx" });
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    return refuse(
      "file.write",
      file,
      code === "EEXIST" ? "exists already; name a new file" : `cannot be written: ${message}`,
    );
  }
  const { length: left } = chosen.unexplained;
  return [
    `${file}: the description with answer ${answer} applied.`,
    ...(chosen.rank > 1 ? ["Another answer does better."] : []),
    ...(chosen.rank === 1 && leading > 1
      ? [`It is one of ${leading} that explain as much: the facts do not say that it is the right one.`]
      : []),
    ...(left > 0 ? [`It leaves ${left} ${left === 1 ? "fact" : "facts"} unexplained.`] : []),
    ...chosen.parts.flatMap(({ frame, says }) => (frame ? [`The file cannot say this: ${says}`] : [])),
    "Check it at the machine.",
  ].join(" ");
}
