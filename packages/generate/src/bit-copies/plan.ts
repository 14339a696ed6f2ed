/**
 * What the target `bit-copies` tells, as plain data: the copies of every point for each way the image may be exposed, and
 * the arithmetic of every channel that has one in whole numbers.
 */
import { ByterailError, type Direction, type ImageLayout, type Layout, type PlacedPoint, unitOf } from "byterail";
import { curveOf } from "../point/curve.js";
import { decimalsOf } from "../point/fixedPoint.js";
import type { GenerateOptions } from "../target.js";
import { type ChannelArithmetic, channelArithmetic } from "./arithmetic.js";
import { derive, elementCount, type ElementBits, type Elements, elementsOf, type PointCopies } from "./copies.js";

/** Both directions of the copies for one way to expose the image. */
export interface CopyPlan {
  readonly elements: Elements;
  readonly images: readonly {
    readonly image: ImageLayout;
    readonly count: number;
    readonly points: readonly PointCopies[];
  }[];
}

/** The arithmetic of one point. */
export interface ChannelRow {
  readonly direction: Direction;
  readonly point: PlacedPoint;
  readonly unit: string | null;
  readonly arithmetic: ChannelArithmetic;
  /** The narrowest integer type that holds every number on the way, or null where even 64 bits would not. */
  readonly type: "DINT" | "LINT" | null;
}

/** The copies for the width asked for; without one, for 8, 16 and 32 bits. */
export function copyPlans(layout: Layout, options: GenerateOptions): CopyPlan[] {
  const widths: readonly (ElementBits | undefined)[] =
    options.elements === undefined ? [8, 16, 32] : [options.elements];
  return widths.map((bits) => {
    const elements = elementsOf({ ...options, ...(bits && { elements: bits }) });
    const images = [layout.inputs, layout.outputs].map((image) => ({
      image,
      count: elementCount(image, elements),
      points: derive(image, elements),
    }));
    return { elements, images };
  });
}

/** The channels of a direction that can be scaled in whole numbers. */
export function channelRows(image: ImageLayout, options: GenerateOptions): ChannelRow[] {
  const { direction } = image;
  return image.points.flatMap((point) => {
    const arithmetic = channelArithmetic(point, direction, decimalsFor(point, options));
    return arithmetic ? [{ direction, point, unit: unitOf(point), arithmetic, type: integerTypeFor(arithmetic) }] : [];
  });
}

/** The narrowest signed integer type that holds everything on the way of a channel, or null. */
export function integerTypeFor({ largest, from, to }: ChannelArithmetic): "DINT" | "LINT" | null {
  const most = [largest, ...from, ...to].map((n) => (n < 0n ? -n : n)).reduce((a, b) => (a > b ? a : b));
  return most < 1n << 31n ? "DINT" : most < 1n << 63n ? "LINT" : null;
}

/**
 * Decimals of the fixed-point value of a point: as asked for, else as many as its values have, up to three.
 *
 * @throws `ByterailError` `option.decimals`
 */
export function decimalsFor(point: PlacedPoint, { decimals }: GenerateOptions): number {
  if (decimals === undefined) {
    const curve = curveOf(point);
    return (curve && decimalsOf(curve)) ?? 0;
  }
  if (Number.isInteger(decimals) && decimals >= 0 && decimals <= 6) return decimals;
  throw new ByterailError([
    { code: "option.decimals", path: "options.decimals", message: `must be 0 to 6, not ${decimals}` },
  ]);
}
