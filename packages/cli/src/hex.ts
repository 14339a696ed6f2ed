/** Bytes as hex text. */
import { ByterailError } from "byterail";
import { fromHex } from "byterail/frames";
import type { Source } from "./source.js";

/** Reads hex pairs; the problems tell where the text came from. */
export function readHex({ text, from }: Source): Uint8Array {
  try {
    return fromHex(text);
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    throw new ByterailError(error.problems.map((problem) => ({ ...problem, path: from })));
  }
}
