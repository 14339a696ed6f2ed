/** What changed between two frames of one image. */
import type { ImageLayout } from "../layout/layout.js";
import type { NumberBase } from "../station/description.js";
import type { PointValue } from "./access.js";
import { checkLength, planOf } from "./plan.js";

/** One point that changed. */
export interface Change {
  readonly name: string;
  readonly module: string;
  readonly before: PointValue;
  readonly after: PointValue;
}

/** How much of a change is none. */
export interface DiffOptions<N extends string = string> {
  /** Per point, in value units, in place of the `deadband` of the description. */
  readonly deadband?: { readonly [K in N]?: number };
}

/**
 * The points whose value differs by more than their deadband, in image order. Without a deadband any change of its bits
 * counts. Equal frames cost no more than comparing the bytes.
 *
 * @throws `ByterailError` `image.length`
 */
export function diff<V>(
  image: ImageLayout<V, unknown, unknown>,
  before: Uint8Array,
  after: Uint8Array,
  { deadband = {} }: DiffOptions<keyof V & string> = {},
): Change[] {
  checkLength(image, before);
  checkLength(image, after);
  let same = 0;
  while (same < before.length && before[same] === after[same]) same++;
  if (same === before.length) return [];
  const bands = deadband as Record<string, number | undefined>;
  return planOf(image).accesses.flatMap(({ point, bits, toValue }) => {
    const patterns = [bits.read(before, 0), bits.read(after, 0)] as const;
    if (patterns[0] === patterns[1]) return [];
    const [old, now] = [toValue(patterns[0]), toValue(patterns[1])];
    const band = bands[point.name] ?? (point.description as NumberBase).deadband ?? 0;
    if (band > 0 && Math.abs(Number(now) - Number(old)) <= band) return [];
    return [{ name: point.name, module: point.module, before: old, after: now }];
  });
}
