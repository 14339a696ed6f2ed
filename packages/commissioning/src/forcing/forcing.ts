/**
 * Forcing: a table of outputs that a person holds at a value, laid over the image after every write of the program. It
 * changes nothing of the program's own image and keeps no copy of it, so letting go leaves nothing behind.
 *
 * Forced outputs move machines. One point at a time, machine in view, under the site's procedure; a force is no isolation
 * and this table is no safety function.
 */
import { ByterailError, decode, type ImageLayout, type PointValue, type Problem, patch, type Station } from "byterail";
import { releaseCaution } from "../cautions.js";
import { exclusiveOutputs } from "./exclusive.js";
import type { ForceLogEntry } from "./log.js";

/** An output that is held. */
export interface ActiveForce {
  readonly name: string;
  readonly value: PointValue;
  /** Since when it is forced, in milliseconds on the table's clock; a change of value does not begin it anew. */
  readonly since: number;
  /** When it lets go by itself, or null. */
  readonly until: number | null;
  readonly by: string | null;
}

/** The whole table. */
export interface ForcingOptions {
  /** The clock, in milliseconds, such as `Date.now` (default) or a cycle counter of the caller's. */
  readonly now?: () => number;
}

/** One force. */
export interface ForceOptions {
  /** Who forces, for the log. */
  readonly by?: string;
  /** Seconds after which it lets go by itself; above 0. Without it, it holds until it is released. */
  readonly for?: number;
}

/** One release. */
export interface ReleaseOptions {
  /** Who releases, for the log. */
  readonly by?: string;
}

/** A table of forced outputs. `V` are the values of the outputs by name. */
export interface Forcing<V = Record<string, PointValue>> {
  /**
   * Holds an output at a value, or changes the value that it is held at. The value is checked as `encode` checks it.
   *
   * @throws `ByterailError` `value.*` as `encode`, `forcing.exclusive` where another output of its group is forced on,
   * `forcing.for` for a time that is none, `forcing.closed`; the table is then as it was
   */
  readonly force: <N extends keyof V & string>(name: N, value: V[N], options?: ForceOptions) => void;
  /**
   * Lets go of an output: it follows the program's value of that moment again, **and may move the machine**.
   *
   * @returns whether it was forced
   * @throws `ByterailError` `value.unknown` for a name that is no output
   */
  readonly release: (name: keyof V & string, options?: ReleaseOptions) => boolean;
  /** Lets go of every output at once: all follow the program again, **and may move the machine**. */
  readonly releaseAll: (options?: ReleaseOptions) => void;
  /**
   * The program's image with the forces in place, as a new image; spares and everything not forced are the program's.
   *
   * @throws `ByterailError` `image.length`
   */
  readonly apply: (program: Uint8Array) => Uint8Array;
  /**
   * Outputs that would be on together although they are exclusive: one forced on while the program has another on. The
   * table writes just what is forced and does not decide between them.
   *
   * @throws `ByterailError` `image.length`
   */
  readonly clashes: (program: Uint8Array) => readonly (readonly [forced: string, other: string])[];
  /** The outputs that are held, in the order in which they were forced. A copy; forces that have run out are gone. */
  readonly active: readonly ActiveForce[];
  /** Every change so far. A copy. */
  readonly log: readonly ForceLogEntry[];
  /**
   * Closes the table; afterwards nothing can be forced. Closing twice is no error.
   *
   * @throws `ByterailError` `forcing.active` with one problem for every force that is still on; it stays on and the table open
   */
  readonly close: () => void;
}

/** The same where the runtime knows `using`: at the end of the scope every force is released, then the table is closed. */
export type DisposableForcing<V = Record<string, PointValue>> = Forcing<V> & Disposable;

/**
 * Opens a table of forced outputs. `using forces = forcing(layout)` lets go at the end of the scope; where the runtime has
 * no `Symbol.dispose`, end with `releaseAll()` and `close()`.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { forcing } from "@byterail/commissioning";
 * const layout = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "valves", outputs: [{ name: "rinse", type: "bit" }, { name: "steam", type: "bit" }] }],
 * });
 * const forces = forcing(layout, { now: () => 0 });
 * const program = new Uint8Array([0b10]); // the program has steam on
 * forces.force("rinse", true, { by: "test bench", for: 30 });
 * forces.apply(program); // → new Uint8Array([0b11])
 * forces.releaseAll(); // rinse follows the program again
 * forces.apply(program); // → new Uint8Array([0b10])
 * forces.close();
 * ```
 */
