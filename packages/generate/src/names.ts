/**
 * Names for targets: a legal point name may be a reserved word there, too long, or equal to another when case does not
 * count. Each is cleaned once, collisions get a number in the order of the list, and every change is reported.
 */
import type { Problem } from "byterail";

/** What a target demands of its names. */
export interface NameRules {
  /** The target, for the report. */
  readonly target: string;
  /** Reserved words, in lower case where case does not count. */
  readonly reserved: ReadonlySet<string>;
  readonly case: "sensitive" | "insensitive";
  readonly maxLength: number;
  /** The style of the target, e.g. snake case; by default the name as it is. */
  readonly style?: (name: string) => string;
  /** Added to a reserved word. Default `_`. */
  readonly suffix?: string;
}

/** Cleaned names by the original ones. */
export interface NameTable {
  readonly of: (name: string) => string;
  /** One note for every name that is more than a matter of style away from the original. */
  readonly notes: readonly Problem[];
}

/**
 * Cleans names for one scope of a target.
 *
 * @param names legal names, each once; the first keeps its form where two collide
 * @param where for the report, e.g. `inputs`
 */
export function nameTable(names: readonly string[], where: string, rules: NameRules): NameTable {
  const { target, reserved, maxLength, style = (name) => name, suffix = "_" } = rules;
  const fold = (name: string) => (rules.case === "insensitive" ? name.toLowerCase() : name);
  const table = new Map<string, string>();
  const taken = new Set<string>();
  const notes: Problem[] = [];
  for (const name of names) {
    const styled = style(name);
    const free = reserved.has(fold(styled)) ? styled + suffix : styled;
    let clean = free.slice(0, maxLength);
    for (let n = 2; taken.has(fold(clean)) || reserved.has(fold(clean)); n++) {
      const tail = `_${n}`;
      clean = free.slice(0, maxLength - tail.length) + tail;
    }
    taken.add(fold(clean));
    table.set(name, clean);
    if (clean !== styled)
      notes.push({ code: "name.changed", path: `${where} › ${name}`, message: `is called ${clean} in ${target}` });
  }
  return { of: (name) => table.get(name) ?? name, notes };
}
