/** From what a command threw to the exit status: 0 done, 1 the input is at fault, 2 wrong usage. */
import { ByterailError } from "byterail";
import { CommanderError } from "commander";
import { printProblems } from "./problems.js";

/** Runs the action; problems of the input are printed, one a line. What is neither usage nor input is a defect and passes on. */
export async function exitStatusOf(action: () => Promise<unknown>): Promise<number> {
  try {
    await action();
    return 0;
  } catch (error) {
    // Commander has printed its message already; --help and --version come this way too, with status 0.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (!(error instanceof ByterailError)) throw error;
    printProblems(error.problems);
    return 1;
  }
}
