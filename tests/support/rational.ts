// Exact arithmetic to judge floating point by: fractions of bigints, written apart from the library's own.

/** An exact fraction; `over` is above 0. */
export interface Rational {
  readonly top: bigint;
  readonly over: bigint;
}

export function rational(top: bigint, over = 1n): Rational {
  return over < 0n ? { top: -top, over: -over } : { top, over };
}

export function minus(a: Rational, b: Rational): Rational {
  return rational(a.top * b.over - b.top * a.over, a.over * b.over);
}

/** −1, 0 or 1 as a is below, equal to or above b. */
export function compare(a: Rational, b: Rational): number {
  const difference = a.top * b.over - b.top * a.over;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** The value of the line through two points, exactly. */
export function onLine(
  counts: bigint,
  [n0, n1]: readonly [bigint, bigint],
  [v0, v1]: readonly [Rational, Rational],
): Rational {
  const rise = minus(v1, v0);
  // v0 + (counts − n0)·rise / (n1 − n0)
  const step = rational((counts - n0) * rise.top, rise.over * (n1 - n0));
  return rational(v0.top * step.over + step.top * v0.over, v0.over * step.over);
}

/** The exact value of a finite double, from its bits (IEEE 754 binary64). */
export function exactly(x: number): Rational {
  const bits = bitsOf(x);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const fraction = bits & 0xf_ffff_ffff_ffffn;
  const significand = exponent === 0 ? fraction : fraction | (1n << 52n);
  const power = BigInt(Math.max(exponent, 1) - 1075);
  const size = power >= 0n ? rational(significand << power) : rational(significand, 1n << -power);
  return bits >> 63n ? rational(-size.top, size.over) : size;
}

/** Whether no double lies nearer to the exact value than x. */
export function isNearest(x: number, exact: Rational): boolean {
  const distance = (double: number) => {
    const { top, over } = minus(exactly(double), exact);
    return rational(top < 0n ? -top : top, over);
  };
  return [neighbour(x, 1n), neighbour(x, -1n)].every((other) => compare(distance(x), distance(other)) <= 0);
}

// The next double away from zero (1) or towards it (−1); of zero, the smallest ones.
function neighbour(x: number, step: bigint): number {
  if (x === 0) return Number(step) * 5e-324;
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, bitsOf(x) + step);
  return view.getFloat64(0);
}

function bitsOf(x: number): bigint {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  return view.getBigUint64(0);
}
