/**
 * Codes: how bits stand for counts. A code turns an unsigned pattern into counts and back.
 * Sources: two's complement and unsigned as in IEC 61131-3; BCD as its table 22; IEEE 754 reals; offset binary and
 * sign-magnitude as in the usual converter tables (common practice).
 */
import { shown } from "../problem.js";
import { float32Of, float64Of, patternOfFloat32, patternOfFloat64 } from "./real.js";
import { type IntegerCode, widestNumber } from "./types.js";

/** A code of one width. Patterns and counts are `bigint` beyond 53 bits, `number` up to there; a real is a `number`. */
export interface Code {
  readonly name: IntegerCode | "real";
  readonly bits: number;
  /** Smallest and largest counts. */
  readonly min: number | bigint;
  readonly max: number | bigint;
  /**
   * Counts of a pattern. BCD with a nibble above 9 is NaN, sign-magnitude with nothing but its sign is −0; both are
   * `number` at any width, as no `bigint` can say them.
   */
  readonly toCounts: (pattern: number | bigint) => number | bigint;
  /** Of the codes that are a shift of the number line: counts are `(pattern ^ flip) + min`, pattern is `(counts - min) ^ flip`. */
  readonly flip?: number | bigint;
  /** Pattern of counts that are known to be in range. */
  readonly toPattern: (counts: number | bigint) => number | bigint;
}

const codes = new Map<string, Code>();

/** The code for so many bits: 1 to 64, for a real 32 or 64. */
export function codeOf(name: Code["name"], bits: number): Code {
  const key = name + bits;
  const code = codes.get(key) ?? makeCode(name, bits);
  codes.set(key, code);
  return code;
}

function makeCode(name: Code["name"], bits: number): Code {
  const wide = bits > widestNumber;
  // The formulas are the same for number and bigint; they are written once, and `as number` stands for either.
  const cast = (wide ? BigInt : Number) as (text: string | number) => number;
  const full = (wide ? 1n << BigInt(bits) : 2 ** bits) as number;
  const half = full / cast(2);
  const one = cast(1);
  type Way = (from: number) => number;
  const code = (min: number, max: number, toCounts: Way, toPattern: Way, flip?: number) =>
    ({ name, bits, min, max, toCounts, toPattern, flip }) as Code;
  const shifted = (min: number, flip: number): Code => {
    // What `^ flip` does, for a bit of any weight that is the highest there is.
    const turned: Way = (u) => (u < flip ? u + flip : u - flip);
    return code(
      min,
      min + full - one,
      (u) => turned(u) + min,
      (n) => turned(n - min),
      flip,
    );
  };
  switch (name) {
    case "unsigned":
      return shifted(cast(0), cast(0));
    case "twosComplement":
      return shifted(-half, half);
    case "offsetBinary":
      return shifted(-half, cast(0));
    case "signMagnitude":
      return code(
        one - half,
        half - one,
        (u) => (u > half ? half - u : u === half ? -0 : u),
        (n) => (Object.is(n, -0) ? half : n < 0 ? half - n : n),
      );
    case "bcd": {
      // The top digit of a width that is no multiple of four has fewer bits and so a smaller largest digit.
      const top = bits % 4 ? Math.min(9, 2 ** (bits % 4) - 1) : 9;
      const most = cast(top + "9".repeat(Math.ceil(bits / 4) - 1));
      return code(
        cast(0),
        most,
        (u) => (/[a-f]/.test(u.toString(16)) ? Number.NaN : cast(u.toString(16))),
        (n) => cast(`0x${n}`),
      );
    }
    case "real": {
      const most = wide ? Number.MAX_VALUE : (2 - 2 ** -23) * 2 ** 127;
      return wide
        ? code(-most, most, float64Of as never, patternOfFloat64 as never)
        : code(-most, most, float32Of, patternOfFloat32);
    }
  }
}

/** What is wrong with counts for a code, or null: the integer check and the range check, always both. */
export function countsProblem(counts: unknown, { name, bits, min, max }: Code): string | null {
  const real = name === "real";
  // What rounds to the largest binary32 is no overflow, though it is above it.
  if (real && Number.isFinite(bits === 32 ? Math.fround(counts as number) : counts)) return null;
  const bigint = !real && bits > widestNumber;
  if (bigint && name === "signMagnitude" && Object.is(counts, -0)) return null;
  const whole = bigint ? typeof counts === "bigint" : Number.isInteger(counts);
  if (!real && whole && (counts as number) >= min && (counts as number) <= max) return null;
  return `must be a ${bigint ? "bigint" : real ? "number" : "whole number"} from ${min} to ${max}, not ${shown(counts)}`;
}
