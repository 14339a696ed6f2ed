/** Problems as lines: `code path: message`. */
import { ByterailError, type Problem } from "byterail";
import { printError } from "./print.js";
import { printable } from "./printable.js";

/** Prints every problem on standard error, one a line. */
export function printProblems(problems: readonly Problem[]): void {
  printError(problems.map((problem) => `${problemLine(problem)}\n`).join(""));
}

/** A problem, or a warning, in one line. */
export function problemLine({ code, path, message }: Problem): string {
  return printable(`${code} ${path}: ${message}`);
}

/** Throws one problem of the command line's own. */
export function refuse(code: string, path: string, message: string): never {
  throw new ByterailError([{ code, path, message }]);
}
