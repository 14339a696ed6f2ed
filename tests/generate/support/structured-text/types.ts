// Elementary types and their values: BOOL as boolean, whole numbers and bit strings as bigint, reals as number.

export type Value = boolean | bigint | number;

export function isInteger(type: string): boolean {
  return type.endsWith("INT");
}

export function isBits(type: string): boolean {
  return type === "BYTE" || type.endsWith("WORD");
}

export function isReal(type: string): boolean {
  return type.endsWith("REAL");
}

const widths: Readonly<Record<string, number>> = {
  ...{
    BYTE: 8,
    WORD: 16,
    DWORD: 32,
    LWORD: 64,
    SINT: 8,
    INT: 16,
    DINT: 32,
    LINT: 64,
    USINT: 8,
    UINT: 16,
    UDINT: 32,
    ULINT: 64,
  },
};

/** Width of an integer or a bit string. */
export function widthOf(type: string): number {
  const width = widths[type];
  if (width === undefined) throw new Error(`${type} has no width`);
  return width;
}

/** A whole number as a type holds it: an error where it does not. */
export function inRange(value: bigint, type: string): bigint {
  const width = BigInt(widthOf(type));
  const signed = isInteger(type) && !type.startsWith("U");
  const [low, high] = signed ? [-(1n << (width - 1n)), (1n << (width - 1n)) - 1n] : [0n, (1n << width) - 1n];
  if (value < low || value > high) throw new RangeError(`${value} overflows ${type}`);
  return value;
}

/** The result of an operation on reals, rounded to the type: an error where it is not finite. */
export function asReal(value: number, type: string): number {
  const rounded = type === "REAL" ? Math.fround(value) : value;
  if (!Number.isFinite(rounded)) throw new RangeError(`${value} overflows ${type}`);
  return rounded;
}

/** The value that a variable has before anything is assigned. */
export function initial(type: string): Value {
  return type === "BOOL" ? false : isReal(type) ? 0 : 0n;
}
