/** Elementary types of IEC 61131-3, as far as generated text uses them, and its literals. */

/** A bit string, for patterns and elements. */
export type BitString = "BYTE" | "WORD" | "DWORD" | "LWORD";
/** A whole number. */
export type Integer = "SINT" | "INT" | "DINT" | "LINT" | "USINT" | "UINT" | "UDINT" | "ULINT";
/** A floating-point number: IEC 60559 basic single and double width. */
export type Real = "REAL" | "LREAL";

/** A type of a variable or a member. */
export type Elementary = "BOOL" | BitString | Integer | Real;

/** The narrowest bit string for so many bits, 1 to 64. */
export function bitStringFor(bits: number): BitString {
  return bits <= 8 ? "BYTE" : bits <= 16 ? "WORD" : bits <= 32 ? "DWORD" : "LWORD";
}

/** Width of a bit string. */
export function widthOf(type: BitString): 8 | 16 | 32 | 64 {
  return ({ BYTE: 8, WORD: 16, DWORD: 32, LWORD: 64 } as const)[type];
}

/** The integer of the width of a bit string, to and from which a conversion moves the bits as they are. */
export function integerAs(type: BitString, sign: "signed" | "unsigned"): Integer {
  const signed = ({ BYTE: "SINT", WORD: "INT", DWORD: "DINT", LWORD: "LINT" } as const)[type];
  return sign === "signed" ? signed : `U${signed}`;
}

/** Lowest and highest number of an integer type. */
export function rangeOf(type: Integer): readonly [bigint, bigint] {
  const unsigned = type.startsWith("U");
  const bits = { S: 8n, I: 16n, D: 32n, L: 64n }[type.replace("U", "")[0]!]!;
  return unsigned ? [0n, (1n << bits) - 1n] : [-(1n << (bits - 1n)), (1n << (bits - 1n)) - 1n];
}

/** Largest finite number of a real type. */
export const largestReal: Readonly<Record<Real, number>> = { REAL: (2 - 2 ** -23) * 2 ** 127, LREAL: Number.MAX_VALUE };

/** An expression of one type as one of another; the caller knows that it fits. */
export function converted(expression: string, from: Elementary, to: Elementary): string {
  return from === to ? expression : `${from}_TO_${to}(${expression})`;
}

/** A pattern, with as many digits as its type has; 64 bits with the type, as few compilers take them without. */
export function patternLiteral(pattern: bigint, type: BitString): string {
  const digits = pattern
    .toString(16)
    .toUpperCase()
    .padStart(widthOf(type) / 4, "0");
  return type === "LWORD" ? `LWORD#16#${digits}` : `16#${digits}`;
}

/** A whole number; one beyond 32 bits with its type. */
export function integerLiteral(value: bigint, type: Integer): string {
  const plain = value >= -(2n ** 31n) && value < 2n ** 31n;
  return plain ? String(value) : `${type}#${value}`;
}

/** A real number: with a point, as the standard asks, and with the digits that read back as the same double. */
export function realLiteral(value: number | bigint): string {
  const [mantissa, exponent] = String(Number(value)).split("e") as [string, string?];
  const decimal = mantissa.includes(".") ? mantissa : `${mantissa}.0`;
  return exponent === undefined ? decimal : `${decimal}E${exponent}`;
}
