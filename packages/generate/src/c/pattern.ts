/** Bytes ↔ pattern ↔ counts: shifts and masks only, so that the order and the alignment of the host do not matter. */
import { partsOf, type Part } from "../point/parts.js";
import type { Shape } from "./shape.js";
import { hexText } from "./text.js";

/** The two functions that move the pattern of a number between image and integer. */
export function patternFunctions({ point, name, way, patternType: type }: Shape): string[] {
  const parts = partsOf(point);
  const [first, ...others] = parts.map((part) => read(part, type));
  return [
    `static ${type} ${way}_read_${name}(const uint8_t *image)`,
    "{",
    ...(others.length < 2
      ? [`    return ${[first, ...others].join(" | ")};`]
      : [`    return ${first}`, ...others.map((text, k) => `        | ${text}${k === others.length - 1 ? ";" : ""}`)]),
    "}",
    "",
    `static void ${way}_write_${name}(uint8_t *image, ${type} bits)`,
    "{",
    ...parts.map((part) => `    ${write(part)}`),
    "}",
  ];
}

function read({ byte, bit, bits, weight }: Part, type: string): string {
  const whole = `(${type})image[${byte}]`;
  const shifted = bit === 0 ? whole : `(${whole} >> ${bit})`;
  const masked = bit + bits === 8 ? shifted : `(${shifted} & ${mask(bits)})`;
  return weight === 0 ? masked : `(${masked} << ${weight})`;
}

function write({ byte, bit, bits, weight }: Part): string {
  const shifted = weight === 0 ? "bits" : `(bits >> ${weight})`;
  if (bits === 8) return `image[${byte}] = (uint8_t)${shifted};`;
  const keep = hexText(BigInt(0xff & ~(((1 << bits) - 1) << bit)));
  const part = `(${shifted} & ${mask(bits)})`;
  return `image[${byte}] = (uint8_t)((image[${byte}] & ${keep}) | ${bit === 0 ? part : `(${part} << ${bit})`});`;
}

function mask(bits: number): string {
  return hexText((1n << BigInt(bits)) - 1n);
}

/** The statements that turn `bits` into counts and return them. */
export function countsStatements({ point, name, way, room, rawType, patternType }: Shape): string[] {
  const reading = `${way}_read_${name}(image)`;
  const sign = 1n << BigInt(point.bits - 1);
  const half = hexText(sign);
  const rest = hexText(sign - 1n);
  const wide = `int${room}_t`;
  const signed = (test: string, negative: string, positive: string) => [
    `const ${patternType} bits = ${reading};`,
    `return (${rawType})((bits & ${half}) ${test} 0 ? ${negative} : ${positive});`,
  ];
  switch (point.code) {
    case "twosComplement":
      return signed("!=", `-(${wide})(${mask(point.bits)} - bits) - 1`, `(${wide})bits`);
    case "offsetBinary":
      return signed("==", `-(${wide})(${rest} - bits) - 1`, `(${wide})(bits - ${half})`);
    case "signMagnitude":
      return signed("!=", `-(${wide})(bits & ${rest})`, `(${wide})bits`);
    case "bcd":
      return [`return (${rawType})counts_of_bcd(${reading});`];
    default:
      return [`return ${rawType === patternType ? "" : `(${rawType})`}${reading};`];
  }
}

/** The pattern of counts that are in range, as an expression. */
export function patternText({ point, patternType: type, rawType }: Shape, counts: string): string {
  const half = hexText(1n << BigInt(point.bits - 1));
  switch (point.code) {
    case "twosComplement":
      return `(${type})${counts} & ${mask(point.bits)}`;
    case "offsetBinary":
      return `((${type})${counts} + ${half}) & ${mask(point.bits)}`;
    case "signMagnitude":
      return `${counts} < 0 ? ${half} - (${type})${counts} : (${type})${counts}`;
    case "bcd":
      return `(${type})bcd_of_counts(${counts})`;
    default:
      return rawType === type ? counts : `(${type})${counts}`;
  }
}
