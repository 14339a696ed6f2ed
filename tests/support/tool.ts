// Programs that some tests need and a machine may lack: a C compiler, Python, a browser.
// Without them such a test is skipped visibly; where BYTERAIL_NO_SKIP is set it runs all the same, and fails.

import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";
import { test } from "vitest";

/**
 * `test`, for a test that starts the given programs.
 * @example testWith("gcc")("the generated header compiles", () => { … });
 */
export function testWith(...programs: readonly string[]): typeof test | typeof test.skip {
  const missing = programs.filter((program) => !isInstalled(program));
  return missing.length === 0 || process.env.BYTERAIL_NO_SKIP ? test : test.skip;
}

/** Whether a program of that name stands in a folder of PATH. */
export function isInstalled(program: string): boolean {
  return (process.env.PATH ?? "").split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}
