// Standard functions of IEC 61131-3, tables 22 to 27. Strict: out of range, a shift beyond the width, a NaN are errors.

import { asReal, inRange, isBits, isInteger, isReal, type Value, widthOf } from "./types.js";

/** A function for given argument types: its result type and what it does. Arguments of one type are `same`. */
export interface Standard {
  readonly returns: string;
  readonly run: (list: readonly Value[]) => Value;
}

/** How the arguments of a function get the type of a literal: all from one another, or a whole number for the second. */
export function argumentRule(name: string): "same" | "shift" | string {
  if (/^(shl|shr|rol|ror)$/.test(name)) return "shift";
  const conversion = /^([a-z]+)(?:_bcd)?_to_(?:bcd_)?[a-z]+$/.exec(name);
  return conversion ? conversion[1]!.toUpperCase() : "same";
}

/** The function of a name for arguments of these types, or null. */
export function standardFunction(name: string, types: readonly string[]): Standard | null {
  const [type = ""] = types;
  if (argumentRule(name) === "shift")
    return types.length === 2 && isBits(type) && isInteger(types[1]!) ? shift(name, type) : null;
  const toBcd = /^([a-z]+)_to_bcd_([a-z]+)$/.exec(name);
  if (toBcd)
    return { returns: toBcd[2]!.toUpperCase(), run: ([n]) => inRange(BigInt(`0x${n}`), toBcd[2]!.toUpperCase()) };
  const fromBcd = /^([a-z]+)_bcd_to_([a-z]+)$/.exec(name);
  if (fromBcd)
    return {
      returns: fromBcd[2]!.toUpperCase(),
      run: ([n]) => inRange(BigInt((n as bigint).toString(16)), fromBcd[2]!.toUpperCase()),
    };
  const conversion = /^([a-z]+)_to_([a-z]+)$/.exec(name);
  if (conversion) return conversionOf(conversion[1]!.toUpperCase(), conversion[2]!.toUpperCase());
  if (types.some((other) => other !== type)) return null;
  switch (name) {
    case "abs":
      return isInteger(type) || isReal(type)
        ? {
            returns: type,
            run: ([x]) =>
              isReal(type) ? Math.abs(x as number) : inRange((x as bigint) < 0n ? -(x as bigint) : (x as bigint), type),
          }
        : null;
    case "sqrt":
      return isReal(type) ? { returns: type, run: ([x]) => root(x as number, type) } : null;
    case "limit":
      return types.length === 3 ? { returns: type, run: ([low, x, high]) => limit(low!, x!, high!) } : null;
    default:
      return null;
  }
}

function root(x: number, type: string): number {
  if (!(x >= 0)) throw new RangeError(`the root of ${x}`);
  return asReal(Math.sqrt(x), type);
}

function limit(low: Value, x: Value, high: Value): Value {
  if (Number.isNaN(x)) throw new RangeError("LIMIT of a NaN");
  if (low > high) throw new RangeError(`LIMIT from ${low} to ${high}`);
  return x < low ? low : x > high ? high : x;
}

function shift(name: string, type: string): Standard {
  const width = BigInt(widthOf(type));
  const all = (1n << width) - 1n;
  const moves: Record<string, (x: bigint, n: bigint) => bigint> = {
    shl: (x, n) => (x << n) & all,
    shr: (x, n) => x >> n,
    rol: (x, n) => ((x << n) | (x >> (width - n))) & all,
    ror: (x, n) => ((x >> n) | (x << (width - n))) & all,
  };
  const move = moves[name]!;
  return {
    returns: type,
    run: ([x, n]) => {
      if ((n as bigint) < 0n || (n as bigint) >= width) throw new RangeError(`a shift of ${type} by ${n}`);
      return move(x as bigint, n as bigint);
    },
  };
}

function conversionOf(from: string, to: string): Standard | null {
  const whole = (type: string) => isInteger(type) || isBits(type);
  if (whole(from) && whole(to)) {
    // Between a number and a bit string the bits are moved as they are, so the widths must be equal.
    if (isBits(from) !== isBits(to) && widthOf(from) !== widthOf(to)) return null;
    const width = widthOf(to);
    if (isBits(from) && isInteger(to))
      return { returns: to, run: ([x]) => (to.startsWith("U") ? x! : BigInt.asIntN(width, x as bigint)) };
    if (isInteger(from) && isBits(to)) return { returns: to, run: ([x]) => BigInt.asUintN(width, x as bigint) };
    return { returns: to, run: ([x]) => inRange(x as bigint, to) };
  }
  if (isInteger(from) && isReal(to)) return { returns: to, run: ([x]) => asReal(Number(x), to) };
  if (isReal(from) && isInteger(to)) return { returns: to, run: ([x]) => inRange(nearest(x as number), to) };
  if (isReal(from) && isReal(to)) return { returns: to, run: ([x]) => asReal(x as number, to) };
  return null;
}

// To the nearest, ties to even.
function nearest(x: number): bigint {
  if (!Number.isFinite(x)) throw new RangeError(`${x} is no whole number`);
  const floor = BigInt(Math.floor(x));
  const part = x - Math.floor(x);
  return part > 0.5 || (part === 0.5 && floor % 2n !== 0n) ? floor + 1n : floor;
}
