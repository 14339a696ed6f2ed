/** Counts left- instead of right-justified by n bits, or the reverse: 12 bits of a converter at the top of a 16-bit word. */
import type { Entry, Field, NumberField, NumberPoint, Scale, Span } from "byterail";
import type { Base } from "../base.js";
import { withItem } from "../edit.js";
import type { Cause, Hypothesis } from "../hypothesis.js";
import { canStand, otherwise, type SuspectNumber, suspectNumbers } from "../point.js";
import { orderKeys, ordersInEffect } from "./orders.js";

/** At least so many bits of counts remain. */
const leastBits = 8;

export const justification: Cause = function* (base) {
  for (const suspect of suspectNumbers(base)) {
    const { number, point } = suspect;
    if (!point.code || point.bits > 32) continue;
    for (let n = 1; n <= point.bits - leastBits; n++) {
      if (number.scale) {
        const by = `by ${n} bit${n > 1 ? "s" : ""}`;
        for (const [factor, says] of [
          [2 ** n, `are justified to the left ${by}, not to the right`],
          [2 ** -n, `stand further right ${by} than described`],
        ] as const) {
          const scale = shifted(number.scale, factor);
          const sentence = `The counts of ${point.name} ${says}.`;
          yield otherwise(base, suspect, "justification", 3, sentence, { ...number, scale });
        }
      } else yield* unscaled(base, suspect, n);
    }
  }
};

function shifted({ counts, points, ...rest }: Scale, factor: number): Scale {
  // 4095 counts shifted left are 65520; taken back they are 4095 again. What was not shifted left loses its last bits.
  const by = (n: number) => Math.floor(n * factor);
  return {
    ...rest,
    ...(counts && { counts: [by(counts[0]), by(counts[1])] }),
    ...(points && { points: points.map(([n, value]): Span => [by(n), value]) }),
  };
}

// Without a scale the value is the counts: the bits are a field of the word, or stand elsewhere in it.
function* unscaled(base: Base, suspect: SuspectNumber, n: number): Iterable<Hypothesis> {
  const { key, number, point, spot, where } = suspect;
  const bits = point.bits - n;
  if (point.type !== "field" && (point.code === "unsigned" || point.code === "twosComplement")) {
    const { type: _, byteOrder: __, wordOrder: ___, ...rest } = number as NumberPoint;
    const field = { ...rest, bits, shift: n, ...(point.code === "twosComplement" && { signed: true }) } as NumberField;
    const word: Entry = { word: point.bits, ...orderKeys(ordersInEffect(point)!), fields: [field as Field] };
    const changed = { ...point, type: "field" as const, word: point.bits, shift: n, low: n, bits, description: field };
    const says = `The counts of ${point.name} are justified to the left by ${n} bit${n > 1 ? "s" : ""}, not to the right.`;
    yield {
      cause: "justification",
      where,
      says,
      assumes: 3,
      effect: { points: new Map([[key, changed]]) },
      station: () => withItem(base.station, spot, word),
      stands: () => canStand(spot.direction, word),
    };
  }
  if (point.type === "field") {
    const { shift } = number as NumberField;
    for (const [to, side] of [
      [shift - n, "right"],
      [shift + n, "left"],
    ] as const) {
      if (to < 0 || to + point.bits > point.word!) continue;
      const entry = { ...(number as NumberField), shift: to };
      const says = `${point.name} stands ${n} bit${n > 1 ? "s" : ""} further ${side} in its word.`;
      yield otherwise(base, suspect, "justification", 3, says, entry, { low: to, shift: to });
    }
  }
}
