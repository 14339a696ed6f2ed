/**
 * The live view: an object over bytes whose properties are the points. Reading a property reads its bits then and there;
 * assigning one checks the value and changes its bits, no other. Its accessors are defined once per layout.
 */
import type { ImageLayout } from "../layout/layout.js";
import { type Access, writeAnyway } from "./access.js";
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
  class View implements Live {
    declare readonly [held]: Uint8Array;
    constructor(bytes: Uint8Array) {
      this[held] = bytes;
    }
  }
  for (const access of planOf(image).accesses)
    Object.defineProperty(View.prototype, access.point.name, { enumerable: true, ...propertyOf(access) });
  return (bytes) => {
    checkLength(image, bytes);
    return new View(bytes) as V;
  };
}

// A symbol is found as fast as a plain property, is no name that a point could have, and is left out by JSON. A private
// field takes a common base class, whose constructor costs as much as reading five points.
const held = Symbol("bytes");

interface Live {
  readonly [held]: Uint8Array;
}

// A getter for each kind: each then reads in one way, which the engine compiles into it.
function propertyOf(access: Access): PropertyDescriptor & ThisType<Live> {
  const { kind, read, write } = access.lane;
  const getters = {
    flag(this: Live) {
      return read(this[held]);
    },
    short(this: Live) {
      return read(this[held]);
    },
    other(this: Live) {
      return read(this[held]);
    },
  };
  return {
    get: getters[kind],
    set(this: Live, value: unknown) {
      if (!write(this[held], value)) writeAnyway(access, this[held], value);
    },
  };
}
