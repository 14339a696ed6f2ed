// Forcing against a model: a plain map of what is held and until when. Whatever was done, faults in the middle included,
// letting go of all leaves exactly the program's image.

import { type DisposableForcing, forcing } from "@byterail/commissioning";
import { assemble, ByterailError, encode, patch } from "byterail";
import fc from "fast-check";
import { expect, test } from "vitest";
import { kegStation } from "./kegStation.js";

const { outputs } = assemble(kegStation as never);
const layout = { station: kegStation, outputs };
type Values = Record<string, boolean | number>;

interface Model {
  readonly held: Map<string, { readonly value: boolean | number; readonly until: number }>;
  ms: number;
  program: Uint8Array;
  closed: boolean;
}

interface Real {
  readonly forces: DisposableForcing<Values>;
  readonly clock: { ms: number };
}

const names = outputs.points.map(({ name }) => name);
const zeros: Values = Object.fromEntries(
  outputs.points.map(({ name, kind }) => [name, kind === "boolean" ? false : 0]),
);
const pair = ["clampDown", "clampUp"];

function expire(model: Model) {
  for (const [name, { until }] of model.held) if (until <= model.ms) model.held.delete(name);
}

function agree({ held, program }: Model, { forces }: Real) {
  const values = Object.fromEntries([...held].map(([name, { value }]) => [name, value]));
  expect(forces.active.map(({ name, value }) => [name, value]).sort()).toEqual(Object.entries(values).sort());
  const before = new Uint8Array(program);
  expect(forces.apply(program)).toEqual(patch(outputs, new Uint8Array(program), values));
  expect(program).toEqual(before);
}

// Any name and any value: encode decides whether it may be.
function isAccepted(name: string, value: unknown): boolean {
  try {
    encode(outputs, { ...zeros, [name]: value } as Values);
    return value !== undefined;
  } catch (error) {
    if (error instanceof ByterailError) return false;
    throw error;
  }
}

class Force implements fc.Command<Model, Real> {
  constructor(
    readonly name: string,
    readonly value: unknown,
    readonly seconds: number | undefined,
  ) {}
  check = () => true;
  run(model: Model, real: Real) {
    expire(model);
    const { name, value, seconds } = this;
    const bothOn =
      value === true &&
      pair.includes(name) &&
      pair.some((other) => other !== name && model.held.get(other)?.value === true);
    const fits = isAccepted(name, value) && !bothOn && !model.closed && (seconds === undefined || seconds > 0);
    const act = () => real.forces.force(name, value as never, seconds === undefined ? {} : { for: seconds });
    if (fits) {
      act();
      model.held.set(name, {
        value: value as boolean | number,
        until: seconds === undefined ? Number.POSITIVE_INFINITY : model.ms + 1000 * seconds,
      });
    } else expect(act).toThrow(ByterailError);
    agree(model, real);
  }
  toString = () => `force(${this.name}, ${String(this.value)}, for ${this.seconds})`;
}

class Release implements fc.Command<Model, Real> {
  constructor(readonly name: string) {}
  check = () => true;
  run(model: Model, real: Real) {
    expire(model);
    if (names.includes(this.name)) expect(real.forces.release(this.name)).toBe(model.held.delete(this.name));
    else expect(() => real.forces.release(this.name)).toThrow(ByterailError);
    agree(model, real);
  }
  toString = () => `release(${this.name})`;
}

class ReleaseAll implements fc.Command<Model, Real> {
  check = () => true;
  run(model: Model, real: Real) {
    real.forces.releaseAll();
    model.held.clear();
    expect(real.forces.apply(model.program)).toEqual(model.program);
    agree(model, real);
  }
  toString = () => "releaseAll()";
}

class Program implements fc.Command<Model, Real> {
  constructor(readonly bytes: Uint8Array) {}
  check = () => true;
  run(model: Model, real: Real) {
    expire(model);
    model.program = this.bytes;
    agree(model, real);
  }
  toString = () => `program(${[...this.bytes]})`;
}

class WrongImage implements fc.Command<Model, Real> {
  constructor(readonly length: number) {}
  check = () => this.length !== outputs.byteLength;
  run(model: Model, real: Real) {
    expire(model);
    expect(() => real.forces.apply(new Uint8Array(this.length))).toThrow(ByterailError);
    agree(model, real);
  }
  toString = () => `apply(${this.length} bytes)`;
}

class Wait implements fc.Command<Model, Real> {
  constructor(readonly ms: number) {}
  check = () => true;
  run(model: Model, real: Real) {
    model.ms += this.ms;
    real.clock.ms = model.ms;
    expire(model);
    agree(model, real);
  }
  toString = () => `wait(${this.ms} ms)`;
}

class Close implements fc.Command<Model, Real> {
  check = () => true;
  run(model: Model, real: Real) {
    expire(model);
    if (model.held.size > 0) expect(() => real.forces.close()).toThrow(ByterailError);
    else {
      real.forces.close();
      model.closed = true;
    }
    agree(model, real);
  }
  toString = () => "close()";
}

const name = fc.oneof(
  { weight: 9, arbitrary: fc.constantFrom(...names) },
  fc.constantFrom("steem", "airOk", "__proto__", "constructor"),
);
const value = fc.oneof(
  fc.boolean(),
  fc.constantFrom(0, 50, 80, 80.1, 255, 256, Number.NaN, -0, undefined, null, "true", 1n),
);
const seconds = fc.option(fc.constantFrom(0.5, 1, 2, 60, 0, -1), { nil: undefined });
const program = fc.uint8Array({ minLength: outputs.byteLength, maxLength: outputs.byteLength });

const commands = fc.commands<Model, Real>(
  [
    fc.tuple(name, value, seconds).map((given) => new Force(...given)),
    fc.tuple(fc.constantFrom(...names.slice(0, 8)), fc.boolean(), seconds).map((given) => new Force(...given)),
    name.map((given) => new Release(given)),
    fc.constant(new ReleaseAll()),
    program.map((given) => new Program(given)),
    fc.integer({ min: 0, max: 12 }).map((given) => new WrongImage(given)),
    fc.constantFrom(0, 100, 500, 1000, 5000).map((given) => new Wait(given)),
    fc.constant(new Close()),
  ],
  { maxCommands: 40 },
);

test("any sequence of operations agrees with the model, and releaseAll then leaves exactly the program's image", () => {
  fc.assert(
    fc.property(commands, program, (sequence, last) => {
      const clock = { ms: 0 };
      const real: Real = { clock, forces: forcing(layout as never, { now: () => clock.ms }) };
      const model: Model = { held: new Map(), ms: 0, program: new Uint8Array(outputs.byteLength), closed: false };
      fc.modelRun(() => ({ model, real }), sequence);
      real.forces.releaseAll();
      expect(real.forces.apply(last)).toEqual(last);
      expect(real.forces.active).toEqual([]);
      real.forces.close();
      // Every change that begins a hold has one that ends it.
      const count = (...kinds: string[]) => real.forces.log.filter(({ what }) => kinds.includes(what)).length;
      expect(count("forced")).toBe(count("released", "expired", "disposed"));
    }),
    { numRuns: 300 },
  );
});
