/** From bytes to values. Nothing is rejected or clamped by range: what the station sent is a fact. */
import type { ImageLayout } from "../layout/layout.js";
import type { PointValue, RawValue } from "./access.js";
import { checkLength, type Group, planOf } from "./plan.js";

/**
 * Decodes an image into values in engineering units, by name.
 *
 * @example
 * ```ts
 * import { assemble, decode } from "byterail";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "sensors", inputs: [
 *     { name: "flow", type: "int16", unit: "L/h" },
 *     { name: "level", type: "uint16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
 *   ] }],
 * });
 * // 02 2B | 00 64    flow = 555 L/h · level = 100 counts = 10 %
 * decode(inputs, new Uint8Array([0x02, 0x2b, 0x00, 0x64])); // → { flow: 555, level: 10 }
 * ```
 * @param bytes the whole image, of exactly `image.byteLength` bytes
 * @throws `ByterailError` `image.length`
 */
export function decode<V>(image: ImageLayout<V, unknown, unknown>, bytes: Uint8Array): V {
  checkLength(image, bytes);
  return read(planOf(image).whole, bytes) as V;
}

/**
 * Decodes an image into counts, by name; a real gives its bit pattern. Every frame survives `encodeRaw(decodeRaw(frame))`,
 * spares aside.
 *
 * @throws `ByterailError` `image.length`
 */
export function decodeRaw<R>(image: ImageLayout<unknown, R, unknown>, bytes: Uint8Array): R {
  checkLength(image, bytes);
  const values: Record<string, RawValue> = {};
  for (const { point, bits, toRaw } of planOf(image).accesses) values[point.name] = toRaw(bits.read(bytes, 0));
  return values as R;
}

/**
 * Decodes an image into one object per module: `{ sensors: { flow: 555 } }`.
 *
 * @throws `ByterailError` `image.length`
 */
export function decodeByModule<G>(image: ImageLayout<unknown, unknown, G>, bytes: Uint8Array): G {
  checkLength(image, bytes);
  const groups: Record<string, unknown> = {};
  for (const [name, group] of planOf(image).modules) groups[name] = read(group, bytes);
  return groups as G;
}

// A frame is mostly like the one before: what did not change stands in the object of the last frame, and the caller gets
// a copy of that. Storing a value under its name is what decoding costs.
function read(group: Group, bytes: Uint8Array): Record<string, PointValue> {
  const { flags, numbers, others, copy, last, seenFlags, seenNumbers } = group;
  for (let k = 0; k < flags.length; k++) {
    const flag = flags[k]!.read(bytes);
    if (flag !== seenFlags[k]) last[flags[k]!.name] = seenFlags[k] = flag;
  }
  for (let k = 0; k < numbers.length; k++) {
    const number = numbers[k]!.read(bytes);
    if (number !== seenNumbers[k]) last[numbers[k]!.name] = seenNumbers[k] = number;
  }
  for (const { name, read } of others) last[name] = read(bytes);
  return copy(last);
}
