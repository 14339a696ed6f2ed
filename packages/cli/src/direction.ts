/** `--inputs` or `--outputs`: which image a command means, and the text that goes with it. Exactly one is wanted. */
import type { Direction } from "byterail";
import { type Command, Option } from "commander";

/** The two options as commander hands them over. */
export interface DirectionOptions {
  readonly inputs?: string;
  readonly outputs?: string;
}

/** Adds the two options to a command. */
export function withDirection(command: Command, what: string, explained: Readonly<Record<Direction, string>>): Command {
  return command
    .addOption(new Option(`--inputs <${what}>`, explained.inputs).conflicts("outputs"))
    .addOption(new Option(`--outputs <${what}>`, explained.outputs).conflicts("inputs"));
}

/** The direction asked for; none is wrong usage, both are refused by the options themselves. */
export function directionOf(
  { inputs, outputs }: DirectionOptions,
  command: Command,
): { direction: Direction; given: string } {
  if (inputs !== undefined) return { direction: "inputs", given: inputs };
  if (outputs !== undefined) return { direction: "outputs", given: outputs };
  return command.error("error: one of --inputs and --outputs is needed");
}
