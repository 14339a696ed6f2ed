/** What one more observation would separate the leading explanations: a point that they read differently. */
import { type Direction, type NumberField, type NumberPoint, type PlacedPoint, unitOf } from "byterail";
import type { Base } from "./base.js";
import type { Key } from "./facts.js";
import { captured } from "./frames.js";
import type { Hypothesis } from "./hypothesis.js";
import { plain } from "./plain.js";
import { readerOf } from "./reader.js";

/** A thing to look at or to do next. */
export interface NextObservation {
  /** The observation whose frame is enough, when more becomes known of it; null: a new frame is needed. */
  readonly observation: number | null;
  readonly direction: Direction | null;
  /** The point to find out about; null: nothing in a frame tells them apart. */
  readonly point: string | null;
  /** What leading explanations (numbers from 1) read there; null for what cannot be foretold. */
  readonly expected: readonly {
    readonly answers: readonly number[];
    readonly value: boolean | number | string | null;
  }[];
  readonly says: string;
}

/** A leading explanation with its reading of the station. */
export interface Leading {
  readonly answer: number;
  readonly base: Base;
  readonly parts: readonly Hypothesis[];
}

/** How many leading explanations are compared. */
export const compared = 12;

/** Looks for what separates them. */
export function nextObservation(given: Base, leading: readonly Leading[]): NextObservation {
  return inFrames(given, leading) ?? inNewFrame(given, leading) ?? nowhere;
}

const nowhere: NextObservation = {
  observation: null,
  direction: null,
  point: null,
  expected: [],
  says: "The leading answers read every point alike, so no frame tells them apart. Look at the station itself: its modules, their order and their settings.",
};

type Expected = NextObservation["expected"][number];

// The frames are there already: of which point would it help to know the truth? The latest frame is the easiest to ask about.
function inFrames(given: Base, leading: readonly Leading[]): NextObservation | null {
  let best: { readonly observation: number; readonly key: Key; readonly expected: Expected[] } | null = null;
  const known = new Set(given.facts.map(({ observation }, k) => `${observation} ${given.keys[k]}`));
  for (const key of given.points.keys()) {
    const direction = directionOf(key);
    const readers = leading.map(({ base }) => {
      const point = foretold(base, key);
      return point && readerOf(point);
    });
    for (let observation = given.frames.length - 1; observation >= 0; observation--) {
      if (known.has(`${observation} ${key}`) || !given.frames[observation]![direction]) continue;
      const values = leading.map(({ answer, base }, k) => {
        const bits = readers[k]?.bits(base.frames[observation]![direction]!, 0) ?? null;
        return { answer, value: bits === null ? null : plain(readers[k]!.value(bits)) };
      });
      const expected = grouped(values, toleranceOf(given, key));
      if (expected.length > (best?.expected.length ?? 1)) best = { observation, key, expected };
    }
  }
  if (!best) return null;
  const { observation, key, expected } = best;
  const point = given.points.get(key)!;
  const unit = unitOf(point);
  const speaks = expected.map(({ answers, value }) => {
    const what = value === null || unit === null ? shown(value) : `${shown(value)} ${unit}`;
    return `${what} speaks for ${answersText(answers)}`;
  });
  return {
    observation,
    direction: directionOf(key),
    point: point.name,
    expected,
    says: `Find out what ${point.name} was in observation ${observation + 1}: ${speaks.join("; ")}.`,
  };
}

// What has left the image, or has a signal at fault, cannot be foretold.
function foretold({ points, excused }: Base, key: Key): PlacedPoint | null {
  return excused.has(key) ? null : (points.get(key) ?? null);
}

// Whole numbers in full, since a count is known to the count; six digits of any other.
function shown(value: Expected["value"]): string {
  if (value === null) return "anything else";
  return String(typeof value === "number" && !Number.isInteger(value) ? Number(value.toPrecision(6)) : value);
}

function grouped(
  values: readonly { readonly answer: number; readonly value: Expected["value"] }[],
  tolerance: number,
): Expected[] {
  const groups: { answers: number[]; value: Expected["value"] }[] = [];
  for (const { answer, value } of values) {
    const group = groups.find((each) => alike(each.value, value, tolerance));
    if (group) group.answers.push(answer);
    else groups.push({ answers: [answer], value });
  }
  return groups;
}

// What is shown alike cannot be told apart. 64-bit integers are text here, and may be beside a real that is the same number.
function alike(a: Expected["value"], b: Expected["value"], tolerance: number): boolean {
  if (shown(a) === shown(b)) return true;
  return a !== null && b !== null && tolerance > 0 && Math.abs(Number(a) - Number(b)) <= tolerance;
}

// Readings nearer than twice what facts of the point allow would leave the question open.
function toleranceOf({ facts, factsAt }: Base, key: Key): number {
  return 2 * Math.max(0, ...(factsAt.get(key) ?? []).map((k) => facts[k]!.within));
}

// They read it alike in the frames there are, but from other bytes or as other counts: another value will tell.
function inNewFrame(given: Base, leading: readonly Leading[]): NextObservation | null {
  const keys = [...given.factsAt.keys(), ...given.points.keys()];
  const key = keys.find((each) => new Set(leading.map((one) => meaningOf(one, each))).size > 1);
  if (!key) return null;
  const [direction, point] = [directionOf(key), given.points.get(key)!.name];
  const says = `With ${point} at another value that you know, far from the ones so far, take one more frame of the ${direction}: the leading answers read it from other bits, or make another number of them. ${caution}`;
  return { observation: null, direction, point, expected: [], says };
}

const caution =
  "Changing it may move the machine: one point at a time, machine in view, under the site's procedure and local codes.";

// The very bits of the frame as captured, whatever is done to it before it is read, and what is made of them.
function meaningOf({ base, parts }: Leading, key: Key): string | null {
  const point = foretold(base, key);
  if (!point) return null;
  const { positions, low, bits, code, kind } = point;
  const description: Partial<NumberPoint | NumberField> = point.description;
  const direction = directionOf(key);
  const edits = parts.flatMap(({ effect: { frame } }) => (frame?.direction === direction ? [frame] : []));
  const length = Math.max(...base.frames.map((frames) => frames[direction]?.length ?? 0));
  const places = Array.from({ length: bits }, (_, k) =>
    edits.reduceRight(captured, { byte: positions[(low + k) >> 3]!, bit: (low + k) & 7, length }),
  );
  return JSON.stringify([places, code, kind, description.scale]);
}

function directionOf(key: Key): Direction {
  return key.split(" ")[0] as Direction;
}

function answersText(answers: readonly number[]): string {
  return `${answers.length > 1 ? "answers" : "answer"} ${answers.join(", ")}`;
}
