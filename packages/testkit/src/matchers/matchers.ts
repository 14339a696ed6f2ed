/** The matchers as vitest and jest take them, and their types as a test sees them. */
import type { ImageLayout } from "byterail";
import { type DecodeOptions, toDecodeTo } from "./decode-to.js";
import { toEncodeAs } from "./encode-as.js";
import { type LayoutOptions, type Place, toHaveLayout } from "./have-layout.js";

/**
 * The matchers, for `expect.extend(matchers)`. With vitest, `import "@byterail/testkit/vitest"` does that and brings the
 * types along.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { matchers } from "@byterail/testkit";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "meter", inputs: [{ name: "flow", type: "uint16", unit: "L/h" }] }],
 * });
 * const result = matchers.toDecodeTo(new Uint8Array([0x2b, 0x02]), inputs, { flow: 555 });
 * result.pass; // → false
 * result.message().split("\n");
 * // → [
 * //   "expected the inputs to decode to the given values, but 1 of 1 point differs",
 * //   "",
 * //   "✗ 0  2B 02  flow  11010 L/h  expected 555 L/h = 02 2B; 10455 counts too high",
 * //   "",
 * //   "likely reason: flow matches with bytes exchanged" ]
 * ```
 */
export const matchers: {
  readonly toDecodeTo: typeof toDecodeTo;
  readonly toEncodeAs: typeof toEncodeAs;
  readonly toHaveLayout: typeof toHaveLayout;
} = { toDecodeTo, toEncodeAs, toHaveLayout };

/** Nothing to add, or why the values in a test are none of the image. */
export type Fitting<T, V> = [T] extends [V]
  ? [keyof T] extends [keyof V]
    ? unknown
    : "one of these names is no point of the image"
  : "these are no values of the image";

/** Names of the points of an image layout. */
export type PointsOf<T> = T extends ImageLayout<infer V, unknown, unknown> ? keyof V & string : never;

/**
 * The matchers as methods of what `expect` returns: `T` is what was received, `R` what an assertion returns. The entries
 * `@byterail/testkit/vitest` and `@byterail/testkit/jest` add it to the types of their runner.
 */
export interface ByterailMatchers<T, R = void> {
  /**
   * The bytes decode to these values, in engineering units; points that are not named may hold anything.
   *
   * @param image `layout.inputs` or `layout.outputs`
   * @param options `{ counts: 0.5 }` takes what encode would send for the value, `{ value: 0.01 }` is in value units
   */
  toDecodeTo<V>(image: ImageLayout<V, unknown, unknown>, values: Partial<NoInfer<V>>, options?: DecodeOptions): R;
  /**
   * The values encode as this frame, every byte of it.
   *
   * @param image `layout.inputs` or `layout.outputs`
   * @param frame bytes, or hex as `frameOf` reads it
   */
  toEncodeAs<V>(image: ImageLayout<V, unknown, unknown> & Fitting<T, NoInfer<V>>, frame: Uint8Array | string): R;
  /**
   * The points of this image stand at these places; points that are not named may stand anywhere.
   *
   * @param places by name: an address such as `%IW4`, or keys of the row in the byte map such as `{ byte: 4 }`
   */
  toHaveLayout(places: { readonly [K in PointsOf<T>]?: Place }, options?: LayoutOptions): R;
}
