// The built command, run as a process of its own, as a shell runs it.

import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const manifest = createRequire(import.meta.url).resolve("@byterail/cli/package.json");

/** The file behind the command. */
export const command: string = join(dirname(manifest), "dist/byterail.js");

/** The description of a keg washer: bits, numbers, a packed word, codes, spares and a reserve. */
export const kegWasher: string = fileURLToPath(new URL("kegWasher.json", import.meta.url));

/** What a run left behind. */
export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs `byterail` with these arguments; `input` is its standard input. */
export function byterail(args: readonly string[], input = ""): Ran {
  return ran(process.execPath, [command, ...args], input);
}

/** Runs `byterail` on a terminal of its own, made by Python. Both outputs arrive as one. */
export function byterailOnTerminal(args: readonly string[], env: NodeJS.ProcessEnv = {}): Ran {
  const inTerminal = "import os, pty, sys; sys.exit(os.waitstatus_to_exitcode(pty.spawn(sys.argv[1:])))";
  return ran("python3", ["-c", inTerminal, process.execPath, command, ...args], "", { TERM: "xterm", ...env });
}

/** The data that a run with `--json` printed. */
export function json(args: readonly string[], input?: string): unknown {
  const { status, out, err } = byterail([...args, "--json"], input);
  if (status !== 0) throw new Error(err);
  return JSON.parse(out);
}

function ran(file: string, args: readonly string[], input: string, env: NodeJS.ProcessEnv = {}): Ran {
  const { NO_COLOR: _, FORCE_COLOR: __, ...rest } = process.env;
  const { status, stdout, stderr, error } = spawnSync(file, args, {
    input,
    encoding: "utf8",
    env: { ...rest, ...env },
  });
  if (error) throw error;
  return { status, out: stdout, err: stderr };
}
