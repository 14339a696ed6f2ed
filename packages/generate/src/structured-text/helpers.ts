/** Functions that the generated file declares for itself, as the standard has none that do this portably. */
import { indent } from "../snippet.js";
import { comment } from "./comment.js";
import type { Helper } from "./scope.js";
import { patternLiteral, type Real } from "./types.js";

/** The text of a helper. */
export function helperLines(helper: Helper, prefix: string): string[] {
  const name = `${prefix}_${helper}`;
  if (helper === "DivideDint" || helper === "DivideLint")
    return divide(name, helper === "DivideDint" ? "DINT" : "LINT");
  const format = helper.endsWith("Lreal") ? double : single;
  return helper.startsWith("To") ? toReal(name, format) : fromReal(name, format);
}

/** A binary format of IEC 60559. */
interface Format {
  readonly real: Real;
  readonly bits: "DWORD" | "LWORD";
  readonly integer: "UDINT" | "ULINT";
  readonly fraction: number;
  readonly exponent: number;
}

const single: Format = { real: "REAL", bits: "DWORD", integer: "UDINT", fraction: 23, exponent: 8 };
const double: Format = { real: "LREAL", bits: "LWORD", integer: "ULINT", fraction: 52, exponent: 11 };

// Integer division cuts towards zero (IEC 61131-3, table 24), so the rest has the sign of the number.
function divide(name: string, type: "DINT" | "LINT"): string[] {
  return [
    comment("number / divisor to the nearest whole number, ties to even; the divisor is above 0."),
    `FUNCTION ${name} : ${type}`,
    ...variables("VAR_INPUT", [
      ["number", type],
      ["divisor", type],
    ]),
    ...variables("VAR", [
      ["quotient", type],
      ["rest", type],
    ]),
    ...indent([
      "quotient := number / divisor;",
      "rest := ABS(number - quotient * divisor);",
      "IF rest > divisor - rest OR (rest = divisor - rest AND quotient MOD 2 <> 0) THEN",
      "  IF number < 0 THEN",
      "    quotient := quotient - 1;",
      "  ELSE",
      "    quotient := quotient + 1;",
      "  END_IF;",
      "END_IF;",
      `${name} := quotient;`,
    ]),
    "END_FUNCTION",
  ];
}

// The power of two that the fraction is multiplied by is 2^(exponent − bias − fraction bits).
function toReal(name: string, { real, bits, integer, fraction, exponent }: Format): string[] {
  const unit = biasOf(exponent) + fraction;
  return [
    comment(
      `The value of an IEC 60559 pattern. The standard has no portable conversion from ${bits} to ${real} that keeps the bits,`,
    ),
    comment("so it is put together; every step is exact. An infinity or a NaN, which have no portable form, give 0."),
    comment(roundsRemark({ exponent, fraction })),
    `FUNCTION ${name} : ${real}`,
    ...variables("VAR_INPUT", [["pattern", bits]]),
    ...variables("VAR", [
      ["size", real],
      ["exponent", integer],
    ]),
    ...indent([
      `exponent := ${bits}_TO_${integer}(SHR(pattern, ${fraction}) AND ${mask(exponent, bits)});`,
      `size := ${integer}_TO_${real}(${bits}_TO_${integer}(pattern AND ${mask(fraction, bits)}));`,
      `IF exponent = ${2 ** exponent - 1} THEN`,
      "  size := 0.0;",
      `  exponent := ${unit};`,
      "ELSIF exponent = 0 THEN",
      "  exponent := 1;",
      "ELSE",
      `  size := size + ${2 ** fraction}.0;`,
      "END_IF;",
      `WHILE exponent > ${unit} DO`,
      "  size := size * 2.0;",
      "  exponent := exponent - 1;",
      "END_WHILE;",
      `WHILE exponent < ${unit} DO`,
      "  size := size * 0.5;",
      "  exponent := exponent + 1;",
      "END_WHILE;",
      `IF (pattern AND ${sign(bits)}) <> ${patternLiteral(0n, bits)} THEN`,
      "  size := -size;",
      "END_IF;",
      `${name} := size;`,
    ]),
    "END_FUNCTION",
  ];
}

function fromReal(name: string, { real, bits, integer, fraction, exponent }: Format): string[] {
  const unit = biasOf(exponent) + fraction;
  const hidden = `${2 ** fraction}.0`;
  return [
    comment("The IEC 60559 pattern of a finite value; every step is exact. The sign of -0 is lost."),
    comment(roundsRemark({ exponent, fraction })),
    `FUNCTION ${name} : ${bits}`,
    ...variables("VAR_INPUT", [["value", real]]),
    ...variables("VAR", [
      ["size", real],
      ["exponent", integer],
      ["pattern", bits],
    ]),
    ...indent([
      "size := ABS(value);",
      `exponent := ${unit};`,
      `WHILE size < ${hidden} AND exponent > 1 DO`,
      "  size := size * 2.0;",
      "  exponent := exponent - 1;",
      "END_WHILE;",
      `WHILE size >= ${2 ** (fraction + 1)}.0 DO`,
      "  size := size * 0.5;",
      "  exponent := exponent + 1;",
      "END_WHILE;",
      `IF size < ${hidden} THEN`,
      "  exponent := 0;",
      "END_IF;",
      `pattern := SHL(${integer}_TO_${bits}(exponent), ${fraction}) OR (${integer}_TO_${bits}(${real}_TO_${integer}(size)) AND ${mask(fraction, bits)});`,
      "IF value < 0.0 THEN",
      `  pattern := pattern OR ${sign(bits)};`,
      "END_IF;",
      `${name} := pattern;`,
    ]),
    "END_FUNCTION",
  ];
}

function roundsRemark({ exponent, fraction }: Pick<Format, "exponent" | "fraction">): string {
  return `The loops take ${fraction} rounds for a value of 1, one more for each halving, at most ${biasOf(exponent) + fraction - 1}.`;
}

function variables(section: "VAR" | "VAR_INPUT", list: readonly (readonly [name: string, type: string])[]): string[] {
  return [section, ...indent(list.map(([name, type]) => `${name} : ${type};`)), "END_VAR"];
}

function biasOf(exponent: number): number {
  return 2 ** (exponent - 1) - 1;
}

function mask(bits: number, type: "DWORD" | "LWORD"): string {
  return patternLiteral((1n << BigInt(bits)) - 1n, type);
}

function sign(type: "DWORD" | "LWORD"): string {
  return patternLiteral(type === "DWORD" ? 1n << 31n : 1n << 63n, type);
}