export function forcing<V>(
  layout: { readonly station: Station; readonly outputs: ImageLayout<V, unknown, unknown> },
  options: ForcingOptions = {},
): DisposableForcing<V> {
  const { now = Date.now } = options;
  const image = layout.outputs as ImageLayout;
  const exclusive = exclusiveOutputs(layout.station);
  const blank = new Uint8Array(image.byteLength);
  const table = new Map<string, ActiveForce>();
  const log: ForceLogEntry[] = [];
  let closed = false;

  const letGo = (force: ActiveForce, what: ForceLogEntry["what"], at: number, by: string | null) => {
    table.delete(force.name);
    log.push({ at, what, name: force.name, value: force.value, by, caution: releaseCaution });
  };
  // Time passes between calls only: every call looks first which forces have run out, in the order in which they did.
  const tick = (): number => {
    const time = now();
    const over = [...table.values()]
      .filter(({ until }) => until !== null && until <= time)
      .sort((a, b) => a.until! - b.until!);
    for (const force of over) letGo(force, "expired", force.until!, null);
    return time;
  };
  const apply = (program: Uint8Array): Uint8Array => {
    tick();
    const values = Object.fromEntries([...table.values()].map(({ name, value }) => [name, value]));
    // A Buffer's slice would share its memory.
    return patch(image, new Uint8Array(program), values);
  };
  const releaseEach = (what: "released" | "disposed", by: string | null) => {
    const time = tick();
    for (const force of [...table.values()]) letGo(force, what, time, by);
  };

  const forces: Forcing<V> = {
    force: (name, value, { by, for: seconds } = {}) => {
      const time = tick();
      if (closed) fail("forcing.closed", name, "cannot be forced: the table is closed");
      patch(image, new Uint8Array(blank), { [name]: value } as Record<string, never>);
      // A value left out is no value: patch would pass over it in silence.
      if (value === undefined) fail("value.missing", name, "needs a value to be forced to");
      if (seconds !== undefined && !(seconds > 0 && Number.isFinite(time + 1000 * seconds)))
        fail("forcing.for", name, `must be forced for seconds above 0, not ${String(seconds)}`);
      const other = value === true ? exclusive.get(name)?.find((each) => table.get(each)?.value === true) : undefined;
      if (other)
        fail(
          "forcing.exclusive",
          name,
          `must not be on together with ${other}, which is forced on; release ${other} first`,
        );
      const before = table.get(name);
      const until = seconds === undefined ? null : time + 1000 * seconds;
      table.set(name, { name, value: value as PointValue, since: before?.since ?? time, until, by: by ?? null });
      log.push({
        at: time,
        what: before ? "changed" : "forced",
        name,
        value: value as PointValue,
        by: by ?? null,
        caution: null,
      });
    },
    release: (name, { by } = {}) => {
      const time = tick();
      if (!image.points.some((point) => point.name === name))
        patch(image, new Uint8Array(blank), { [name]: true } as Record<string, never>);
      const force = table.get(name);
      if (force) letGo(force, "released", time, by ?? null);
      return force !== undefined;
    },
    releaseAll: ({ by } = {}) => releaseEach("released", by ?? null),
    apply,
    clashes: (program) => {
      const values = decode(image, apply(program));
      const on = [...table.values()].filter(({ value }) => value === true);
      return on.flatMap(({ name }) =>
        (exclusive.get(name) ?? []).filter((other) => values[other] === true).map((other) => [name, other] as const),
      );
    },
    get active() {
      tick();
      return [...table.values()];
    },
    get log() {
      tick();
      return [...log];
    },
    close: () => {
      tick();
      if (table.size > 0) throw new ByterailError([...table.values()].map(stillOn));
      closed = true;
    },
  };
  const dispose = () => {
    releaseEach("disposed", null);
    closed = true;
  };
  // Older browsers have no Symbol.dispose; there, `close` alone guards.
  if (Symbol.dispose) Object.defineProperty(forces, Symbol.dispose, { value: dispose });
  return Object.freeze(forces) as DisposableForcing<V>;
}

function stillOn({ name, value, by }: ActiveForce): Problem {
  const who = by === null ? "" : ` by ${by}`;
  return {
    code: "forcing.active",
    path: name,
    message: `is still forced to ${String(value)}${who}; release it first. ${releaseCaution}`,
  };
}

function fail(code: string, path: string, message: string): never {
  throw new ByterailError([{ code, path, message }]);
}
