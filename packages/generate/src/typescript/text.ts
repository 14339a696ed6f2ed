/** Literals, comments and line breaks of TypeScript. Whatever comes from a description passes through here. */
import { indent, oneLine } from "../snippet.js";

/** Lines longer than this are broken where a list allows it. */
export const lineWidth = 120;

/** A number or bigint as a literal, −0 included. */
export function literal(value: number | bigint): string {
  if (typeof value === "bigint") return `${value}n`;
  return Object.is(value, -0) ? "-0" : String(value).replace("e+", "e");
}

/** A bit mask as a literal. */
export function mask(bits: number, shift = 0): string {
  return `0x${((2 ** bits - 1) * 2 ** shift).toString(16).padStart(2, "0")}`;
}

/** Free text as a string literal. */
export function stringLiteral(text: string): string {
  return JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, escaped);
}

/** Free text for a comment: it can neither end the comment nor be taken for a directive or a tag. */
export function commentText(text: string): string {
  return oneLine(text)
    .replaceAll("*/", "* /")
    .replace(/@(?=[\p{L}_])/gu, "@ ");
}

/** A list between two signs: on one line where it fits, else one item a line. */
export function listed(open: string, items: readonly string[], close: string, separator = ","): string[] {
  const pad = open.endsWith("{") ? " " : "";
  const line = `${open}${pad}${items.join(`${separator} `)}${pad}${close}`;
  if (items.length === 0) return [`${open}${close}`];
  return line.length <= lineWidth - 4 ? [line] : [open, ...indent(items.map((item) => item + separator)), close];
}

/** An assignment whose right side is joined by an operator: on one line where it fits, else one operand a line. */
export function joined(left: string, operands: readonly string[], operator: string): string[] {
  const line = `${left} ${operands.join(` ${operator} `)};`;
  if (operands.length === 1 || line.length <= lineWidth - 2) return [line];
  const last = operands.length - 1;
  return [left, ...indent(operands.map((operand, k) => operand + (k === last ? ";" : ` ${operator}`)))];
}

/** An expression in brackets, unless it has them already or needs none: a name, an index, one call. */
export function bracketed(expression: string): string {
  const simple = /^[\w.]*$/.test(expression) || /^bytes\[\d+\]!$/.test(expression);
  return simple || endOfBrackets(expression) === expression.length - 1 ? expression : `(${expression})`;
}

/** An expression without the brackets around the whole of it. */
export function unbracketed(expression: string): string {
  return expression[0] === "(" && endOfBrackets(expression) === expression.length - 1
    ? expression.slice(1, -1)
    : expression;
}

/** A line that is too long, broken at the arguments of its first call; the last sign of the line stays at the end. */
export function brokenCall(line: string): string[] {
  if (line.length <= lineWidth - 6) return [line];
  const open = /\w\(/.exec(line)?.index;
  if (open === undefined) return [line];
  const head = line.slice(0, open + 2);
  const end = open + 1 + endOfBrackets(line.slice(open + 1));
  const items = argumentsOf(line.slice(open + 2, end));
  if (items.length < 2) return [line];
  return [head, ...indent(items.flatMap((item) => brokenCall(`${item},`))), line.slice(end)];
}

// Where the brackets close that a name or the text itself begins with; -1 if they do not.
function endOfBrackets(text: string): number {
  const start = /^[\w.]*\(/.exec(text)?.[0].length;
  if (!start) return -1;
  for (let k = start, depth = 1; k < text.length; k++) {
    if (text[k] === "(") depth++;
    if (text[k] === ")" && --depth === 0) return k;
  }
  return -1;
}

function argumentsOf(text: string): string[] {
  const items = [""];
  let depth = 0;
  for (const char of text) {
    depth += char === "(" ? 1 : char === ")" ? -1 : 0;
    if (char === "," && depth === 0) items.push("");
    else items[items.length - 1] += char;
  }
  return items.map((item) => item.trim());
}

function escaped(char: string): string {
  return `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
