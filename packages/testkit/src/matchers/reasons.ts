/**
 * The likely reason, where a cheap one fits: the frame is read again in another way, and what then matches is said. It is
 * a hint for whoever reads a failing test, and no diagnosis.
 */
import { characteristicOf, numberOf, type PlacedPoint } from "byterail";
import { type Judged, judge, type Tolerance } from "./judge.js";
import type { AnyImage } from "./result.js";

/** Another way to read a point, or null where it would be none. */
interface Reading {
  readonly says: string;
  readonly of: (point: PlacedPoint, byteLength: number) => PlacedPoint | null;
}

const readings: readonly Reading[] = [
  { says: "with bytes exchanged", of: (point) => reordered(point, bytesExchanged) },
  { says: "with words exchanged", of: (point) => reordered(point, wordsExchanged) },
  { says: "with bytes and words exchanged", of: (point) => reordered(point, bothExchanged) },
  { says: "as a signed number", of: (point) => recoded(point, "unsigned", "twosComplement") },
  { says: "as an unsigned number", of: (point) => recoded(point, "twosComplement", "unsigned") },
  { says: "one byte earlier", of: (point, length) => moved(point, -1, length) },
  { says: "one byte later", of: (point, length) => moved(point, 1, length) },
  { says: "with the bit order turned round", of: turned },
];

/** Why points may differ: one line for each reading that makes some of them match. */
export function likelyReasons(
  image: AnyImage,
  bytes: Uint8Array,
  judged: readonly Judged[],
  tolerance: Tolerance,
): string[] {
  const expected = Object.fromEntries(judged.map(({ point, expected }) => [point.name, expected]));
  const wrong = judged.filter(({ matches }) => !matches);
  const reasons = readings.flatMap(({ says, of }) => {
    const points = image.points.map((point) => of(point, image.byteLength) ?? point);
    const again = judge({ ...image, points }, bytes, expected, tolerance);
    const repaired = again.filter(
      ({ point, matches }, k) => matches && !judged[k]!.matches && tells(point, judged[k]!),
    );
    // A bit is right by chance every other time, so bits tell only together, and only where none is then wrong.
    const bits = again.filter(({ point }) => point.kind === "boolean");
    const bitsTell = bits.every(({ matches }) => matches) && wrong.filter(isBit).length > 1;
    const names = repaired.filter((each) => !isBit(each) || bitsTell).map(({ point }) => point.name);
    return names.length > 0 ? [{ says, names }] : [];
  });
  const most = Math.max(0, ...reasons.map(({ names }) => names.length));
  const counts = wrong.filter(isGivenInCounts).map(({ point }) => point.name);
  return [
    ...reasons.filter(({ names }) => names.length === most).map(({ says, names }) => `${listed(names)} ${says}`),
    ...(counts.length > 0 ? [`${listed(counts)} in counts: what is expected is not scaled`] : []),
  ];
}

function isBit({ point }: Judged): boolean {
  return point.kind === "boolean";
}

// 0 is what padding, a dead channel and an empty frame read, however they are read.
function tells({ kind }: PlacedPoint, { expected }: Judged): boolean {
  return kind === "boolean" || (expected !== 0 && expected !== 0n);
}

function isGivenInCounts({ point, expected, received }: Judged): boolean {
  const scale = numberOf(point)?.scale;
  return scale !== undefined && characteristicOf(scale) !== null && expected === received.raw;
}

function listed(names: readonly string[]): string {
  const some = names.slice(0, 5).join(", ");
  const more = names.length > 5 ? ` and ${names.length - 5} more` : "";
  return `${some}${more} ${names.length === 1 ? "matches" : "match"}`;
}

function reordered(point: PlacedPoint, order: (positions: readonly number[]) => number[]): PlacedPoint | null {
  const { positions, kind } = point;
  if (kind === "boolean" || positions.length < 2) return null;
  const changed = order(positions);
  return changed.some((byte, k) => byte !== positions[k]) ? { ...point, positions: changed } : null;
}

function bytesExchanged(positions: readonly number[]): number[] {
  return positions.map((_, k) => positions[k ^ 1] ?? positions[k]!);
}

function wordsExchanged(positions: readonly number[]): number[] {
  return positions.length % 2
    ? [...positions]
    : positions.map((_, k) => positions[positions.length - 2 - k + 2 * (k & 1)]!);
}

// Of two bytes there are no words to exchange.
function bothExchanged(positions: readonly number[]): number[] {
  return positions.length < 4 ? [...positions] : bytesExchanged(wordsExchanged(positions));
}

function recoded(point: PlacedPoint, from: PlacedPoint["code"], to: PlacedPoint["code"]): PlacedPoint | null {
  return point.code === from ? { ...point, code: to } : null;
}

function moved(point: PlacedPoint, by: number, byteLength: number): PlacedPoint | null {
  const positions = point.positions.map((byte) => byte + by);
  return positions.every((byte) => byte >= 0 && byte < byteLength) ? { ...point, positions } : null;
}

function turned(point: PlacedPoint): PlacedPoint | null {
  return point.type === "bit" ? { ...point, low: 7 - point.low } : null;
}

/** How a frame that is too long would match: without its first bytes (a header) or its last. */
export function likelyReasonOfLength(
  image: AnyImage,
  bytes: Uint8Array,
  expected: Readonly<Record<string, unknown>>,
  tolerance: Tolerance,
): string[] {
  const surplus = bytes.length - image.byteLength;
  if (surplus <= 0) return [];
  const fits = (part: Uint8Array) => {
    const judged = judge(image, part, expected, tolerance);
    return judged.length > 0 && judged.every(({ matches }) => matches);
  };
  const much = surplus === 1 ? "byte" : `${surplus} bytes`;
  return [
    ...(fits(bytes.subarray(surplus)) ? [`everything matches without the first ${much}`] : []),
    ...(fits(bytes.subarray(0, image.byteLength)) ? [`everything matches without the last ${much}`] : []),
  ];
}
