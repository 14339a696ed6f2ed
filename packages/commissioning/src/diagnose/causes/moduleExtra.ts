/** A module that the description has and the station has not: what follows it comes earlier than described. */
import type { Module } from "byterail";
import { withSlots } from "../edit.js";
import type { Cause } from "../hypothesis.js";
import { rearranged } from "../rearrange.js";

export const moduleExtra: Cause = function* (base) {
  if (base.right.every(Boolean)) return;
  const slotted = withSlots(base.station);
  for (const [at, { name, inputs, outputs, inputBytes, outputBytes }] of base.station.modules.entries()) {
    if (!inputs?.length && !outputs?.length && !inputBytes && !outputBytes) continue;
    if (at === 0 && isHeader(base.station.modules[at]!)) continue;
    const station = { ...slotted, modules: slotted.modules.filter((_, k) => k !== at) };
    const effect = rearranged(base, station);
    const where = { direction: null, module: name, point: null };
    if (effect)
      yield {
        cause: "moduleExtra",
        where,
        says: `Module ${name} is described and is not there.`,
        assumes: 3,
        effect,
        station: () => station,
      };
  }
};

/** Whether a module holds nothing but spare bytes of one direction: a header, if it is the first one. */
export function isHeader({ inputs = [], outputs = [] }: Module): boolean {
  const entries = [...inputs, ...outputs];
  return entries.every((entry) => "spare" in entry) && (inputs.length === 0) !== (outputs.length === 0);
}
