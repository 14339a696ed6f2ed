/** The bytes of one point as they stand in the image at their offset, all other bits of those bytes 0. */
import { codeOf, codeOfPoint, type ImageLayout, type PlacedPoint, patchRaw, touchedBytes } from "byterail";
import { toHex } from "byterail/frames";

/** Bytes that follow one another in the image. */
export interface ByteRun {
  /** Offset of the first in the image. */
  readonly byte: number;
  /** Upper-case hex pairs with single spaces. */
  readonly hex: string;
}

/** Makes the bytes of a point for its counts; of a real, for its number. */
export function bytesOf(image: ImageLayout, point: PlacedPoint): (counts: number) => readonly ByteRun[] {
  const runs = runsOf(touchedBytes(point));
  const bytes = new Uint8Array(image.byteLength);
  const rawOf = point.kind === "real" ? codeOf("real", point.bits).toPattern : (counts: number) => counts;
  return (counts) => {
    patchRaw(image, bytes, { [point.name]: rawOf(counts) });
    return runs.map(([first, end]) => ({ byte: first, hex: toHex(bytes.subarray(first, end)) }));
  };
}

/** The bits of a point in its bytes, written as a mask; null where it fills them. */
export function maskOf({ positions, low, bits }: PlacedPoint): readonly ByteRun[] | null {
  if (bits % 8 === 0 && low % 8 === 0) return null;
  const masks = new Map<number, number>();
  for (let k = low; k < low + bits; k++) {
    const byte = positions[k >> 3]!;
    masks.set(byte, (masks.get(byte) ?? 0) | (1 << (k & 7)));
  }
  const touched = [...masks.keys()].sort((a, b) => a - b);
  return runsOf(touched).map(([first, end]) => ({
    byte: first,
    hex: toHex(Uint8Array.from({ length: end - first }, (_, k) => masks.get(first + k)!)),
  }));
}

/** What the bits of a point can hold: smallest and largest counts. */
export function holds(point: PlacedPoint): (counts: number) => boolean {
  const code = codeOfPoint(point) ?? codeOf("real", point.bits);
  return (counts) => counts >= Number(code.min) && counts <= Number(code.max);
}

/** Counts as the bits hold them: a binary32 is rounded to its nearest. */
export function held(point: PlacedPoint): (counts: number) => number {
  if (point.kind !== "real") return (counts) => counts;
  const { toPattern, toCounts } = codeOf("real", point.bits);
  return (counts) => toCounts(toPattern(counts)) as number;
}

// [first, end) of bytes that follow one another.
function runsOf(sorted: readonly number[]): readonly (readonly [number, number])[] {
  const runs: [number, number][] = [];
  for (const byte of sorted) {
    const last = runs[runs.length - 1];
    if (last && last[1] === byte) last[1]++;
    else runs.push([byte, byte + 1]);
  }
  return runs;
}
