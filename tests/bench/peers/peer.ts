/**
 * What a general-purpose library needs to show to be measured. Each does what its own interface offers, no more: what it
 * cannot express (a byte order, a bit by its name, a scale) is left out of its work, told in `lacks`, and so makes it faster.
 */
import { type Value, valuesOf } from "../byHand.js";
import type { Workload } from "../workloads.js";

/** A general-purpose library. */
export interface Peer {
  readonly package: string;
  /** How it works: interpreting a description, compiling one with `eval`, or as a cursor that user code moves. */
  readonly kind: "without eval" | "with eval" | "cursor";
  /** What it leaves to its user. */
  readonly lacks: string;
  /** What its results are: engineering values, or the counts as they stand in the bytes. */
  readonly gives: "values" | "counts";
  /** Bits under their names, or whole words that hold them (`at7`). */
  readonly bits: "named" | "words";
  /** The byte order that it reads everything in, where it knows but one. */
  readonly only?: "little";
  readonly codec: (work: Workload) => PeerCodec;
}

/** A library set up for one workload. */
export interface PeerCodec {
  readonly decode: (bytes: Uint8Array) => unknown;
  readonly encode?: (decoded: never) => Uint8Array;
}

/** What stands in the bytes: a number, or a word (a byte of eight bits, too) that holds parts. */
export interface Piece {
  /** Of the number; for a word `at` and its byte. */
  readonly name: string;
  readonly byte: number;
  readonly type: "uint8" | "uint16" | "int16" | "uint32" | "float32";
  readonly order: "little" | "big";
  /** From the least significant up; empty for a number. */
  readonly parts: readonly Value[];
  readonly line: Value["line"];
}

/** The pieces of a workload in the order of the bytes. */
export function piecesOf({ station }: Workload): Piece[] {
  const words = new Map<number, Value[]>();
  for (const value of valuesOf(station)) {
    const byte = Math.min(...value.run);
    words.set(byte, [...(words.get(byte) ?? []), value]);
  }
  return [...words].map(([byte, values]) => {
    const first = values[0]!;
    const { run, kind, signed } = first;
    const order = run.length > 1 && run[0]! > run[1]! ? "big" : "little";
    const isWord = kind === "boolean" || values.length > 1;
    const type = kind === "real" ? "float32" : `${signed ? "int" : "uint"}${8 * run.length}`;
    const parts = isWord ? [...values].sort((a, b) => a.shift - b.shift) : [];
    return {
      name: isWord ? `at${byte}` : first.name,
      byte,
      type,
      order,
      parts,
      line: isWord ? null : first.line,
    } as Piece;
  });
}

/** Counts to value and back, for libraries that take functions. */
export function scaling({ line }: Pick<Piece, "line">): {
  to: (counts: number) => number;
  from: (value: number) => number;
} {
  if (!line) return { to: (n) => n, from: (v) => v };
  const { a, b, c } = line;
  return { to: (n) => (a * n + b) / c, from: (v) => Math.round((v * c - b) / a) };
}

/** The parts of a word under their names, and back, for libraries that take functions. */
export function parting({ parts }: Pick<Piece, "parts">): {
  to: (word: number) => Record<string, boolean | number>;
  from: (values: Record<string, boolean | number>) => number;
} {
  const rows = parts.map((part) => ({ ...part, mask: 2 ** part.bits - 1, ...scaling(part) }));
  return {
    to: (word) => {
      const values: Record<string, boolean | number> = {};
      for (const { name, kind, shift, mask, to } of rows)
        values[name] = kind === "boolean" ? ((word >> shift) & 1) !== 0 : to((word >> shift) & mask);
      return values;
    },
    from: (values) => {
      let word = 0;
      for (const { name, shift, from } of rows) word |= from(Number(values[name])) << shift;
      return word;
    },
  };
}
