/**
 * The plan of an image: the accesses of its points, made on first use and kept as long as the layout lives, so that a
 * layout stays plain data and a call per cycle costs no set-up.
 */
import type { ImageLayout, ModuleExtent } from "../layout/layout.js";
import { fail, printable } from "../problem.js";
import { type Access, accessTo, type PointValue } from "./access.js";
import { type Copy, nextCopy } from "./copy.js";
import type { Lane } from "./lane.js";

/** Any image layout, whatever the types of its values. */
export type AnyImage = ImageLayout<unknown, unknown, unknown>;

/** Accesses of one image, in the order of its points and by name. */
export interface Plan {
  readonly accesses: readonly Access[];
  readonly byName: ReadonlyMap<string, Access>;
  readonly whole: Group;
  /** Groups by module, in the order of placement. */
  readonly modules: readonly (readonly [name: string, group: Group])[];
  /** Makes live views, once one was asked for. */
  view?: (bytes: Uint8Array) => unknown;
}

/** Points that become one object, by the way they are read. */
export interface Group {
  /** Flags and short numbers apart: a loop whose calls all lead to the same code is compiled into one piece. */
  readonly flags: readonly Lane<boolean>[];
  readonly numbers: readonly Lane<number>[];
  readonly others: readonly Lane[];
  /** Copies {@link Group.last}. */
  readonly copy: Copy;
  /** The object of the last frame; a copy of it has every key from the start, which is faster than growing one. */
  readonly last: Record<string, PointValue>;
  /** What it has of the flags and of the numbers. */
  readonly seenFlags: (boolean | null)[];
  readonly seenNumbers: Float64Array;
}

const plans = new WeakMap<AnyImage, Plan>();
// A program asks for the same image cycle after cycle; this is faster than looking it up.
let latestImage: AnyImage | undefined;
let latestPlan: Plan | undefined;

/** The plan of an image layout. */
export function planOf(image: AnyImage): Plan {
  return image === latestImage ? latestPlan! : findPlan(image);
}

function findPlan(image: AnyImage): Plan {
  latestPlan = plans.get(image) ?? makePlan(image);
  latestImage = image;
  return latestPlan;
}

function makePlan(image: AnyImage): Plan {
  const accesses = image.points.map((point) => accessTo(point, image.direction));
  const byModule = new Map(image.modules.map(({ name }) => [name, [] as Access[]]));
  for (const access of accesses) byModule.get(access.point.module)!.push(access);
  const plan = {
    accesses,
    byName: new Map(accesses.map((access) => [access.point.name, access])),
    whole: groupOf(accesses),
    modules: [...byModule].map(([name, own]) => [name, groupOf(own)] as const),
  };
  plans.set(image, plan);
  return plan;
}

function groupOf(accesses: readonly Access[]): Group {
  const lanes = (kind: Lane["kind"]) => accesses.map(({ lane }) => lane).filter((lane) => lane.kind === kind);
  const flags = lanes("flag") as Lane<boolean>[];
  const numbers = lanes("short") as Lane<number>[];
  return {
    flags,
    numbers,
    others: lanes("other"),
    copy: nextCopy(),
    // The copy takes fields of any kind, whatever other objects with these keys hold.
    last: { ...Object.fromEntries(accesses.map(({ point }) => [point.name, false])) },
    seenFlags: flags.map(() => null),
    seenNumbers: new Float64Array(numbers.length).fill(Number.NaN),
  };
}

/**
 * Refuses bytes of a wrong length; where one module's size explains the difference, the message names it.
 *
 * @throws `ByterailError` `image.length`, or `image.bytes` for what is no `Uint8Array`
 */
export function checkLength(image: AnyImage, bytes: Uint8Array): void {
  if (!(bytes instanceof Uint8Array) || bytes.length !== image.byteLength) refuseBytes(image, bytes);
}

// Apart, so that what is called for every frame stays short.
function refuseBytes({ byteLength, direction, modules }: AnyImage, bytes: Uint8Array): void {
  if (!(bytes instanceof Uint8Array)) fail("image.bytes", direction, "must be a Uint8Array (a Node Buffer is one)");
  const surplus = bytes.length - byteLength;
  const size = Math.abs(surplus);
  const suspects = modules.filter(({ bytes: own }: ModuleExtent) => own === size).map(({ name }) => name);
  const hint = suspects.length > 0 ? `, the size of module ${suspects.join(" or ")}` : "";
  fail(
    "image.length",
    direction,
    `has ${byteLength} bytes, not ${bytes.length}: ${size} too ${surplus < 0 ? "few" : "many"}${hint}`,
  );
}

/** The access of a point by name. */
export function accessOf(image: AnyImage, name: string): Access {
  return planOf(image).byName.get(name) ?? fail("value.unknown", printable(name), unknownPoint(image));
}

/** What to say of a name that no point has. */
export function unknownPoint({ direction }: AnyImage): string {
  return `is no point of the ${direction} (case counts here)`;
}
