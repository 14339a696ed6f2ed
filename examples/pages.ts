// Pages that show commands with what they print. Each command stands in a block fenced as `sh`, one a block; what it prints
// in the block fenced as `text` behind it, which is written here by running the command.
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));

/** A page, and the files of its folder that its commands read. Whatever they write goes to a copy of the folder. */
export interface Page {
  readonly file: string;
  readonly reads: readonly string[];
}

/** The pages of the examples. */
export const pages: readonly Page[] = [
  { file: "diagnosis/session.md", reads: ["station.json", "firstLook.json", "observations.json"] },
  { file: "revision/session.md", reads: ["old.json", "new.json"] },
];

/** The text of a page as it stands. */
export function textOf({ file }: Page): string {
  return readFileSync(join(here, file), "utf8");
}

/** The text of a page with its commands run anew; `command` is the file behind `byterail`. */
export function withOutputs(page: Page, command: string): string {
  const folder = mkdtempSync(join(tmpdir(), "byterail-page-"));
  try {
    for (const name of page.reads) cpSync(join(here, dirname(page.file), name), join(folder, name));
    return textOf(page).replace(
      /```sh\nbyterail (.*)\n```\n\n```text\n[\s\S]*?```/g,
      (_, words: string) =>
        `\`\`\`sh\nbyterail ${words}\n\`\`\`\n\n\`\`\`text\n${outputOf(command, words, folder)}\`\`\``,
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

// What a person sees: the result, then what stands on standard error.
function outputOf(command: string, words: string, cwd: string): string {
  const args = [...words.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map(([, a, b, c]) => a ?? b ?? c!);
  const { NO_COLOR: _, FORCE_COLOR: __, ...env } = process.env;
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], { cwd, env, encoding: "utf8" });
  if (status !== 0) throw new Error(`byterail ${words} ended with ${status}: ${stderr}`);
  return stdout + stderr;
}
