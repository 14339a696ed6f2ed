/**
 * Everything that takes data from outside, called with data that nobody sound would send. The oracle: a call returns or
 * throws the library's own error, and no prototype has changed.
 */
import { compare, diagnose, type Observation, sheet } from "@byterail/commissioning";
import { generate, targets } from "@byterail/generate";
import { frame, station } from "@byterail/testkit";
import {
  ByterailError,
  decode,
  decodeByModule,
  decodeRaw,
  encode,
  encodeInto,
  encodeRaw,
  type Layout,
  patch,
  view,
} from "byterail";
import { columns, diff, fromHex, fromRegisters, hexdump, toHex, toRegisters } from "byterail/frames";
import { byteMap, inspect } from "byterail/map";
import { examine, parseStation, parseStationText } from "byterail/schema";
import fc from "fast-check";
import { mutated } from "./mutations.js";

/** What a hostile call did. */
export interface Outcome {
  readonly what: string;
  /** In milliseconds; of a call, what it took of the processor, whatever else ran at the time. */
  readonly time: number;
  /** What it threw that is not the library's own, if it did. */
  readonly foreign: unknown;
}

/** Calls on what may be no description. */
export function attackDescription(data: unknown): Outcome[] {
  const text = JSON.stringify(data) ?? "";
  const outcomes: Outcome[] = [
    attempt("parse", () => parseStation(data)),
    attempt("parse text", () => parseStationText(text)),
    attempt("parse text that is cut off", () => parseStationText(text.slice(0, text.length >> 1))),
  ];
  let layout: Layout | null = null;
  outcomes.push(
    attempt("examine", () => {
      layout = examine(data).layout as Layout | null;
    }),
  );
  if (!layout) return outcomes;
  const sound: Layout = layout;
  return [
    ...outcomes,
    attempt("map", () => [byteMap(sound.inputs), byteMap(sound.outputs)]),
    attempt("compare", () => compare(sound, sound)),
    attempt("sheet", () => sheet(sound)),
    attempt("generate", () => generate(sound, [...targets.keys()])),
    ...attackBytes(sound, new Uint8Array(sound.inputs.byteLength).fill(0xa5)),
  ];
}

/** Calls with bytes and values that may be of any length and kind. */
export function attackBytes(
  { inputs, station: described }: Layout,
  bytes: Uint8Array,
  values: unknown = {},
): Outcome[] {
  const copy = () => bytes.slice();
  return [
    attempt("decode", () => decode(inputs, bytes)),
    attempt("decode counts", () => encodeRaw(inputs, decodeRaw(inputs, bytes))),
    attempt("decode by module", () => decodeByModule(inputs, bytes)),
    attempt("inspect", () => inspect(inputs, bytes)),
    attempt("view", () => ({ ...(view(inputs, bytes) as object) })),
    attempt("dump", () => hexdump(inputs, bytes)),
    attempt("diff", () => diff(inputs, bytes, copy().reverse())),
    attempt("columns", () => columns(inputs, bytes)),
    attempt("registers", () => fromRegisters(toRegisters(bytes, "first"), "second")),
    attempt("encode", () => encode(inputs, values as never)),
    attempt("encode into", () => encodeInto(inputs, copy(), values as never)),
    attempt("patch", () => patch(inputs, copy(), values as never)),
    attempt("hex", () => fromHex(String.fromCharCode(...bytes))),
    attempt("diagnose", () => diagnose(described, [{ inputs: toHex(bytes), known: values }] as never, { limit: 5 })),
  ];
}

/** Descriptions with accidents in them, and data that is none. */
export function descriptions(): fc.Arbitrary<unknown> {
  return fc.oneof({ weight: 5, arbitrary: mutated(station()) }, { weight: 1, arbitrary: fc.jsonValue() });
}

/** Bytes that may have the length of the image, and what may be values. */
export function bytesAndValues({ inputs }: Layout): fc.Arbitrary<readonly [Uint8Array, unknown]> {
  const names = [...inputs.points.map(({ name }) => name), "__proto__", "constructor", "toString"];
  const value = fc.oneof(fc.boolean(), fc.double(), fc.bigInt(), fc.jsonValue(), fc.constant(undefined));
  return fc.tuple(
    fc.oneof(frame(inputs), fc.uint8Array({ maxLength: inputs.byteLength + 3 })),
    fc.oneof(fc.dictionary(fc.constantFrom(...names), value), fc.anything()),
  );
}

/** Observations of which the frames and what is known have nothing to do with each other. */
export function observations({ inputs }: Layout): fc.Arbitrary<readonly Observation[]> {
  const one = fc.tuple(fc.oneof(frame(inputs), fc.uint8Array({ maxLength: inputs.byteLength + 3 })), frame(inputs));
  return fc.array(
    one.map(([seen, other]): Observation => {
      const known = Object.entries(decode(inputs, other)).map(([name, value]) => [
        name,
        typeof value === "bigint" ? String(value) : value,
      ]);
      return { inputs: toHex(seen), known: Object.fromEntries(known) };
    }),
    { minLength: 1, maxLength: 3 },
  );
}

/** A diagnosis of such observations, which searches for what would explain them. */
export function attackDiagnosis({ station: described }: Layout, seen: readonly Observation[]): Outcome {
  return attempt("diagnose, with a search", () => diagnose(described, seen));
}

function attempt(what: string, call: () => unknown): Outcome {
  const start = process.cpuUsage();
  let foreign: unknown = null;
  try {
    call();
  } catch (error) {
    if (!(error instanceof ByterailError)) foreign = error;
  }
  const { user, system } = process.cpuUsage(start);
  return { what, time: (user + system) / 1000, foreign };
}
