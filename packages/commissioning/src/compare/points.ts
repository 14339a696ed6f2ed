/** What became of each point from one revision to the next. Names tell who is who, ignoring case, as everywhere. */
import { type Direction, type ImageLayout, numberOf, type PlacedPoint, touchedBytes } from "byterail";
import type { AddressOptions } from "byterail/map";
import { canonical } from "./canonical.js";
import { bitsKey, type PointPlace, placeOf, spelling } from "./place.js";

/** What may have happened to a point; several may hold at once. */
export type PointChangeKind = (typeof pointChangeKinds)[number];

/** Every kind, in the order in which they are listed. */
export const pointChangeKinds = [
  "unchanged",
  "moved",
  "retyped",
  "reordered",
  "rescaled",
  "renamed",
  "redescribed",
  "added",
  "removed",
] as const;

/**
 * One point in both revisions. `moved`: other bytes or bits. `retyped`: another type, width or code. `reordered`: the same bytes,
 * read in another order. `rescaled`: the same counts mean something else (scale, unit, special counts). `redescribed`:
 * anything else that the description says of it.
 */
export interface PointChange {
  readonly direction: Direction;
  /** Its name now; of a removed point, as it was. */
  readonly name: string;
  readonly changes: readonly PointChangeKind[];
  readonly old: PointPlace | null;
  readonly new: PointPlace | null;
  /** Of a renamed point, how it is known: the same name but for its case, or a guess from the same bits and type. */
  readonly renamedBy: "case" | "guess" | null;
  /** Keys of the description that differ, each as `key: old → new`. */
  readonly details: readonly string[];
}

/** A point of the old revision with the one that it became. */
export interface Pair {
  readonly old: PlacedPoint | null;
  readonly new: PlacedPoint | null;
  readonly change: PointChange;
}

/** Pairs the points of two images, in the order of the new one; what is gone comes last. */
export function pairPoints(before: ImageLayout, after: ImageLayout, addresses: AddressOptions): readonly Pair[] {
  const byName = new Map(before.points.map((point) => [point.name.toLowerCase(), point]));
  const namedAfter = new Set(after.points.map(({ name }) => name.toLowerCase()));
  const gone = new Map(
    before.points.filter(({ name }) => !namedAfter.has(name.toLowerCase())).map((point) => [bitsKey(point), point]),
  );
  const used = new Set<PlacedPoint>();
  const pairs = after.points.map((point) => {
    const old = byName.get(point.name.toLowerCase()) ?? gone.get(bitsKey(point)) ?? null;
    if (old) used.add(old);
    return pairOf(old, point, after.direction, addresses);
  });
  const rest = before.points
    .filter((point) => !used.has(point))
    .map((point) => pairOf(point, null, before.direction, addresses));
  return [...pairs, ...rest];
}

function pairOf(
  old: PlacedPoint | null,
  now: PlacedPoint | null,
  direction: Direction,
  addresses: AddressOptions,
): Pair {
  const { changes, details } =
    old && now ? differences(old, now) : { changes: [old ? ("removed" as const) : ("added" as const)], details: [] };
  const renamedBy = !changes.includes("renamed")
    ? null
    : old!.name.toLowerCase() === now!.name.toLowerCase()
      ? "case"
      : "guess";
  const change: PointChange = {
    direction,
    name: (now ?? old)!.name,
    changes,
    old: old && placeOf(old, direction, addresses),
    new: now && placeOf(now, direction, addresses),
    renamedBy,
    details,
  };
  return { old, new: now, change };
}

function differences(old: PlacedPoint, now: PlacedPoint): Pick<PointChange, "changes" | "details"> {
  const [from, to] = [touchedBytes(old), touchedBytes(now)];
  const relative = (bytes: readonly number[], first: number) => bytes.map((byte) => byte - first).join();
  const sameType = old.kind === now.kind && old.code === now.code && old.bits === now.bits;
  // Turning the order of a word also turns the bytes of a bit in it: that is a move. Of a value it is another order.
  const sameBytes = relative(from, from[0]!) === relative(to, to[0]!);
  const sameOrder = relative(spelling(old), from[0]!) === relative(spelling(now), to[0]!);
  const moved = from[0] !== to[0] || (old.low & 7) !== (now.low & 7) || (sameType && !sameBytes);
  const scaling = keysThatDiffer(scalingOf(old), scalingOf(now));
  const other = [...keysThatDiffer(restOf(old), restOf(now))];
  const kinds: (readonly [PointChangeKind, boolean])[] = [
    ["moved", moved],
    ["retyped", !sameType],
    ["reordered", sameType && sameBytes && !sameOrder],
    ["rescaled", scaling.length > 0],
    ["renamed", old.name !== now.name],
    ["redescribed", other.length > 0],
  ];
  const changes = kinds.filter(([, holds]) => holds).map(([kind]) => kind);
  return { changes: changes.length > 0 ? changes : ["unchanged"], details: [...scaling, ...other] };
}

type Keys = Readonly<Record<string, unknown>>;

function scalingOf(point: PlacedPoint): Keys {
  const { scale, unit, specialCounts } = numberOf(point) ?? {};
  const { accuracy: _, ...ends } = scale ?? {};
  return { ...prefixed("scale.", ends), unit, specialCounts };
}

// Free keys (x-…) of a scale say nothing of what the counts mean.
function prefixed(prefix: string, keys: object): Keys {
  return Object.fromEntries(
    Object.entries(keys)
      .filter(([key]) => !key.startsWith("x-"))
      .map(([key, value]) => [prefix + key, value]),
  );
}

// Name, type and place are compared as such.
function restOf(point: PlacedPoint): Keys {
  const { name, type, bits, shift, bit, signed, code, byteOrder, wordOrder, scale, unit, specialCounts, ...rest } =
    point.description as unknown as Keys;
  return { ...rest, module: point.module, accuracy: (scale as { accuracy?: unknown } | undefined)?.accuracy };
}

function keysThatDiffer(old: Keys, now: Keys): string[] {
  return [...new Set([...Object.keys(old), ...Object.keys(now)])].flatMap((key) => {
    const [before, after] = [canonical(old[key]), canonical(now[key])];
    return before === after ? [] : [`${key}: ${before} → ${after}`];
  });
}
