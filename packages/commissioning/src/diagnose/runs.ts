/**
 * Runs: modules that follow one another as they did before a change. Where a module starts depends on nothing but where
 * the one before it ends, they keep their places among themselves and are placed as one.
 */
import type { Direction, Module, Station } from "byterail";
import type { Base } from "./base.js";
import type { Anew } from "./rearrange.js";
import { bareOf } from "./reduce.js";

/** Indices of the first and the last module of a run, in the station of the base. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

/** The changed station as runs of modules that did not change, and modules that did. */
export function runsOf(base: Base, changed: Station, anew: Anew): readonly (Run | Module)[] {
  if (anew === "all") return changed.modules;
  const inOrder = keepsOrder(changed);
  const parts: (Run | Module)[] = [];
  for (const module of changed.modules) {
    const index = base.indices.get(module.name);
    const last = parts[parts.length - 1];
    if (index === undefined || base.station.modules[index] !== module) parts.push(module);
    else if (inOrder && last && "first" in last && last.last === index - 1)
      parts[parts.length - 1] = { first: last.first, last: index };
    else parts.push({ first: index, last: index });
  }
  return parts;
}

// Modules stand in the order of the list, each on a whole byte after the one before it.
function keepsOrder({ modules, placement }: Station): boolean {
  return (
    [placement?.inputs, placement?.outputs].every(
      (rules) => rules?.order !== "wordsFirst" && rules?.packing !== "bit",
    ) &&
    modules.every(
      (each) => each.slot === undefined && each.inputOffset === undefined && each.outputOffset === undefined,
    )
  );
}

/** One module in place of a run: what it takes from its first byte to its last. */
export function bareRun(base: Base, { first, last }: Run): Module {
  const module = base.station.modules[first]!;
  if (first === last) return bareOf(base, module);
  const sides = (["inputs", "outputs"] as const).flatMap((direction) => {
    const bytes = bytesOf(base, direction, first, last);
    return bytes > 0 ? [[direction, [{ spare: bytes }]]] : [];
  });
  return { name: module.name, ...Object.fromEntries(sides) };
}

function bytesOf(base: Base, direction: Direction, first: number, last: number): number {
  let [from, to] = [0, 0];
  for (let index = first; index <= last; index++) {
    const extent = base.extents[direction][index];
    if (!extent) continue;
    if (to === 0) from = extent.byte;
    to = extent.byte + extent.bytes;
  }
  return to - from;
}
