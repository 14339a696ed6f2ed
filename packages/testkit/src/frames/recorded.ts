/**
 * Captures kept as text, one frame a line, so that they can be read, compared and annotated beside the tests.
 *
 * ```text
 * # Keg washer, start of a cycle.                    A comment goes from # or // to the end of the line;
 *                                                    empty lines are free.
 * 0.000  in   03 60 36 C1 02                         A line is: time, direction, hex.
 * 0.020  out  01 00 00 00     # rinse opens          Time: seconds with a point, or ISO 8601 with the zone,
 * 0.040  in   03 60 36 | C2 02                         such as 2026-03-02T08:15:00.040Z; one kind in a file.
 *                                                    Times never fall.
 *                                                    Direction: in or inputs (station to controller),
 *                                                      out or outputs (controller to station).
 *                                                    Hex: as `frameOf` reads it; no byte at all is a frame
 *                                                      of length 0.
 * ```
 */
import { ByterailError, type Direction, type Problem } from "byterail";
import { toHex } from "byterail/frames";
import { frameOf } from "./frame-of.js";

/** One frame of a capture. */
export interface RecordedFrame {
  /** As it is written. */
  readonly time: string;
  /** Since the first frame. */
  readonly seconds: number;
  readonly direction: Direction;
  readonly bytes: Uint8Array;
  /** Line of the text, from 1. */
  readonly line: number;
}

const directions: Readonly<Record<string, Direction>> = {
  in: "inputs",
  inputs: "inputs",
  out: "outputs",
  outputs: "outputs",
};

/**
 * Reads a capture from its text: time, direction, hex, one frame a line. `@byterail/testkit/node` reads one from a file.
 *
 * @example
 * ```ts
 * import { recordedText } from "@byterail/testkit";
 * const frames = recordedText(`
 *   0.000  in   03 60 36 C1 02
 *   0.020  out  01 00 00 00     # rinse opens
 * `);
 * frames.map(({ seconds, direction }) => [seconds, direction]); // → [[0, "inputs"], [0.02, "outputs"]]
 * ```
 * @throws `ByterailError` with every line that is wrong: `record.syntax`, `record.time`, `record.direction`, `record.order`, `hex.syntax`
 */
export function recordedText(text: string): RecordedFrame[] {
  const problems: Problem[] = [];
  const frames: (Omit<RecordedFrame, "seconds"> & { readonly at: Instant })[] = [];
  for (const [k, written] of text.split(/\r?\n/).entries()) {
    const content = written.replace(/(?:#|\/\/).*$/, "").trim();
    if (!content) continue;
    const path = `line ${k + 1}`;
    const wrong = (code: string, message: string) => void problems.push({ code, path, message });
    const [time = "", way = "", ...rest] = content.split(/\s+/);
    const at = instantOf(time);
    const direction = Object.hasOwn(directions, way.toLowerCase()) ? directions[way.toLowerCase()] : undefined;
    const before = frames.at(-1)?.at;
    if (!at)
      wrong("record.time", `${JSON.stringify(time)} is no time: seconds such as 0.020, or ISO 8601 with the zone`);
    else if (before && before.kind !== at.kind) wrong("record.time", "is of another kind than the time before it");
    else if (before && at.milliseconds < before.milliseconds)
      wrong("record.order", `is earlier than line ${frames.at(-1)!.line}`);
    if (!way) wrong("record.syntax", "has no direction: time, direction, hex");
    else if (!direction)
      wrong("record.direction", `${JSON.stringify(way)} is no direction: in, inputs, out or outputs`);
    const bytes = bytesOf(rest.join(" "), path, problems);
    if (at && direction && bytes) frames.push({ time, at, direction, bytes, line: k + 1 });
  }
  if (problems.length > 0) throw new ByterailError(problems);
  const start = frames[0]?.at.milliseconds ?? 0;
  return frames.map(({ at, ...frame }) => ({ ...frame, seconds: rounded((at.milliseconds - start) / 1000) }));
}

/**
 * Writes frames as a capture that `recordedText` reads.
 *
 * @example
 * ```ts
 * import { recordingText } from "@byterail/testkit";
 * recordingText([{ time: "0.000", direction: "inputs", bytes: new Uint8Array([3, 96]) }]); // → "0.000  in   03 60\n"
 * ```
 */
export function recordingText(frames: readonly Pick<RecordedFrame, "time" | "direction" | "bytes">[]): string {
  return frames
    .map(({ time, direction, bytes }) =>
      `${time}  ${direction === "inputs" ? "in " : "out"}  ${toHex(bytes)}`.trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join("");
}

interface Instant {
  readonly kind: "seconds" | "date";
  readonly milliseconds: number;
}

function instantOf(text: string): Instant | null {
  if (/^\d+(?:\.\d+)?$/.test(text)) return { kind: "seconds", milliseconds: 1000 * Number(text) };
  const isDate = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)$/.test(text);
  const milliseconds = isDate ? Date.parse(text) : Number.NaN;
  return Number.isNaN(milliseconds) ? null : { kind: "date", milliseconds };
}

// Differences of decimals are decimals again: 0.3 − 0.1 is 0.2 here. A nanosecond is finer than any capture.
function rounded(seconds: number): number {
  return Math.round(seconds * 1e9) / 1e9;
}

function bytesOf(hex: string, line: string, problems: Problem[]): Uint8Array | null {
  try {
    return frameOf(hex);
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    problems.push(
      ...error.problems.map(({ code, path, message }) => ({ code, path: `${line}, hex ${path}`, message })),
    );
    return null;
  }
}
