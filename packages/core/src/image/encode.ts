/**
 * From values to bytes. Everything is checked before anything is written: a failing call leaves the bytes untouched and
 * reports every offending point.
 */
import type { ImageLayout } from "../layout/layout.js";
import { fail, type Problem, printable, throwIfAny } from "../problem.js";
import { isRecord } from "../station/names.js";
import { type Access, isRefusal, type OutOfRange, type Refusal } from "./access.js";
import { type AnyImage, checkLength, planOf, unknownPoint } from "./plan.js";

/** How encode treats values beyond what a point accepts. */
export interface EncodeOptions {
  /** `reject` (default), or `clamp` to the nearest value that the point accepts; what is no number is rejected all the same. */
  readonly outOfRange?: OutOfRange;
}

/**
 * Encodes values in engineering units into a new image. Every point is needed; spare bits are 0.
 *
 * Writing outputs moves machines: see the cautions in the README.
 *
 * @example
 * ```ts
 * import { assemble, encode } from "byterail";
 * const { outputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "little",
 *   modules: [{ name: "drives", outputs: [
 *     { name: "run", type: "bit" },
 *     { name: "speed", type: "uint16", scale: { counts: [0, 1000], signal: [0, 10], signalUnit: "V", value: [0, 100], unit: "%" } },
 *   ] }],
 * });
 * encode(outputs, { run: true, speed: 50 }); // → new Uint8Array([0x01, 0xf4, 0x01])
 * encode(outputs, { run: true, speed: 150 }); // throws value.limits
 * ```
 * @throws `ByterailError` with one problem for every value that is missing, unknown or not accepted
 */
export function encode<V>(image: ImageLayout<V, unknown, unknown>, values: V, options?: EncodeOptions): Uint8Array {
  const bytes = new Uint8Array(image.byteLength);
  if (writeQuickly(image, values, bytes)) return bytes;
  return write(bytes.fill(0), patternsOf(image, values, "every", valueWith(options)));
}

/** Encodes counts (patterns of reals) into a new image; only the type of each point limits them. */
export function encodeRaw<R>(image: ImageLayout<unknown, R, unknown>, raw: R): Uint8Array {
  return write(new Uint8Array(image.byteLength), patternsOf(image, raw, "every", rawOf));
}

/** Encodes values grouped by module, as `decodeByModule` returns them. */
export function encodeByModule<G>(
  image: ImageLayout<unknown, unknown, G>,
  groups: G,
  options?: EncodeOptions,
): Uint8Array {
  const named = Object.entries(groups ?? {}).flatMap(([module, group]) =>
    // A point under another module than its own is as unknown there as a misspelt one.
    Object.entries(group ?? {}).map(([name, value]) => [
      planOf(image).byName.get(name)?.point.module === module ? name : `${module}.${name}`,
      value,
    ]),
  );
  return encode(image, Object.fromEntries(named), options);
}

/** Encodes into bytes that are there already, of exactly the length of the image; spares and gaps become 0. */
export function encodeInto<V>(
  image: ImageLayout<V, unknown, unknown>,
  bytes: Uint8Array,
  values: V,
  options?: EncodeOptions,
): Uint8Array {
  checkLength(image, bytes);
  bytes.set(encode(image, values, options));
  return bytes;
}

/**
 * Changes the named points in existing bytes, and no other bit.
 *
 * @returns the same bytes
 * @throws `ByterailError` with every value that is unknown or not accepted; the bytes are then untouched
 */
export function patch<V>(
  image: ImageLayout<V, unknown, unknown>,
  bytes: Uint8Array,
  values: Partial<V>,
  options?: EncodeOptions,
): Uint8Array {
  checkLength(image, bytes);
  // One point alone, which the fast lane accepts or leaves as it is, needs no list of changes.
  const given: unknown = values;
  if (isRecord(given)) {
    const [name = "", more] = Object.keys(given);
    if (more === undefined && planOf(image).byName.get(name)?.lane.write(bytes, given[name])) return bytes;
  }
  return write(bytes, patternsOf(image, values, "given", valueWith(options)));
}

/** Changes the named points by their counts; see {@link patch}. */
export function patchRaw<R>(image: ImageLayout<unknown, R, unknown>, bytes: Uint8Array, raw: Partial<R>): Uint8Array {
  checkLength(image, bytes);
  return write(bytes, patternsOf(image, raw, "given", rawOf));
}

type ToPattern = (access: Access, value: unknown) => number | bigint | Refusal;
type Patterns = readonly (readonly [Access, number | bigint])[];

const rawOf: ToPattern = (access, raw) => access.fromRaw(raw);

function valueWith({ outOfRange = "reject" }: EncodeOptions = {}): ToPattern {
  return (access, value) => access.fromValue(value, outOfRange);
}

// One pass for values that are all accepted. At the first that is not it gives up, and the long way tells what is wrong.
function writeQuickly(image: AnyImage, given: unknown, bytes: Uint8Array): boolean {
  const { accesses, byName } = planOf(image);
  if (!isRecord(given) || Object.keys(given).length !== accesses.length) return false;
  let taken = 0;
  // `for … in` loads a value several times as fast as its name out of a list would; they mostly come in the order of the
  // image. A name that is not the object's own makes one too many.
  for (const name in given) {
    const next = accesses[taken]?.lane;
    const lane = next?.name === name ? next : byName.get(name)?.lane;
    const value = given[name];
    // One call for each kind: the engine compiles each kind's code into it.
    if (
      lane?.kind === "flag"
        ? lane.write(bytes, value)
        : lane?.kind === "short"
          ? lane.write(bytes, value)
          : lane?.write(bytes, value)
    )
      taken++;
    else return false;
  }
  return taken === accesses.length;
}

function patternsOf(image: AnyImage, given: unknown, wanted: "every" | "given", toPattern: ToPattern): Patterns {
  const { accesses, byName } = planOf(image);
  if (!isRecord(given)) fail("value.type", image.direction, "must be an object of values by name");
  const values: Record<string, unknown> = given;
  const problems: Problem[] = [];
  const patterns: [Access, number | bigint][] = [];
  for (const name of Object.keys(values))
    if (!byName.has(name))
      problems.push({ code: "value.unknown", path: printable(name), message: unknownPoint(image) });
  const named = wanted === "every" ? accesses : Object.keys(values).flatMap((name) => byName.get(name) ?? []);
  for (const access of named) {
    const { name, module } = access.point;
    const value = Object.hasOwn(values, name) ? values[name] : undefined;
    if (value !== undefined) {
      const result = toPattern(access, value);
      if (isRefusal(result)) problems.push({ path: name, ...result });
      else patterns.push([access, result]);
    } else if (wanted === "every")
      problems.push({ code: "value.missing", path: name, message: `of module ${module} is missing` });
  }
  throwIfAny(problems);
  return patterns;
}

function write(bytes: Uint8Array, patterns: Patterns): Uint8Array {
  for (const [{ bits }, pattern] of patterns) bits.write(bytes, 0, pattern);
  return bytes;
}
