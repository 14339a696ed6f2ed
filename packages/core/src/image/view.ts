/**
 * The live view: an object over bytes whose properties are the points. Reading a property reads its bits then and there;
 * assigning one checks the value and changes its bits, no other. Its accessors are defined once per layout.
 */
import type { ImageLayout } from "../layout/layout.js";
import { writerOf } from "./access.js";
import { checkLength, planOf } from "./plan.js";

/**
 * A typed view over the bytes of an image. It keeps the bytes, so what the scanner writes there shows at once.
 *
 * @example
 * ```ts
 * import { assemble, view } from "byterail";
 * const { outputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "valves", outputs: [{ name: "rinse", type: "bit" }, { name: "steam", type: "bit" }] }],
 * });
 * const bytes = new Uint8Array(1);
 * const valves = view(outputs, bytes);
 * valves.steam = true;
 * bytes; // → new Uint8Array([0b10])
 * ```
 * @throws `ByterailError` `image.length`; on assignment, that the value is not accepted
 */
export function view<V>(image: ImageLayout<V, unknown, unknown>, bytes: Uint8Array): V {
  const plan = planOf(image);
  plan.view ??= viewer(image);
  return plan.view(bytes) as V;
}

/**
 * Makes views of one layout: what `view` does, without looking the layout up each time.
 *
 * @returns a function from bytes to their view
 */
export function viewer<V>(image: ImageLayout<V, unknown, unknown>): (bytes: Uint8Array) => V {
  class View extends Live {}
  for (const access of planOf(image).accesses) {
    const { point, read } = access;
    const write = writerOf(access);
    Object.defineProperty(View.prototype, point.name, {
      enumerable: true,
      get(this: View) {
        return read(Live.bytesOf(this), 0);
      },
      set(this: View, value: unknown) {
        write(Live.bytesOf(this), value);
      },
    });
  }
  return (bytes) => {
    checkLength(image, bytes);
    return new View(bytes) as V;
  };
}

// One class for all layouts, so that the bytes of a view are found in the same way in each.
class Live {
  readonly #bytes: Uint8Array;
  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }
  static bytesOf(view: Live): Uint8Array {
    return view.#bytes;
  }
}
