/** Where a made text goes: to standard output, or to a file that is written whole or not at all. */
import { rename, rm, writeFile } from "node:fs/promises";
import { print } from "./print.js";
import { refuse } from "./problems.js";

/** Prints the text, or writes it to the file in place of what was there. */
export async function outputTo(file: string | undefined, text: string): Promise<void> {
  if (file === undefined) return print(text);
  // Written beside and then renamed, so that a full disk leaves the old file as it was.
  const beside = `${file}.${process.pid}.part`;
  try {
    await writeFile(beside, text);
    await rename(beside, file);
  } catch (error) {
    await rm(beside, { force: true });
    refuse("file.write", file, `cannot be written: ${(error as Error).message}`);
  }
}
