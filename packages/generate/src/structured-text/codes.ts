/** Codes: from a pattern to counts and back, in operations that every controller has. */
import type { PlacedPoint } from "byterail";
import { indent } from "../snippet.js";
import type { Channel } from "./channel.js";
import { maskOf, onesAbove, signBit } from "./elements.js";
import type { Scope } from "./scope.js";
import { converted, patternLiteral, widthOf } from "./types.js";

/** Whether the counts of a channel are its pattern taken as a number, with nothing more to do. */
export function isPlain({ point, pattern }: Channel): boolean {
  return point.code === "unsigned" || (point.code === "twosComplement" && point.bits === widthOf(pattern));
}

/** Counts from a pattern. A BCD pattern with a nibble above 9 gives 0 and sets `valid` to FALSE. */
export function countsFrom(bits: string, counts: string, channel: Channel, scope: Scope): string[] {
  const { point, pattern, counts: type } = channel;
  const sign = signBit(point.bits, pattern);
  const asCounts = (expression: string) => `${counts} := ${converted(expression, pattern, type)};`;
  const isNegative = `(${bits} AND ${sign}) <> ${patternLiteral(0n, pattern)}`;
  const extended =
    point.bits === widthOf(pattern)
      ? []
      : [`IF ${isNegative} THEN`, `  ${bits} := ${bits} OR ${onesAbove(point.bits, pattern)};`, "END_IF;"];
  switch (point.code!) {
    case "unsigned":
      return [asCounts(bits)];
    case "twosComplement":
      return [...extended, asCounts(bits)];
    case "offsetBinary":
      // The offset is half the range: with its highest bit turned over the pattern is two's complement.
      return [`${bits} := ${bits} XOR ${sign};`, ...extended, asCounts(bits)];
    case "signMagnitude":
      return [
        asCounts(
          point.bits === 1
            ? `${bits} AND ${patternLiteral(0n, pattern)}`
            : `${bits} AND ${maskOf(point.bits - 1, pattern)}`,
        ),
        `IF ${isNegative} THEN`,
        `  ${counts} := -${counts};`,
        "END_IF;",
      ];
    case "bcd": {
      const [index, digit, valid] = [
        scope.variable("index", "INT"),
        scope.variable("digit", type),
        scope.variable("valid", "BOOL"),
      ];
      const nibble = `SHR(${bits}, 4 * ${index}) AND ${maskOf(4, pattern)}`;
      return [
        `${counts} := 0;`,
        `${valid} := TRUE;`,
        `FOR ${index} := ${digitsOf(point) - 1} TO 0 BY -1 DO`,
        ...indent([
          `${digit} := ${converted(nibble, pattern, type)};`,
          `IF ${digit} > 9 THEN`,
          `  ${valid} := FALSE;`,
          "END_IF;",
          `${counts} := 10 * ${counts} + ${digit};`,
        ]),
        "END_FOR;",
        `IF NOT ${valid} THEN`,
        `  ${counts} := 0;`,
        "END_IF;",
      ];
    }
  }
}

/** The pattern of counts that are known to be in range. */
export function patternFrom(counts: string, bits: string, channel: Channel, scope: Scope): string[] {
  const { point, pattern, counts: type } = channel;
  const asPattern = converted(counts, type, pattern);
  const sign = signBit(point.bits, pattern);
  const cut = point.bits === widthOf(pattern) ? asPattern : `${asPattern} AND ${maskOf(point.bits, pattern)}`;
  switch (point.code!) {
    case "unsigned":
      return [`${bits} := ${asPattern};`];
    case "twosComplement":
      return [`${bits} := ${cut};`];
    case "offsetBinary":
      return [`${bits} := ${cut === asPattern ? cut : `(${cut})`} XOR ${sign};`];
    case "signMagnitude":
      return [
        `IF ${counts} < 0 THEN`,
        `  ${bits} := ${converted(`-${counts}`, type, pattern)} OR ${sign};`,
        "ELSE",
        `  ${bits} := ${asPattern};`,
        "END_IF;",
      ];
    case "bcd": {
      const index = scope.variable("index", "INT");
      return [
        `${bits} := ${patternLiteral(0n, pattern)};`,
        `FOR ${index} := 0 TO ${digitsOf(point) - 1} DO`,
        `  ${bits} := ${bits} OR SHL(${converted(`${counts} MOD 10`, type, pattern)}, 4 * ${index});`,
        `  ${counts} := ${counts} / 10;`,
        "END_FOR;",
      ];
    }
  }
}

function digitsOf({ bits }: PlacedPoint): number {
  return Math.ceil(bits / 4);
}
