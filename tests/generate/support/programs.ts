// Running compilers and interpreters on generated files, in a folder that is gone afterwards.

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Calls `use` with a new folder that holds the files, and removes it. */
export async function inFolder<T>(
  files: readonly { readonly path: string; readonly text: string }[],
  use: (folder: string) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), "byterail-"));
  try {
    for (const { path, text } of files) writeFileSync(join(folder, path), text);
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Runs a program and returns its standard output; anything but exit status 0 is an error that tells what it printed. */
export function output(cwd: string, program: string, args: readonly string[], input = ""): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { cwd });
    const [out, err]: [string[], string[]] = [[], []];
    child.stdout.setEncoding("utf8").on("data", (text: string) => out.push(text));
    child.stderr.setEncoding("utf8").on("data", (text: string) => err.push(text));
    child.stdin.on("error", () => undefined);
    child.on("error", reject);
    child.on("close", (status) => {
      if (status === 0) resolve(out.join(""));
      else reject(new Error(`${program} ${args.join(" ")} ended with ${status}\n${err.join("")}${out.join("")}`));
    });
    child.stdin.end(input);
  });
}

/** Parts of a list. */
export function chunks<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, k) => list.slice(k * size, (k + 1) * size));
}

/** Does the jobs, at most `most` at a time. */
export async function together<T, R>(jobs: readonly T[], most: number, work: (job: T) => Promise<R>): Promise<R[]> {
  const results: R[] = [];
  let next = 0;
  const worker = async () => {
    for (let k = next++; k < jobs.length; k = next++) results[k] = await work(jobs[k]!);
  };
  await Promise.all(Array.from({ length: most }, worker));
  return results;
}
