/**
 * Rules of a single point, which need more than its shape to judge: codes, orders, scales, limits. All problems are
 * collected; nothing is thrown.
 */
import { codeOf, countsProblem } from "../number/code.js";
import { hasWords } from "../number/order.js";
import { widestNumber, widthOf } from "../number/types.js";
import { at, type Findings, note, printable, type Problem } from "../problem.js";
import { isMonotone } from "../scale/characteristic.js";
import { largestTerm, ratioOf } from "../scale/linear.js";
import type {
  BitPoint,
  Direction,
  Entry,
  Field,
  NumberField,
  NumberPoint,
  PointBase,
  Scale,
  Span,
} from "../station/description.js";
import { isKey, wholeNumbers, wholeProblem } from "../station/keys.js";
import { codeNameOf, isFlag } from "./point.js";

/** Widest integer that may have a scale, in bits. */
const widestScaled = 32;

/** Checks one entry whose shape is known to be right. */
export function checkEntry(entry: Entry, direction: Direction, path: string, { problems, warnings }: Findings): void {
  if (!checkKeys(entry, path, problems) || "spare" in entry || "spareBits" in entry) return;
  const width = "word" in entry ? entry.word : entry.type === "bit" ? 1 : widthOf(entry.type);
  if ("wordOrder" in entry && entry.wordOrder && !hasWords(width))
    note(
      problems,
      "wordOrder.width",
      at(path, "wordOrder"),
      `orders two or more whole 16-bit words; ${width} bits are none`,
    );
  const owners: PointBase[] = [];
  const points: readonly (BitPoint | NumberPoint | Field)[] = "word" in entry ? entry.fields : [entry];
  points.forEach((point, i) => {
    const inner = "word" in entry ? at(at(path, "fields"), i, point) : path;
    if (point !== entry && !checkKeys(point, inner, problems)) return;
    const reporter =
      (list: Problem[]): Report =>
      (code, message, ...keys) =>
        note(
          list,
          code,
          keys.reduce<string>((path, key) => at(path, key), inner),
          message,
        );
    const wrong = reporter(problems);
    const [bits, shift] = "type" in point ? [width, 0] : isFlag(point) ? [1, point.bit] : [point.bits, point.shift];
    if (shift + bits > width)
      wrong("field.outside", `takes bits ${shift} to ${shift + bits - 1} of a word of ${width}`);
    const other = owners.slice(shift, shift + bits).find((owner) => owner);
    if (other) wrong("field.overlap", `takes bits that field ${other.name} has already`);
    for (let bit = shift; bit < shift + bits; bit++) owners[bit] = point;
    const isBoolean = isFlag(point) || ("type" in point && point.type === "bit");
    const { onNetworkLoss: state } = point;
    if (state !== undefined && direction === "inputs") wrong("onNetworkLoss.input", "is for outputs", "onNetworkLoss");
    else if (state !== undefined && typeof state !== "string" && (typeof state === "boolean") !== isBoolean)
      wrong(
        "onNetworkLoss.type",
        `must be "off", "hold" or ${isBoolean ? "true or false" : "a number"}`,
        "onNetworkLoss",
      );
    const { scale } = point as NumberPoint;
    if (scale) checkKeys(scale, at(inner, "scale"), problems);
    if (!isBoolean) checkNumber(point as NumberPoint | NumberField, bits, wrong, reporter(warnings));
  });
}

/** Checks what the types of a literal cannot: its whole numbers and that its keys are known; false where one is wrong. */
export function checkKeys(thing: object, path: string, problems: Problem[]): boolean {
  const before = problems.length;
  for (const [key, value] of Object.entries(thing)) {
    if (!isKey(key)) note(problems, "key.unknown", path, `unknown key "${printable(key)}"`);
    const problem = wholeNumbers[key] && value !== undefined && wholeProblem(key, value);
    if (problem) note(problems, "type.integer", at(path, key), `${problem}, not ${value}`);
  }
  return problems.length === before;
}

type Report = (code: string, message: string, ...keys: (string | number)[]) => void;

