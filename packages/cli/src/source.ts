/** Texts that a command reads: from the argument itself, from a file, or from standard input. */
import { readFile } from "node:fs/promises";
import type { Command } from "commander";
import { refuse } from "./problems.js";

/** A text and where it came from, in words for a message. */
export interface Source {
  readonly text: string;
  readonly from: string;
}

/** Reads the file of that name; `-` is standard input. */
export async function readFileOrInput(name: string): Promise<Source> {
  return name === "-"
    ? { text: await readInput(), from: "standard input" }
    : { text: await readText(name), from: name };
}

/** Reads the value of an option: `@file`, `-` for standard input, or the text itself. */
export async function readOption(option: string, given: string): Promise<Source> {
  if (given === "-") return readFileOrInput(given);
  if (given.startsWith("@")) return readFileOrInput(`${given.slice(1)}`);
  return { text: given, from: option };
}

/** Standard input can be read once; more than one `-` is wrong usage. */
export function onlyOneFromInput(command: Command, ...given: readonly (string | undefined)[]): void {
  if (given.filter((text) => text === "-" || text === "@-").length > 1)
    command.error("error: only one thing can come from standard input (-)");
}

async function readText(name: string): Promise<string> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(name);
  } catch (error) {
    return refuse("file.read", name, `cannot be read: ${reasonOf(error as NodeJS.ErrnoException)}`);
  }
  return textOf(bytes, name);
}

async function readInput(): Promise<string> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Uint8Array);
  return textOf(Buffer.concat(chunks), "standard input");
}

// A file saved in an older code page would turn °C into something else in silence. A byte order mark is left out.
function textOf(bytes: Uint8Array, from: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return refuse("file.encoding", from, "is no UTF-8 text; save it as UTF-8");
  }
}

function reasonOf({ code, message }: NodeJS.ErrnoException): string {
  const reasons: Readonly<Record<string, string>> = {
    ENOENT: "there is no such file",
    EISDIR: "it is a folder",
    EACCES: "reading it is not allowed",
  };
  return reasons[code ?? ""] ?? message;
}
