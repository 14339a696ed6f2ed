#!/usr/bin/env node
/** The command `byterail`. Arguments are read in `program.ts`; what goes wrong becomes an exit status in `outcome.ts`. */
import { exitStatusOf } from "./outcome.js";
import { survivesClosedPipes } from "./print.js";
import { createProgram } from "./program.js";

survivesClosedPipes();
// Only the status is set: ending the process here would cut off what a pipe has not taken yet.
process.exitCode = await exitStatusOf(() => createProgram().parseAsync());