function checkNumber(point: NumberPoint | NumberField, bits: number, wrong: Report, warn: Report): void {
  const { code, scale, limits, specialCounts } = point;
  const misuse = code && misuseOf(point);
  if (misuse) return wrong("code.type", misuse, "code");
  const counting = codeOf(codeNameOf(point) ?? "real", bits);
  const real = counting.name === "real";
  const checkCounts = (what: string, counts: number, ...keys: (string | number)[]) => {
    const bigint = !real && bits > widestNumber && Number.isInteger(counts);
    const problem = countsProblem(bigint ? BigInt(counts) : counts, counting);
    if (problem) wrong(what, problem, ...keys);
    return !problem;
  };
  if (scale) {
    if (!real && bits > widestScaled)
      wrong("scale.width", `is for integers of up to ${widestScaled} bits, not ${bits}`, "scale");
    if (point.unit) wrong("unit.twice", "belongs in the scale: scale.unit", "unit");
    const sound = checkScale(scale, checkCounts, wrong) && !real && bits <= widestScaled;
    const most = sound ? largestOf(scale, counting.min, counting.max) : 0n;
    if (most >> 960n) wrong("scale.size", "the ends are too far apart in size", "scale");
    else if (most > 2n ** 49n)
      warn(
        "scale.inexact",
        "its integers pass 2^49, so counts may not survive the way to a value and back; give fewer digits",
        "scale",
      );
    if (scale.signal && !scale.signalUnit)
      warn("scale.signalUnit", `has no signalUnit, "mA" or "V"; its failure levels stay unknown`, "scale", "signal");
  }
  specialCounts?.forEach(({ counts }, i) => {
    checkCounts("specialCounts.range", counts, "specialCounts", i, "counts");
  });
  if (!((point.deadband ?? 0) >= 0)) wrong("type.number", `must be 0 or more, not ${point.deadband}`, "deadband");
  if (limits && !(limits[0] <= limits[1]))
    wrong("limits.order", `the lower one, ${limits[0]}, is above ${limits[1]}`, "limits");
}

// Why a point cannot have its code.
function misuseOf(point: NumberPoint | NumberField): string | undefined {
  if ("bits" in point) return point.signed === undefined ? undefined : `says the sign itself; leave out "signed"`;
  const wanted = point.code === "bcd" ? "uint" : "int";
  return point.type.startsWith(wanted)
    ? undefined
    : `"${point.code}" is for ${wanted}8 to ${wanted}64, not ${point.type}`;
}

type CheckCounts = (code: string, counts: number, ...keys: (string | number)[]) => boolean;

// Returns whether the scale is sound enough to derive its integers from.
function checkScale(scale: Scale, checkCounts: CheckCounts, wrongScale: Report): boolean {
  let sound = true;
  const wrong: Report = (code, message, ...keys) => {
    sound = false;
    wrongScale(code, message, "scale", ...keys);
  };
  const { counts, signal, value, points, shape } = scale;
  if (points) {
    if (value || shape) wrong("scale.twice", "takes no value and no shape: its points give both");
    if (!isMonotone(points)) wrong("scale.monotone", "counts and values must each rise or fall strictly", "points");
    points.forEach(([n], i) => {
      sound = checkCounts("scale.counts", n, "scale", "points", i, 0) && sound;
    });
    if (!counts !== !signal) wrong("scale.counts", "counts and signal go together beside points");
  } else if (!counts) wrong("scale.counts", `"counts" is missing`);
  else if (!signal && !value) wrong("scale.value", `needs "value", "signal" or both at the two ends`);
  for (const key of ["counts", "signal", "value"] as const) {
    const [lower, upper] = scale[key] ?? [0, 1];
    if (!Number.isFinite(upper - lower) || upper === lower)
      wrong("scale.span", `must be two different numbers, not ${lower} and ${upper}`, key);
  }
  counts?.forEach((n, i) => {
    sound = checkCounts("scale.counts", n, "scale", "counts", i) && sound;
  });
  if (scale.signalUnit && !signal) wrong("scale.signal", `there is no "signal" for it`, "signalUnit");
  return sound;
}

// A root is real arithmetic whatever its ends are: only its signal is a line.
function largestOf(scale: Scale, min: number | bigint, max: number | bigint): bigint {
  const terms = linesOf(scale).map((line) => largestTerm(ratioOf(...line), min, max));
  return terms.reduce((most, term) => (term > most ? term : most), 0n);
}

// The straight lines of a scale, as [counts, value] ends.
function linesOf({ counts, signal, value, points, shape }: Scale): (readonly [Span, Span])[] {
  const lines: (readonly [Span, Span])[] = [];
  points?.slice(1).forEach((end, k) =>
    lines.push([
      [points[k]![0], end[0]],
      [points[k]![1], end[1]],
    ]),
  );
  if (value && shape !== "squareRoot") lines.push([counts!, value]);
  if (signal) lines.push([counts!, signal]);
  return lines;
}
