/**
 * The live view: an object over bytes whose properties are the points. Reading a property reads its bits then and there;
 * assigning one checks the value and changes its bits, no other. Its accessors are defined once per layout.
 */
import type { ImageLayout } from "../layout/layout.js";
import { patternFor } from "./access.js";
import { type AnyImage, checkLength, planOf } from "./plan.js";

type ViewClass = new (bytes: Uint8Array) => object;

const classes = new WeakMap<AnyImage, ViewClass>();

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
 * @throws {@link ByterailError} `image.length`; on assignment, that the value is not accepted
 */
export function view<V>(image: ImageLayout<V, any, any>, bytes: Uint8Array): V {
  if (bytes.length !== image.byteLength || !(bytes instanceof Uint8Array)) checkLength(image, bytes);
  let View = classes.get(image);
  if (!View) {
    View = viewOf(image);
    classes.set(image, View);
  }
  return new View(bytes) as V;
}

function viewOf(image: AnyImage): ViewClass {
  class View {
    readonly #bytes: Uint8Array;
    constructor(bytes: Uint8Array) {
      this.#bytes = bytes;
    }
    static bytesOf(view: View): Uint8Array {
      return view.#bytes;
    }
  }
  for (const access of planOf(image).accesses) {
    const { point, bits, toValue } = access;
    Object.defineProperty(View.prototype, point.name, {
      enumerable: true,
      get(this: View) {
        return toValue(bits.read(View.bytesOf(this), 0));
      },
      set(this: View, value: unknown) {
        bits.write(View.bytesOf(this), 0, patternFor(access, value));
      },
    });
  }
  return View;
}
