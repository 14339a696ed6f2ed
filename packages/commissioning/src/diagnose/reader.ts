/** A reader: what a placed point says of a frame, and whether that agrees with a fact. */
import { characteristicOf, codeOf, numberOf, type PlacedPoint, pattern, type PointValue, touchedBytes } from "byterail";
import type { Fact } from "./facts.js";

/** Reads one point. `at` is added to every byte position. */
export interface Reader {
  readonly point: PlacedPoint;
  /** The bits as an unsigned number, or null where the frame ends before the point does. */
  readonly bits: (bytes: Uint8Array, at: number) => number | bigint | null;
  readonly counts: (bits: number | bigint) => number | bigint;
  readonly value: (bits: number | bigint) => PointValue;
  /** Whether a value that was read agrees with a fact: within what is allowed, and half a count. */
  readonly agrees: (bits: number | bigint, fact: Fact) => boolean;
}

/** The reader of a placed point. */
export function readerOf(point: PlacedPoint): Reader {
  const places = touchedBytes(point);
  const [first, last] = [places[0]!, places[places.length - 1]!];
  const { read } = pattern(point.positions, point.low, point.bits);
  const bits = (bytes: Uint8Array, at: number) =>
    first + at < 0 || last + at >= bytes.length ? null : read(bytes, at);
  return { point, bits, ...meaningOf(point) };
}

type Meaning = Pick<Reader, "counts" | "value" | "agrees">;

const meanings = new WeakMap<object, { readonly of: string; readonly meaning: Meaning }>();

// What the bits of a point stand for stays the same wherever it stands, and is worked out once.
function meaningOf(point: PlacedPoint): Meaning {
  const of = `${point.kind} ${point.code} ${point.bits}`;
  const kept = meanings.get(point.description);
  if (kept?.of === of) return kept.meaning;
  const meaning = makeMeaning(point);
  meanings.set(point.description, { of, meaning });
  return meaning;
}

function makeMeaning(point: PlacedPoint): Meaning {
  const number = numberOf(point);
  if (!number) return { counts: (u) => u, value: (u) => u === 1, agrees: (u, { known }) => (u === 1) === known };
  const { toCounts } = codeOf(point.code ?? "real", point.bits);
  const scaled = number.scale ? characteristicOf(number.scale) : null;
  // No description has a scale on 64-bit counts, but a trial reads a scaled real as if it could.
  const value = (u: number | bigint) => (scaled ? scaled.toValue(Number(toCounts(u))) : toCounts(u));
  const halfStep = (u: number | bigint) => {
    if (!point.code) return Math.abs(Number(value(u))) * 2 ** (point.bits === 32 ? -23 : -51);
    const counts = Number(toCounts(u));
    return scaled ? Math.abs(scaled.toValue(counts + 1) - scaled.toValue(counts)) / 2 : 0.5;
  };
  const agrees = (u: number | bigint, { known, within }: Fact) => {
    const read = value(u);
    if (typeof read === "bigint" && typeof known === "bigint" && within === 0) return read === known;
    const off = Math.abs(Number(read) - Number(known));
    // What is read as infinite is as far from everything, and no step makes up for it.
    return off < Infinity && off <= within + halfStep(u) * (1 + 1e-9);
  };
  return { counts: toCounts, value, agrees };
}
