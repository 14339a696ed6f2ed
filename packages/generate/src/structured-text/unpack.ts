/** From the image of the inputs to their members: one snippet for each channel. */
import { indent } from "../snippet.js";
import type { ElementBits } from "../bit-copies/copies.js";
import type { Channel, Form } from "./channel.js";
import { countsFrom, isPlain } from "./codes.js";
import { bitIsSet, gathered } from "./elements.js";
import { healthLines } from "./health.js";
import { chosen, exactRealLine, limited, limitedTo, realLine, rootLines, wholeLine } from "./scaling.js";
import type { Scope } from "./scope.js";
import { converted, integerLiteral, patternLiteral, realLiteral } from "./types.js";

/** Statements that set a member, and its health, from the elements of `image`. */
export function unpackLines(channel: Channel, elements: ElementBits, scope: Scope): string[] {
  const { form, copies, member, pattern, point } = channel;
  const target = `data.${member}`;
  if (form.kind === "boolean") return [`${target} := ${bitIsSet(copies[0]!, elements)};`];
  const bits = scope.variable("bits", pattern);
  const gather = gathered(bits, copies, elements, pattern);
  if (form.kind === "real") return [...gather, ...realLines(channel, form, bits, scope)];
  if (form.kind === "counts" && !channel.health && isPlain(channel))
    return [...gather, `${target} := ${converted(bits, pattern, channel.counts)};`];
  const counts = scope.variable("counts", channel.counts);
  const valid = point.code === "bcd" ? scope.variable("valid", "BOOL") : null;
  const value =
    form.kind === "counts"
      ? [`${target} := ${counts};`]
      : form.kind === "fixed"
        ? fixedLines(channel, form, counts, scope)
        : scaledLines(channel, form, counts, scope);
  const zero = channel.type === "REAL" || channel.type === "LREAL" ? "0.0" : "0";
  return [
    ...gather,
    ...countsFrom(bits, counts, channel, scope),
    ...(valid && form.kind !== "counts" ? onlyIf(valid, value, `${target} := ${zero};`) : value),
    ...healthLines(channel, counts, valid),
  ];
}

function fixedLines(
  { member, type, counts: wire }: Channel,
  { arithmetic, type: wide }: Form & { kind: "fixed" },
  counts: string,
  scope: Scope,
): string[] {
  const x = converted(counts, wire, wide);
  return chosen(
    arithmetic.pieces,
    counts,
    ({ at }) => integerLiteral(at, wire),
    (line) => {
      const result = wholeLine(line, x, wide, scope);
      return `data.${member} := ${wide === type ? result : converted(limitedTo(result, arithmetic.to, wide), wide, type)};`;
    },
  );
}

function scaledLines(
  { member, counts: wire }: Channel,
  { scaling, numerator }: Form & { kind: "scaled" },
  counts: string,
  scope: Scope,
): string[] {
  const { type, first, after } = scaling;
  const value = after ? scope.variable("value", type) : `data.${member}`;
  const border = ({ at }: { readonly at: number }) => integerLiteral(BigInt(at), wire);
  const lines = chosen(first, counts, border, (line) =>
    numerator
      ? `${value} := ${exactRealLine(line, converted(counts, wire, numerator), numerator, type)};`
      : `${value} := ${realLine(line, converted(counts, wire, type))};`,
  );
  return [...lines, ...rootLines(scaling, value), ...(after ? [`data.${member} := ${value};`] : [])];
}

function realLines(channel: Channel, { wire, scaling }: Form & { kind: "real" }, bits: string, scope: Scope): string[] {
  const { member, pattern, health } = channel;
  const all = patternLiteral(wire === "REAL" ? 0x7f80_0000n : 0x7ff0_0000_0000_0000n, pattern);
  const value = scope.variable("value", wire);
  const valid = scope.variable("valid", "BOOL");
  const target = `data.${member}`;
  const read = [
    `${valid} := (${bits} AND ${all}) <> ${all};`,
    `${value} := ${scope.helper(wire === "REAL" ? "ToReal" : "ToLreal")}(${bits});`,
    ...(health ? healthLines(channel, value, valid) : []),
  ];
  if (!scaling) return [...read, `${target} := ${value};`];
  const { type, first, limits } = scaling;
  const x = scope.variable("value", type);
  const lines = [
    ...(x === value ? [] : [`${x} := ${converted(value, wire, type)};`]),
    ...(limits ? [`${x} := ${limited(x, realLiteral(limits[0]), realLiteral(limits[1]))};`] : []),
    ...chosen(
      first,
      x,
      ({ at }) => realLiteral(at),
      (line) => `${x} := ${realLine(line, x)};`,
    ),
    ...rootLines(scaling, x),
    `${target} := ${x};`,
  ];
  return [...read, ...onlyIf(valid, lines, `${target} := 0.0;`)];
}

function onlyIf(valid: string, lines: readonly string[], otherwise: string): string[] {
  return [`IF ${valid} THEN`, ...indent(lines), "ELSE", ...indent([otherwise]), "END_IF;"];
}
