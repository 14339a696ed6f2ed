/**
 * Builders: the description as one would say it. They return the same plain data as a literal, with the names kept in
 * the types; nothing is checked before `assemble`.
 */
import type {
  BitPoint,
  FlagField,
  Module,
  NumberField,
  NumberPoint,
  NumberType,
  PackedWord,
  PointBase,
  SpareBits,
  SpareBytes,
  Station,
} from "./description.js";

/** A bit, one for each of the names. */
type BitsNamed<N extends string> = N extends string ? { readonly name: N; readonly type: "bit" } : never;

/** A name or an entry in a list of bits. */
type BitItem = string | BitPoint | SpareBits;
type BitEntry<I> = I extends string ? BitsNamed<I> : I;

/** What may be said of a module beside its points. */
export type ModuleKeys = Omit<Module, "name" | "inputs" | "outputs">;
/** What may be said of a number beside its name and type. */
export type NumberKeys = Omit<NumberPoint, "name" | "type">;

/**
 * A station; `format` is filled in.
 *
 * @example
 * ```ts
 * import { analogInputs, assemble, digitalInputs, number, signalScale, station, valveBank } from "byterail";
 * const rig = station({
 *   name: "rig",
 *   network: "ethernet-ip",
 *   modules: [
 *     digitalInputs("limits", ["doorClosed", "lidClosed"]),
 *     analogInputs("pressures", [number("supply", "uint16", { scale: signalScale("4-20 mA", [4000, 20000], [0, 10], "bar") })]),
 *     valveBank("valves", ["rinse", "steam"], { outputBytes: 4 }),
 *   ],
 * });
 * assemble(rig).outputs.byteLength; // → 4
 * ```
 */
export function station<const S extends Omit<Station, "format">>(description: S): S & { readonly format: 1 } {
  return { format: 1, ...description };
}

/** A module of any kind. */
export function module<const N extends string, const M extends Omit<Module, "name">>(
  name: N,
  keys: M,
): { readonly name: N } & M {
  return { name, ...keys };
}

/** A module of digital inputs, channel 0 first: names, or bits and spare bits with more to say. */
export function digitalInputs<const N extends string, const I extends BitItem>(
  name: N,
  channels: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly inputs: readonly BitEntry<I>[] } {
  return { name, ...keys, inputs: channels.map(bitEntry) };
}

/** A module of digital outputs, channel 0 first. */
export function digitalOutputs<const N extends string, const I extends BitItem>(
  name: N,
  channels: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly outputs: readonly BitEntry<I>[] } {
  return { name, ...keys, outputs: channels.map(bitEntry) };
}

/** A valve bank: one output bit a coil. Most reserve more bytes than the coils fitted need: `{ outputBytes: 4 }`. */
export function valveBank<const N extends string, const I extends BitItem>(
  name: N,
  coils: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly outputs: readonly BitEntry<I>[] } {
  return digitalOutputs(name, coils, keys);
}

/** An entry of a module of numbers. */
type WordItem = NumberPoint | PackedWord | SpareBytes;

/** A module of analog inputs, channel 0 first. */
export function analogInputs<const N extends string, const I extends WordItem>(
  name: N,
  channels: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly inputs: readonly I[] } {
  return { name, ...keys, inputs: channels };
}

/** A module of analog outputs, channel 0 first. */
export function analogOutputs<const N extends string, const I extends WordItem>(
  name: N,
  channels: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly outputs: readonly I[] } {
  return { name, ...keys, outputs: channels };
}

/** The bus interface, with the status words that it puts before the data of its modules. */
export function busInterface<const N extends string, const I extends WordItem | BitPoint | SpareBits>(
  name: N,
  status: readonly I[],
  keys: ModuleKeys = {},
): { readonly name: N; readonly inputs: readonly I[] } {
  return { name, ...keys, inputs: status };
}

/** A bit with more to say than its name. */
export function bit<const N extends string>(
  name: N,
  keys: Omit<PointBase, "name"> = {},
): { readonly name: N; readonly type: "bit" } {
  return { name, type: "bit", ...keys };
}

/** A number. */
export function number<const N extends string, const T extends NumberType, const K extends NumberKeys = NumberKeys>(
  name: N,
  type: T,
  keys?: K,
): { readonly name: N; readonly type: T } & Pick<K, keyof K & "code"> {
  return { name, type, ...keys } as ReturnType<typeof number<N, T, K>>;
}

/** A word of so many bits that fields are packed in. */
export function word<const F extends NumberField | FlagField>(
  bits: number,
  fields: readonly F[],
  keys: Omit<PackedWord, "word" | "fields"> = {},
): { readonly word: number; readonly fields: readonly F[] } {
  return { word: bits, ...keys, fields };
}

/** A field of several bits, from bit `shift` of its word up. */
export function field<const N extends string, const B extends number>(
  name: N,
  bits: B,
  shift: number,
  keys: Omit<NumberField, "name" | "bits" | "shift"> = {},
): { readonly name: N; readonly bits: B; readonly shift: number } {
  return { name, bits, shift, ...keys };
}

/** A field of one boolean bit. */
export function flag<const N extends string>(
  name: N,
  bit: number,
  keys: Omit<PointBase, "name"> = {},
): { readonly name: N; readonly bit: number } {
  return { name, bit, ...keys };
}

/** Unused bytes. */
export function spare(bytes: number): SpareBytes {
  return { spare: bytes };
}

/** Unused bits. */
export function spareBits(bits: number): SpareBits {
  return { spareBits: bits };
}

function bitEntry<I extends BitItem>(item: I): BitEntry<I> {
  return (typeof item === "string" ? { name: item, type: "bit" } : item) as BitEntry<I>;
}
