/** From the members of the outputs to their image: one snippet for each channel. The elements are 0 beforehand. */
import { acceptedValues, codeOfPoint, numberOf } from "byterail";
import { fixedAround } from "../bit-copies/arithmetic.js";
import type { ElementBits } from "../bit-copies/copies.js";
import type { Channel, Form } from "./channel.js";
import { patternFrom } from "./codes.js";
import { setBit, spread } from "./elements.js";
import { chosen, limited, limitedTo, realLine, rootLines, wholeLine } from "./scaling.js";
import type { Scope } from "./scope.js";
import { converted, integerLiteral, largestReal, type Real, rangeOf, realLiteral } from "./types.js";

/** Statements that put a member into the elements of `image`. */
export function packLines(channel: Channel, elements: ElementBits, scope: Scope): string[] {
  const { form, copies, member, pattern, point } = channel;
  if (form.kind === "boolean") return [`IF data.${member} THEN`, `  ${setBit(copies[0]!, elements)}`, "END_IF;"];
  const bits = scope.variable("bits", pattern);
  const set =
    form.kind === "real"
      ? realLines(channel, form, bits, scope)
      : [...countsLines(channel, form, scope), ...codeLines(channel, bits, scope)];
  return [...set, ...spread(bits, copies, elements, pattern, point.bits)];
}

function codeLines(channel: Channel, bits: string, scope: Scope): string[] {
  const counts = scope.variable("counts", channel.counts);
  return [...instead(channel, counts), ...patternFrom(counts, bits, channel, scope)];
}

function countsLines(channel: Channel, form: Exclude<Form, { kind: "real" | "boolean" }>, scope: Scope): string[] {
  const { member, counts: wire, type } = channel;
  const counts = scope.variable("counts", wire);
  const source = `data.${member}`;
  if (form.kind === "counts") {
    const accepted = acceptedCounts(channel);
    const [low, high] = rangeOf(wire);
    return [
      `${counts} := ${accepted[0] === low && accepted[1] === high ? source : limitedTo(source, accepted, wire)};`,
    ];
  }
  if (form.kind === "fixed") {
    const { arithmetic, type: wide } = form;
    const x = scope.variable("scaled", wide);
    const border = ({ at }: { readonly at: bigint }) => integerLiteral(at, wide);
    return [
      `${x} := ${limitedTo(converted(source, type, wide), arithmetic.from, wide)};`,
      ...chosen(arithmetic.pieces, x, border, (line) => `${x} := ${wholeLine(line, x, wide, scope)};`),
      `${counts} := ${converted(limitedTo(x, arithmetic.to, wide), wide, wire)};`,
    ];
  }
  const { scaling } = form;
  const value = scope.variable("value", scaling.type);
  return [
    ...acceptedReal(value, source, scaling.limits!),
    ...chosen(
      scaling.first,
      value,
      ({ at }) => realLiteral(at),
      (line) => `${value} := ${realLine(line, value)};`,
    ),
    ...rootLines(scaling, value),
    ...narrowed(value, scaling.type, counts, channel, scope),
  ];
}

// A conversion rounds to the nearest, ties to even (IEC 61131-3, table 22).
function narrowed(value: string, type: Real, counts: string, channel: Channel, scope: Scope): string[] {
  const range = countsRange(channel);
  const kept = limited(value, realLiteral(range[0]), realLiteral(range[1]));
  // REAL has 24 bits: beyond them its nearest to the highest counts may lie above them.
  const exact = type === "LREAL" || (range[0] >= -(2n ** 24n) && range[1] <= 2n ** 24n);
  const wide = exact && range[1] < 2n ** 31n ? "DINT" : "LINT";
  if (exact) return [`${counts} := ${converted(converted(kept, type, wide), wide, channel.counts)};`];
  const whole = scope.variable("scaled", wide);
  return [
    `${whole} := ${converted(kept, type, wide)};`,
    `${counts} := ${converted(limitedTo(whole, range, wide), wide, channel.counts)};`,
  ];
}

function realLines(
  { member, type, point }: Channel,
  { wire, scaling }: Form & { kind: "real" },
  bits: string,
  scope: Scope,
): string[] {
  const source = `data.${member}`;
  const value = scope.variable("value", wire);
  const pattern = `${bits} := ${scope.helper(wire === "REAL" ? "FromReal" : "FromLreal")}(${value});`;
  if (!scaling)
    return [...acceptedReal(value, source, within(acceptedValues(point, "outputs"), largestReal[wire])), pattern];
  const x = scope.variable("value", type);
  const most = realLiteral(largestReal[wire]);
  return [
    ...acceptedReal(x, source, scaling.limits!),
    ...chosen(
      scaling.first,
      x,
      ({ at }) => realLiteral(at),
      (line) => `${x} := ${realLine(line, x)};`,
    ),
    ...rootLines(scaling, x),
    `${value} := ${converted(limited(x, `-${most}`, most), scaling.type, wire)};`,
    pattern,
  ];
}

function within(limits: readonly [number, number] | null, most: number): readonly [number, number] {
  const inside = (n: number) => Math.min(Math.max(n, -most), most);
  return limits ? [inside(limits[0]), inside(limits[1])] : [-most, most];
}

// A NaN is unequal to itself. LIMIT leaves open what becomes of one, so it is taken for 0 before.
function acceptedReal(value: string, source: string, [low, high]: readonly [number, number]): string[] {
  return [
    `${value} := ${source};`,
    `IF ${value} <> ${value} THEN`,
    `  ${value} := 0.0;`,
    "END_IF;",
    `${value} := ${limited(value, realLiteral(low), realLiteral(high))};`,
  ];
}

function countsRange({ point }: Channel): readonly [bigint, bigint] {
  const { min, max } = codeOfPoint(point)!;
  return [BigInt(min), BigInt(max)];
}

// Whole counts inside the limits; where there are none, those next to the lower limit.
function acceptedCounts(channel: Channel): readonly [bigint, bigint] {
  const { point } = channel;
  const [min, max] = countsRange(channel);
  const limits = numberOf(point) && acceptedValues(point, "outputs");
  if (!limits) return [min, max];
  const inside = (n: bigint) => (n < min ? min : n > max ? max : n);
  const [low, high] = [inside(fixedAround(limits[0], 0)[1]), inside(fixedAround(limits[1], 0)[0])];
  return low <= high ? [low, high] : [low, low];
}

// Counts that are a report are not sent for a value: the next counts towards 0 are, or, from 0, those above.
function instead(channel: Channel, counts: string): string[] {
  const { specialCounts = [] } = numberOf(channel.point)!;
  const [min, max] = countsRange(channel);
  const special = new Set(specialCounts.map(({ counts: n }) => BigInt(n)));
  const usable = (n: bigint) => n >= min && n <= max && !special.has(n);
  const cases = [...special].flatMap((n) => {
    const steps = Array.from({ length: special.size + 1 }, (_, k) => BigInt(k + 1));
    const towards = n > 0n ? -1n : 1n;
    const other = [...steps.map((k) => n + towards * k), ...steps.map((k) => n - towards * k)].find(usable);
    return other === undefined ? [] : [[n, other] as const];
  });
  if (cases.length === 0) return [];
  const literal = (n: bigint) => integerLiteral(n, channel.counts);
  return [
    ...cases.flatMap(([n, other], k) => [
      `${k === 0 ? "IF" : "ELSIF"} ${counts} = ${literal(n)} THEN`,
      `  ${counts} := ${literal(other)};`,
    ]),
    "END_IF;",
  ];
}
