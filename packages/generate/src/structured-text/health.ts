/** Health as a number of type USINT: an enumeration would put its words into the name space of the whole project. */
import type { Health } from "byterail";
import { indent } from "../snippet.js";
import type { Channel } from "./channel.js";
import { integerLiteral, realLiteral } from "./types.js";

/** The numbers. Counts that break no rule are 0, whether there is a rule or not. */
export const healthCodes: Readonly<Record<Health, number>> = {
  ok: 0,
  none: 0,
  belowMeasuring: 1,
  aboveMeasuring: 2,
  failedLow: 3,
  failedHigh: 4,
  invalid: 5,
};

/** What the numbers mean, for a comment. */
export const healthLegend =
  "Health: 0 ok, 1 below measuring, 2 above measuring, 3 failed low, 4 failed high, 5 invalid.";

/**
 * Judges counts, or a real.
 *
 * @param valid the name of a variable that is FALSE for a pattern that stands for no number, or null
 */
export function healthLines({ health, point, counts }: Channel, x: string, valid: string | null): string[] {
  if (!health) return [];
  const { special, bands } = health.judgement;
  const literal = (n: number) => (point.code === null ? realLiteral(n) : integerLiteral(BigInt(n), counts));
  const single = point.bits === 32 && point.code === null;
  const cases: (readonly [condition: string, health: Health])[] = [
    ...(valid ? [[`NOT ${valid}`, "invalid"] as const] : []),
    // A number that REAL does not hold never equals one.
    ...special
      .filter(({ counts: n }) => !single || Math.fround(n) === n)
      .map(({ counts: n, health }) => [`${x} = ${literal(n)}`, health] as const),
    ...bands.flatMap(({ upTo, health }) =>
      upTo === null ? [] : [[`${x} <= ${literal(single ? floorReal(upTo) : upTo)}`, health] as const],
    ),
  ];
  const target = `data.${health.member}`;
  const last = `${target} := ${healthCodes[bands[bands.length - 1]!.health]};`;
  if (cases.length === 0) return [last];
  return [
    ...cases.flatMap(([condition, health], k) => [
      `${k === 0 ? "IF" : "ELSIF"} ${condition} THEN`,
      ...indent([`${target} := ${healthCodes[health]};`]),
    ]),
    "ELSE",
    ...indent([last]),
    "END_IF;",
  ];
}

// The largest REAL at or below a border that was found among LREALs.
function floorReal(border: number): number {
  const near = Math.fround(border);
  if (near <= border) return near;
  const bits = new DataView(new ArrayBuffer(4));
  bits.setFloat32(0, near);
  const pattern = bits.getUint32(0);
  bits.setUint32(0, near > 0 ? pattern - 1 : near === 0 ? 0x80000001 : pattern + 1);
  return bits.getFloat32(0);
}
