/** Reading a point: from the bytes of the image to its counts, as an expression of shifts. */
import { codeOfPoint, type PlacedPoint } from "byterail";
import { bracketed, literal, mask } from "./text.js";

/** The counts of a number, the number of a real, or a boolean, as an expression over `bytes`. */
export function countsExpression(point: PlacedPoint): string {
  const { positions, low, bits, kind, code } = point;
  const run = positions.slice(low >> 3, ((low + bits - 1) >> 3) + 1);
  const shift = low & 7;
  if (kind === "boolean") return `(bytes[${run[0]}]! & ${mask(1, shift)}) !== 0`;
  if (kind === "real")
    return bits === 32 ? `float32(${word(run)})` : `float64(${word(run.slice(4))}, ${word(run.slice(0, 4))})`;
  if (bits > 53) return wideCounts(point, run, shift);
  if (code === "twosComplement") return signedCounts(run, shift, bits);
  const pattern = unsignedPattern(run, shift, bits);
  const half = 2 ** (bits - 1);
  if (code === "offsetBinary") return `${bracketed(pattern)} - ${half}`;
  if (code === "signMagnitude") return `fromSignMagnitude(${pattern}, ${half})`;
  return code === "bcd" ? `fromBcd(${pattern})` : pattern;
}

// Up to four bytes as one 32-bit integer, least significant first; `up` moves all of them towards the sign.
function word(run: readonly number[], up = 0): string {
  const parts = run.map((position, k) => {
    const by = 8 * k + up;
    return by === 0 ? `bytes[${position}]!` : `(bytes[${position}]! << ${by})`;
  });
  const text = parts.reverse().join(" | ");
  return parts.length === 1 ? text.replace(/^\((.*)\)$/, "$1") : text;
}

function unsignedPattern(run: readonly number[], shift: number, bits: number): string {
  if (run.length > 4) return longPattern(run, shift, bits, "unsigned");
  const whole = word(run);
  const toEnd = shift + bits === 8 * run.length;
  if (shift === 0) {
    if (!toEnd) return `${bracketed(whole)} & ${mask(bits)}`;
    return run.length === 4 ? `(${whole}) >>> 0` : whole;
  }
  const shifted = `${bracketed(whole)} ${run.length === 4 ? ">>>" : ">>"} ${shift}`;
  return toEnd ? shifted : `(${shifted}) & ${mask(bits)}`;
}

function signedCounts(run: readonly number[], shift: number, bits: number): string {
  if (run.length > 4) return longPattern(run, shift, bits, "signed");
  // The sign bit is moved to bit 31, and back with its copies.
  const moved = word(run, 32 - shift - bits);
  return bits === 32 ? moved : `(${moved}) >> ${32 - bits}`;
}

// Up to 53 bits in five bytes or more: the first four give the low bits, the others count in steps of 2^(32 − shift).
function longPattern(run: readonly number[], shift: number, bits: number, sign: "signed" | "unsigned"): string {
  const lower = 32 - shift;
  const [low, high] = [`((${word(run.slice(0, 4))}) >>> ${shift})`, run.slice(4)];
  const rest = sign === "signed" ? signedCounts(high, 0, bits - lower) : unsignedPattern(high, 0, bits - lower);
  return `${bracketed(rest)} * ${2 ** lower} + ${low}`;
}

// 54 to 64 bits: two 32-bit halves of the pattern make a bigint.
function wideCounts({ code, bits }: PlacedPoint, run: readonly number[], shift: number): string {
  const [w0, w1, w2] = [word(run.slice(0, 4)), word(run.slice(4, 8)), run.length > 8 ? word(run.slice(8)) : null];
  const up = 32 - shift;
  const low = shift === 0 ? w0 : `((${w0}) >>> ${shift}) | (${bracketed(w1)} << ${up})`;
  const upper = shift === 0 ? w1 : `(${bracketed(w1)} >>> ${shift})${w2 ? ` | (${bracketed(w2)} << ${up})` : ""}`;
  const spare = 64 - bits;
  if (code === "twosComplement")
    return `int64(${spare === 0 ? upper : `(${bracketed(upper)} << ${spare}) >> ${spare}`}, ${low})`;
  const pattern = `uint64(${spare === 0 ? upper : `${bracketed(upper)} & ${mask(bits - 32)}`}, ${low})`;
  const half = literal(1n << BigInt(bits - 1));
  if (code === "offsetBinary") return `${pattern} - ${half}`;
  if (code === "signMagnitude") return `fromSignMagnitude64(${pattern}, ${half})`;
  return code === "bcd" ? `fromBcd64(${pattern})` : pattern;
}

/** The initial value of a point of that kind, as a literal. */
export function zeroOf(point: PlacedPoint): string {
  if (point.kind === "boolean") return "false";
  return isWide(point) ? "0n" : "0";
}

/** The type of the value of a point. */
export function typeOf(point: PlacedPoint): string {
  if (point.kind === "boolean") return "boolean";
  if (!isWide(point)) return "number";
  // −0 of sign-magnitude and NaN of BCD are numbers at any width, as no bigint can say them.
  return point.code === "signMagnitude" || point.code === "bcd" ? "bigint | number" : "bigint";
}

/** Whether the counts of a point are a `bigint`. */
export function isWide(point: PlacedPoint): boolean {
  return typeof codeOfPoint(point)?.max === "bigint";
}
