/** `toEncodeAs`: values give the frame that a test expects. */
import { decode, encode } from "byterail";
import { toHex } from "byterail/frames";
import { frameOf } from "../frames/frame-of.js";
import { reasonLines } from "./decode-to.js";
import { annotated } from "./dump.js";
import { expectation, judge } from "./judge.js";
import { likelyReasons } from "./reasons.js";
import { type AnyImage, attempt, checkImage, failed, type MatcherResult, passed } from "./result.js";

/** Whether values encode as the given frame, bytes or hex as `frameOf` reads it; the message is the annotated dump. */
export function toEncodeAs(received: unknown, image: AnyImage, expected: Uint8Array | string): MatcherResult {
  checkImage(image, "toEncodeAs");
  const wanted = typeof expected === "string" ? frameOf(expected) : expected;
  const what = `expected values of the ${image.direction}`;
  const encoded = attempt(() => encode(image, received));
  if ("problems" in encoded)
    return failed(`${what} to encode as ${toHex(wanted)}, but they do not encode`, "", ...encoded.problems);
  const bytes = encoded.result;
  if (toHex(bytes) === toHex(wanted)) return passed(`${what} not to encode as ${toHex(wanted)}`);
  const head = [
    `${what} to encode as another frame`,
    `  expected  ${toHex(wanted)}`,
    `  received  ${toHex(bytes)}`,
    "",
  ];
  const read = attempt(() => decode(image, wanted) as Readonly<Record<string, unknown>>);
  if ("problems" in read) return failed(...head, ...read.problems.map((problem) => `the expected frame: ${problem}`));
  return { pass: false, message: () => [...head, ...differences(image, bytes, wanted, read.result)].join("\n") };
}

function differences(
  image: AnyImage,
  bytes: Uint8Array,
  wanted: Uint8Array,
  values: Readonly<Record<string, unknown>>,
): readonly string[] {
  const judged = judge(image, bytes, values, {});
  const wrong = judged.filter(({ matches }) => !matches);
  const notes = new Map(wrong.map((each) => [each.point.name, expectation(image, bytes, each)]));
  const dump = annotated(image, bytes, notes);
  if (wrong.length > 0) return [dump, ...reasonLines(likelyReasons(image, bytes, judged, {}))];
  const places = [...wanted.keys()].filter((k) => wanted[k] !== bytes[k]);
  return [
    dump,
    "",
    `every point reads alike; byte ${places.join(", ")} differs in bits that no point uses (encode writes 0 there) or in how a zero is written`,
  ];
}
