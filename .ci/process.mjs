// Starting other programs from the workspace scripts.

import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

export const root = resolve(dirname(fileURLToPath(import.meta.url)), "..");

/** A step of the workspace scripts failed; the reason has been printed or is the message. */
export class Failed extends Error {}

/** Run a program that talks to the terminal itself. Returns its exit status. */
export function run(command, args, options = {}) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: "inherit", ...options });
  if (error) throw new Failed(`${command} did not start: ${error.message}`);
  return status ?? 1;
}

/** Run a program silently. Throws with everything it printed when it fails; returns its standard output. */
export function quietly(command, args, options = {}) {
  const done = spawnSync(command, args, {
    cwd: root,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
    maxBuffer: 64 << 20,
    ...options,
  });
  if (done.error) throw new Failed(`${command} did not start: ${done.error.message}`);
  if (done.status !== 0) {
    throw new Failed(`${command} ${args.join(" ")} ended with ${done.status}\n${done.stdout}${done.stderr}`);
  }
  return done.stdout;
}

/** The JavaScript file behind a development tool's command, to be run by this same Node on every platform. */
export function tool(name, { workspace = ".", command = name } = {}) {
  const folder = join(root, workspace, "node_modules", name);
  const { bin } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  return join(folder, typeof bin === "string" ? bin : bin[command]);
}

// On Windows npm and npx are command files, which only a shell starts.
export const shell = process.platform === "win32";
