/** The program and its commands. A new command is one file in `commands` and one line in the list. */
import { createRequire } from "node:module";
import { Command } from "commander";
import { checkCommand } from "./commands/check.js";
import { compareCommand } from "./commands/compare.js";
import { decodeCommand } from "./commands/decode.js";
import { diagnoseCommand } from "./commands/diagnose.js";
import { encodeCommand } from "./commands/encode.js";
import { generateCommand } from "./commands/generate.js";
import { mapCommand } from "./commands/map.js";
import { sheetCommand } from "./commands/sheet.js";

/** In the order in which `--help` lists them. */
const commands: readonly (() => Command)[] = [
  mapCommand,
  decodeCommand,
  encodeCommand,
  checkCommand,
  generateCommand,
  sheetCommand,
  compareCommand,
  diagnoseCommand,
];

/** Makes the program. It throws a CommanderError in place of ending the process. */
export function createProgram(): Command {
  const program = new Command("byterail")
    .description("From the order in which a field-bus station was assembled to named process data.")
    .version(versionOfPackage())
    .helpCommand("help [command]", "tell more of a command")
    .addHelpText("after", afterHelp)
    .showHelpAfterError("(byterail --help tells more)")
    .exitOverride();
  for (const create of commands) program.addCommand(create().copyInheritedSettings(program));
  for (const command of program.commands) command.showHelpAfterError(`(byterail ${command.name()} --help tells more)`);
  return program;
}

const afterHelp = `
STATION is the description of a station, a JSON file; - is standard input.
Inputs travel from the station to the controller, outputs the other way.

Exit status: 0 done; 1 the input is at fault, every problem stands on standard error,
one a line, as "code path: message"; 2 wrong usage.
NO_COLOR turns colours off; there are none unless the output is a terminal.`;

function versionOfPackage(): string {
  return (createRequire(import.meta.url)("../package.json") as { version: string }).version;
}
