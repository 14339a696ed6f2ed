/**
 * Numbers of a description are read as the decimals that they print as: 0.1 means one tenth, not the double beside it.
 * That makes ratios of them exact, in integers.
 */
import { fail } from "../problem.js";

/** An exact fraction, `over` above 0, in lowest terms or not. */
export interface Fraction {
  readonly top: bigint;
  readonly over: bigint;
}

/** The decimal that a number prints as, as a fraction over a power of ten. Throws `scale.span` for what is no number. */
export function decimal(value: number): Fraction {
  if (!Number.isFinite(value)) fail("scale.span", "scale", `${value} is no end of a span`);
  if (Number.isSafeInteger(value)) return { top: BigInt(value), over: 1n };
  const [digits, exponent] = String(value).split("e") as [string, string?];
  const [whole, part = ""] = digits.split(".") as [string, string?];
  const power = Number(exponent ?? 0) - part.length;
  const top = BigInt(whole + part);
  return power >= 0 ? { top: top * 10n ** BigInt(power), over: 1n } : { top, over: 10n ** BigInt(-power) };
}

/** Greatest common divisor; 0 with 0 is 0. */
export function gcd(a: bigint, b: bigint): bigint {
  let [x, y] = [abs(a), abs(b)];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

/** Absolute value. */
export function abs(a: bigint): bigint {
  return a < 0n ? -a : a;
}
