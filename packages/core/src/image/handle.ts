/** One point of an image, kept at hand: for what is read or written on its own, many times. */
import type { ImageLayout } from "../layout/layout.js";
import type { PlacedPoint } from "../layout/point.js";
import { writeAnyway } from "./access.js";
import type { EncodeOptions } from "./encode.js";
import { accessOf, checkLength } from "./plan.js";

/** Reads and writes one point of an image. */
export interface PointHandle<T> {
  readonly point: PlacedPoint;
  /** Reads the value. Throws `image.length` for bytes of another length. */
  readonly read: (bytes: Uint8Array) => T;
  /** Checks the value, then changes its bits and no other. */
  readonly write: (bytes: Uint8Array, value: T, options?: EncodeOptions) => void;
}

/**
 * The handle of a point.
 *
 * @example
 * ```ts
 * import { assemble, pointHandle } from "byterail";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "meter", inputs: [{ name: "flow", type: "uint16" }] }],
 * });
 * pointHandle(inputs, "flow").read(new Uint8Array([0x02, 0x2b])); // → 555
 * ```
 * @throws `ByterailError` `value.unknown`
 */
export function pointHandle<V, N extends keyof V & string>(
  image: ImageLayout<V, unknown, unknown>,
  name: N,
): PointHandle<V[N]> {
  const access = accessOf(image, name);
  const { point, lane } = access;
  const { read, write } = lane;
  return {
    point,
    read: (bytes) => {
      checkLength(image, bytes);
      return read(bytes) as V[N];
    },
    write: (bytes, value, options) => {
      checkLength(image, bytes);
      if (!write(bytes, value)) writeAnyway(access, bytes, value, options?.outOfRange);
    },
  };
}
