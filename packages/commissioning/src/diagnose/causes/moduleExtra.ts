/** A module that the description has and the station has not: what follows it comes earlier than described. */
import type { Base } from "../base.js";
import { withSlots } from "../edit.js";
import type { Cause } from "../hypothesis.js";
import { directions } from "../lengths.js";
import { rearranged } from "../rearrange.js";

export const moduleExtra: Cause = function* (base) {
  if (base.right.every(Boolean)) return;
  const slotted = withSlots(base.station);
  for (const [at, { name }] of base.station.modules.entries()) {
    const holdsNothing = directions.every((direction) => base.extents[direction][at] === null);
    if (holdsNothing || isHeader(base, at)) continue;
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

/** Whether a module, told by its index, holds nothing but spare bytes at the front of one direction: a header, of which `shift` tells. */
export function isHeader({ station, layout, extents }: Base, index: number): boolean {
  const module = station.modules[index]!;
  const sides = directions.filter((direction) => extents[direction][index] !== null);
  if (sides.length !== 1 || layout[sides[0]!].modules[0]!.name !== module.name) return false;
  const entries = module[sides[0]!] ?? [];
  return entries.length > 0 && entries.every((entry) => "spare" in entry);
}
