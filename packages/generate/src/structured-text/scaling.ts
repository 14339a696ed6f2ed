/** Lines of a scale as statements, in whole numbers and in reals. */
import type { Line, LinePiece } from "../bit-copies/arithmetic.js";
import { indent } from "../snippet.js";
import type { RealPiece, RealScaling } from "./realScaling.js";
import type { Scope } from "./scope.js";
import { converted, type Elementary, integerLiteral, type Real, realLiteral } from "./types.js";

/** One line as it is, several as IF … ELSIF … ELSE on x. */
export function chosen<P extends LinePiece | RealPiece>(
  pieces: readonly P[],
  x: string,
  border: (at: P["border"] & object) => string,
  statement: (line: Line) => string,
): string[] {
  if (pieces.length === 1) return [statement(pieces[0]!.line)];
  return [
    ...pieces.flatMap((piece, k) => [
      piece.border ? `${k === 0 ? "IF" : "ELSIF"} ${x} ${piece.border.sign} ${border(piece.border)} THEN` : "ELSE",
      ...indent([statement(piece.line)]),
    ]),
    "END_IF;",
  ];
}

/** (multiply · x + add) / divide in whole numbers, rounded ties to even. */
export function wholeLine({ multiply, add, divide }: Line, x: string, type: "DINT" | "LINT", scope: Scope): string {
  const number = numerator({ multiply, add }, x, type);
  if (divide === 1n) return number;
  return `${scope.helper(type === "DINT" ? "DivideDint" : "DivideLint")}(${number}, ${integerLiteral(divide, type)})`;
}

/** multiply · x + add in whole numbers. */
export function numerator({ multiply, add }: Pick<Line, "multiply" | "add">, x: string, type: "DINT" | "LINT"): string {
  const product = multiply === 1n ? x : multiply === -1n ? `-${x}` : `${integerLiteral(multiply, type)} * ${x}`;
  return add === 0n ? product : `${product} ${add < 0n ? "-" : "+"} ${integerLiteral(add < 0n ? -add : add, type)}`;
}

/** (multiply · x + add) / divide in reals, each operation once: in LREAL the very arithmetic of the library. */
export function realLine({ multiply, add, divide }: Line, x: string): string {
  const product = multiply === 1n ? x : multiply === -1n ? `-${x}` : `${realLiteral(multiply)} * ${x}`;
  const sum = add === 0n ? product : `${product} ${add < 0n ? "-" : "+"} ${realLiteral(add < 0n ? -add : add)}`;
  if (divide === 1n) return sum;
  return `${sum === x ? x : add === 0n ? product : `(${sum})`} / ${realLiteral(divide)}`;
}

/** The same with multiply · counts + add in whole numbers, so that REAL loses nothing in a difference. */
export function exactRealLine(line: Line, counts: string, type: "DINT" | "LINT", real: Real): string {
  const number = converted(numerator(line, counts, type), type, real);
  return line.divide === 1n ? number : `${number} / ${realLiteral(line.divide)}`;
}

/** What comes after the first line of a square root. `value` is the variable that holds the result of it. */
export function rootLines({ after }: RealScaling, value: string): string[] {
  if (!after) return [];
  if (after.step === "square")
    return [`${value} := ${value} * ABS(${value});`, `${value} := ${realLine(after.line, value)};`];
  return [
    `IF ${value} < 0.0 THEN`,
    `  ${value} := -SQRT(-${value});`,
    "ELSE",
    `  ${value} := SQRT(${value});`,
    "END_IF;",
    `${value} := ${realLine(after.line, value)};`,
  ];
}

/** An expression kept from low to high. */
export function limited(expression: string, low: string, high: string): string {
  return `LIMIT(${low}, ${expression}, ${high})`;
}

/** An expression kept in a range of whole numbers of a type. */
export function limitedTo(expression: string, [low, high]: readonly [bigint, bigint], type: Elementary): string {
  return limited(expression, integerLiteral(low, type as "LINT"), integerLiteral(high, type as "LINT"));
}
