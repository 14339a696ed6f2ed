/**
 * What reads files, for tests that run on Node. The rest of the kit runs in browsers, too.
 *
 * @packageDocumentation
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type RecordedFrame, recordedText } from "./frames/recorded.js";

export type { RecordedFrame } from "./frames/recorded.js";

/**
 * Reads a capture from a text file (UTF-8); its format is that of `recordedText`.
 *
 * @example
 * ```ts no-run
 * import { recorded } from "@byterail/testkit/node";
 * const frames = recorded(new URL("./cycle.capture.txt", import.meta.url));
 * ```
 * @param file a path, or a `file:` URL
 * @throws `ByterailError` with every line that is wrong, and what Node throws for a file that cannot be read
 */
export function recorded(file: string | { readonly href: string }): RecordedFrame[] {
  return recordedText(readFileSync(typeof file === "string" ? file : fileURLToPath(file.href), "utf8"));
}
