/** `toDecodeTo`: a frame reads as the values that a test expects. */
import { decode } from "byterail";
import { toHex } from "byterail/frames";
import { annotated } from "./dump.js";
import { counted, expectation, judge, type Tolerance } from "./judge.js";
import { likelyReasonOfLength, likelyReasons } from "./reasons.js";
import { type AnyImage, attempt, checkImage, failed, type MatcherResult } from "./result.js";

/** How `toDecodeTo` compares. */
export interface DecodeOptions extends Tolerance {
  /** `given` (default): points that are not named may hold anything; `every`: each point of the image must be named. */
  readonly points?: "given" | "every";
}

/** Whether bytes decode to the given values; the message is the annotated dump. */
export function toDecodeTo(
  received: unknown,
  image: AnyImage,
  expected: object,
  options: DecodeOptions = {},
): MatcherResult {
  checkImage(image, "toDecodeTo");
  const wanted = { ...expected } as Record<string, unknown>;
  checkNames(image, wanted, options);
  const bytes = received as Uint8Array;
  const decoded = attempt(() => decode(image, bytes));
  if ("problems" in decoded) return failed(...notDecoded(image, bytes, wanted, options, decoded.problems));
  const judged = judge(image, bytes, wanted, options);
  const wrong = judged.filter(({ matches }) => !matches);
  const notes = (all: typeof judged) => new Map(all.map((each) => [each.point.name, expectation(image, bytes, each)]));
  if (wrong.length === 0)
    return {
      pass: true,
      message: () =>
        [
          `expected the ${image.direction} not to decode to the given values`,
          "",
          annotated(image, bytes, notes(judged)),
        ].join("\n"),
    };
  return {
    pass: false,
    message: () =>
      [
        `expected the ${image.direction} to decode to the given values, but ${wrong.length} of ${counted(judged.length, "point")} ${wrong.length === 1 ? "differs" : "differ"}`,
        "",
        annotated(image, bytes, notes(wrong)),
        ...reasonLines(likelyReasons(image, bytes, judged, options)),
      ].join("\n"),
  };
}

/** The reasons of a message, with what leads to them. */
export function reasonLines(reasons: readonly string[]): readonly string[] {
  return reasons.length === 0 ? [] : ["", `likely reason: ${reasons.join("; or ")}`];
}

// A name that no point has would never be compared: that is a mistake of the test, with `.not` too.
function checkNames(
  { points, direction }: AnyImage,
  wanted: Readonly<Record<string, unknown>>,
  { points: which }: DecodeOptions,
): void {
  const names = new Set(points.map(({ name }) => name));
  const unknown = Object.keys(wanted).filter((name) => !names.has(name));
  const missing = which === "every" ? [...names].filter((name) => !Object.hasOwn(wanted, name)) : [];
  if (unknown.length > 0) throw new TypeError(`toDecodeTo: ${unknown.join(", ")}: no such point of the ${direction}`);
  if (missing.length > 0) throw new TypeError(`toDecodeTo: ${missing.join(", ")}: nothing is expected of these points`);
}

function notDecoded(
  image: AnyImage,
  bytes: Uint8Array,
  wanted: Readonly<Record<string, unknown>>,
  options: DecodeOptions,
  problems: readonly string[],
): readonly string[] {
  const isBytes = bytes instanceof Uint8Array;
  return [
    `expected the ${image.direction} to decode to the given values, but they do not decode`,
    "",
    ...problems,
    ...(isBytes ? [`received ${toHex(bytes) || "no bytes"}`] : []),
    ...(isBytes ? reasonLines(likelyReasonOfLength(image, bytes, wanted, options)) : []),
  ];
}
