/** Health in C: special counts, then bands of counts. */
import type { Health } from "byterail";
import { doubleText } from "../point/curve.js";
import type { Judgement } from "../point/judgement.js";
import { indent } from "../snippet.js";
import { countsAsDouble } from "./point.js";
import type { Shape } from "./shape.js";
import { wholeText } from "./text.js";

const constants: Readonly<Record<Health, string>> = {
  ok: "HEALTH_OK",
  belowMeasuring: "BELOW_MEASURING",
  aboveMeasuring: "ABOVE_MEASURING",
  failedLow: "FAILED_LOW",
  failedHigh: "FAILED_HIGH",
  invalid: "INVALID",
  none: "HEALTH_NONE",
};

/** The names of the constants, in the order of the enumeration. */
export const healthConstants: readonly string[] = Object.values(constants);

/** The statements that judge a point. */
export function healthStatements(shape: Shape, { special, bands }: Judgement, macros: string): string[] {
  const { point, rawType, prefix, name, invalid, holds } = shape;
  const real = point.kind === "real";
  const kind = holds.min < 0n ? "signed" : "unsigned";
  const literal = (n: number) => (real ? doubleText(n) : wholeText(BigInt(n), kind));
  const when = (condition: string, health: Health) => [`if (${condition}) {`, ...answer(health), "}"];
  const answer = (health: Health) => indent([`return ${macros}_${constants[health]};`], "    ");
  const unconditional = bands.length === 1 && special.length === 0;
  const counting = real
    ? `const double counts = ${countsAsDouble(shape)};`
    : `const ${rawType} counts = ${prefix}_raw_${name}(image);`;
  return [
    ...(unconditional && !real && !invalid ? ["(void)image;"] : [counting, ""]),
    ...(real ? when("!is_finite(counts)", "invalid") : []),
    ...(invalid ? when(`counts == ${invalid}`, "invalid") : []),
    ...special.flatMap(({ counts, health }) => when(`counts == ${literal(counts)}`, health)),
    ...bands.flatMap(({ upTo, health }) => (upTo === null ? [] : when(`counts <= ${literal(upTo)}`, health))),
    `return ${macros}_${constants[bands[bands.length - 1]!.health]};`,
  ];
}
