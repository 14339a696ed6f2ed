// Files that nobody sound would give the command: it tells what is wrong with them, or does its work. It never ends with a
// trace of the program, and writes nothing where it fails. `npm run proof -- fuzz` does more of it.

import fc from "fast-check";
import { expect, test } from "vitest";
import { attackCommand, hostileFiles } from "../support/hostileFiles.js";

test("check, map, compare, diagnose, generate and sheet with accidents in their files", async () => {
  const files = fc.sample(hostileFiles(), { seed: 1, numRuns: 3 });
  for (const each of files)
    for (const { what, foreign } of await attackCommand(each))
      expect(foreign, `${what} ${JSON.stringify(each)}`).toBeNull();
});
