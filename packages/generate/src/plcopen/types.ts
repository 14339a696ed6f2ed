/** Elementary types of IEC 61131-3 for points: of what lies at an address, and of the value that it stands for. */
import { numberOf, type PlacedPoint } from "byterail";

const signed = { 8: "SINT", 16: "INT", 32: "DINT", 64: "LINT" } as const;
const unsigned = { 8: "USINT", 16: "UINT", 32: "UDINT", 64: "ULINT" } as const;
const bitStrings = { 8: "BYTE", 16: "WORD", 32: "DWORD", 64: "LWORD" } as const;
const reals = { 32: "REAL", 64: "LREAL" } as const;

/** What lies at the address of a point. A code other than plain binary is a bit string: no arithmetic should take it for a number. */
export function locatedType({ kind, bits, code }: PlacedPoint): string {
  if (kind === "boolean") return "BOOL";
  if (kind === "real") return reals[bits as 32];
  if (code === "twosComplement") return signed[bits as 8];
  return code === "unsigned" ? unsigned[bits as 8] : bitStrings[bits as 8];
}

/** Type of the value: of a scaled point the real given, else the narrowest that holds all counts. */
export function valueType(point: PlacedPoint, real: "REAL" | "LREAL"): string {
  const { kind, bits, code } = point;
  if (kind === "boolean") return "BOOL";
  if (kind === "real") return reals[bits as 32];
  if (numberOf(point)?.scale) return real;
  const width = bits <= 8 ? 8 : bits <= 16 ? 16 : bits <= 32 ? 32 : 64;
  return code === "unsigned" || code === "bcd" ? unsigned[width] : signed[width];
}
