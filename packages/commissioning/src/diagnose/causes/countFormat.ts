/** Another count format: signed read as unsigned or the reverse, another code, an integer read as a real or the reverse. */
import type { CountsCode, IntegerCode, NumberField, NumberPoint, NumberType } from "byterail";
import type { Cause } from "../hypothesis.js";
import { otherwise, suspectNumbers } from "../point.js";

const codes: readonly IntegerCode[] = ["unsigned", "twosComplement", "offsetBinary", "signMagnitude", "bcd"];

export const countFormat: Cause = function* (base) {
  for (const suspect of suspectNumbers(base)) {
    const { number, point } = suspect;
    const now = point.code;
    for (const code of codes) {
      if (code === now || (!now && !isPlain(code))) continue;
      const sign = isPlain(code) && isPlain(now);
      const says = `The counts of ${point.name} are ${names[code]}, not ${now ? names[now] : "IEEE 754"}.`;
      yield otherwise(
        base,
        suspect,
        sign ? "sign" : "countFormat",
        sign ? 2 : 3,
        says,
        coded(number, code, point.bits),
        { code, kind: "integer" },
      );
    }
    if (now && point.type !== "field" && (point.bits === 32 || point.bits === 64)) {
      const { code: _, ...rest } = number as NumberPoint;
      const entry: NumberPoint = { ...rest, type: `float${point.bits}` };
      yield otherwise(base, suspect, "countFormat", 3, `${point.name} is an IEEE 754 real, not ${names[now]}.`, entry, {
        code: null,
        kind: "real",
      });
    }
  }
};

const names: Readonly<Record<IntegerCode, string>> = {
  unsigned: "unsigned",
  twosComplement: "signed (two's complement)",
  offsetBinary: "offset binary",
  signMagnitude: "sign and magnitude",
  bcd: "BCD",
};

function isPlain(code: IntegerCode | null): boolean {
  return code === "unsigned" || code === "twosComplement";
}

function coded(number: NumberPoint | NumberField, code: IntegerCode, bits: number): NumberPoint | NumberField {
  const { code: _, ...rest } = number;
  const more = isPlain(code) ? {} : { code: code as CountsCode };
  if ("shift" in rest) {
    const { signed: __, ...field } = rest;
    return { ...field, ...(code === "twosComplement" ? { signed: true } : more) };
  }
  const unsigned = code === "unsigned" || code === "bcd";
  return { ...rest, type: `${unsigned ? "u" : ""}int${bits}` as NumberType, ...more } as NumberPoint;
}
