/** Names of modules and points: plain ones, or such as a station may have and a program may stumble over. */
import type { Direction, Entry, Module } from "byterail";

/** A module that has no name yet. */
export type Nameless = Omit<Module, "name" | "exclusive"> & { readonly groups: boolean };

/** `m0`, `m1` … for modules, `i0` … and `o0` … for points; `shared`: `p0` … in both directions; `long`: 64 characters. */
export function named(plugged: readonly Nameless[], how: "plain" | "shared" | "long"): Module[] {
  const next = { inputs: 0, outputs: 0 };
  const nameIn = (direction: Direction) => {
    const plain = `${how === "shared" ? "p" : direction[0]}${next[direction]++}`;
    return how === "long" ? `${plain}_${"x".repeat(63 - plain.length)}` : plain;
  };
  const rename = (entry: Entry, direction: Direction): Entry => {
    if ("fields" in entry)
      return { ...entry, fields: entry.fields.map((field) => ({ ...field, name: nameIn(direction) })) };
    return "name" in entry ? { ...entry, name: nameIn(direction) } : entry;
  };
  return plugged.map(({ groups, ...module }, k) => {
    const inputs = module.inputs?.map((entry) => rename(entry, "inputs"));
    const outputs = module.outputs?.map((entry) => rename(entry, "outputs"));
    const pair = booleans(outputs ?? []).slice(0, 2);
    const exclusive = groups && pair.length === 2 && { exclusive: [pair] };
    return { name: `m${k}`, ...module, ...(inputs && { inputs }), ...(outputs && { outputs }), ...exclusive };
  });
}

function booleans(entries: readonly Entry[]): string[] {
  return entries.flatMap((entry) => {
    if ("fields" in entry) return entry.fields.flatMap((field) => ("bit" in field ? [field.name] : []));
    return "type" in entry && entry.type === "bit" ? [entry.name] : [];
  });
}
