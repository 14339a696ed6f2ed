// Forcing: what is held, what lets go, and that nothing is dropped in silence.

import { type DisposableForcing, forcing } from "@byterail/commissioning";
import { assemble, encode } from "byterail";
import { describe, expect, test, vi } from "vitest";
import { codesOf, problemsOf } from "../support/problems.js";
import { kegStation } from "./kegStation.js";

const layout = assemble(kegStation as never);
const idle = new Uint8Array(layout.outputs.byteLength);
type Table = DisposableForcing<Record<string, boolean | number | bigint>>;

function opened(): { forces: Table; clock: { ms: number } } {
  const clock = { ms: 1000 };
  return { forces: forcing(layout, { now: () => clock.ms }) as Table, clock };
}

test("a force is laid over the program's image, which stays as it is", () => {
  const { forces } = opened();
  const program = Uint8Array.from(idle, (_, k) => (k === 0 ? 0b1000 : 0));
  forces.force("steam", true);
  forces.force("pumpSpeed", 50);
  // steam is bit 5; 50 % is 500 counts = 01F4h, low byte first, at byte 3.
  expect(forces.apply(program)).toEqual(new Uint8Array([0b101000, 0, 0, 0xf4, 0x01, 0]));
  expect(program).toEqual(new Uint8Array([0b1000, 0, 0, 0, 0, 0]));
});

test("the overlay comes after every write of the program: what the program writes there does not pass", () => {
  const { forces } = opened();
  forces.force("steam", false);
  expect(forces.apply(new Uint8Array(6).fill(0xff))[0]).toBe(0b11011111);
});

test("a Buffer that shares its memory is left alone", () => {
  const { forces } = opened();
  const program = Buffer.from(idle);
  forces.force("steam", true);
  expect(forces.apply(program)[0]).toBe(0b100000);
  expect(program[0]).toBe(0);
});

test("release hands the output back to the program's value of that moment", () => {
  const { forces } = opened();
  forces.force("steam", true);
  expect(forces.release("steam")).toBe(true);
  expect(forces.release("steam")).toBe(false);
  expect(forces.apply(idle)).toEqual(idle);
});

test("a force that has run out is found by no release and stops no close", () => {
  const { forces, clock } = opened();
  forces.force("steam", true, { for: 1 });
  clock.ms = 2000;
  expect(forces.release("steam")).toBe(false);
  forces.force("steam", true, { for: 1 });
  clock.ms = 3000;
  forces.close();
  expect(forces.log.map(({ at, what }) => [at, what])).toEqual([
    [1000, "forced"],
    [2000, "expired"],
    [2000, "forced"],
    [3000, "expired"],
  ]);
});

test("a release says who let go; the clock is that of the computer where none is given", () => {
  const forces = forcing(layout) as Table;
  const before = Date.now();
  forces.force("steam", true);
  forces.release("steam", { by: "late shift" });
  expect(forces.log.map(({ what, by }) => [what, by])).toEqual([
    ["forced", null],
    ["released", "late shift"],
  ]);
  for (const { at } of forces.log) expect(before <= at && at <= Date.now()).toBe(true);
});

test("nothing of a table can be changed from outside", () => {
  const { forces } = opened();
  expect(Object.isFrozen(forces)).toBe(true);
});

test("the table tells what is held, since when and by whom", () => {
  const { forces, clock } = opened();
  forces.force("steam", true, { by: "early shift", for: 60 });
  clock.ms = 3000;
  forces.force("steam", false, { by: "late shift" });
  expect(forces.active).toEqual([{ name: "steam", value: false, since: 1000, until: null, by: "late shift" }]);
});

test("the log has every change, and a caution with whatever lets go", () => {
  const { forces, clock } = opened();
  forces.force("steam", true, { by: "a" });
  forces.force("steam", false);
  forces.force("drain", true, { for: 2 });
  clock.ms = 5000;
  forces.releaseAll({ by: "b" });
  expect(forces.log.map(({ at, what, name, value, by }) => [at, what, name, value, by])).toEqual([
    [1000, "forced", "steam", true, "a"],
    [1000, "changed", "steam", false, null],
    [1000, "forced", "drain", true, null],
    [3000, "expired", "drain", true, null],
    [5000, "released", "steam", false, "b"],
  ]);
  expect(forces.log.map(({ caution }) => caution?.includes("may move the machine") ?? false)).toEqual([
    false,
    false,
    false,
    true,
    true,
  ]);
});

test("what active and log return is a copy", () => {
  const { forces } = opened();
  forces.force("steam", true);
  (forces.active as unknown[]).pop();
  (forces.log as unknown[]).pop();
  expect([forces.active.length, forces.log.length]).toEqual([1, 1]);
});

describe("a force is checked as any encode, and a refused one changes nothing", () => {
  test.each([
    { name: "no output", point: "steem", value: true, code: "value.unknown" },
    { name: "an input", point: "airOk", value: true, code: "value.unknown" },
    { name: "another type", point: "steam", value: 1, code: "value.type" },
    { name: "no value", point: "steam", value: undefined, code: "value.missing" },
    { name: "beyond the limits", point: "pumpSpeed", value: 80.1, code: "value.limits" },
    { name: "no number", point: "pumpSpeed", value: Number.NaN, code: "value.type" },
    { name: "beyond the type", point: "recipe", value: 256, code: "value.range" },
  ])("$name: $code", ({ point, value, code }) => {
    const { forces } = opened();
    forces.force("drain", true);
    expect(codesOf(() => forces.force(point, value as never))).toEqual([code]);
    expect(codesOf(() => encode(layout.outputs, { ...zeros, [point]: value } as never))).toContain(code);
    expect(forces.active.map(({ name }) => name)).toEqual(["drain"]);
    expect(forces.log).toHaveLength(1);
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])("for %s seconds", (seconds) => {
    const { forces } = opened();
    expect(problemsOf(() => forces.force("steam", true, { for: seconds }))).toEqual([
      { code: "forcing.for", path: "steam", message: `must be forced for seconds above 0, not ${seconds}` },
    ]);
    expect(forces.active).toEqual([]);
  });

  test("no value at all", () => {
    const { forces } = opened();
    expect(problemsOf(() => forces.force("steam", undefined as never))).toEqual([
      { code: "value.missing", path: "steam", message: expect.stringContaining("needs a value") },
    ]);
  });

  test("releasing what is no output", () => {
    expect(codesOf(() => opened().forces.release("steem"))).toEqual(["value.unknown"]);
  });

  test("an image of another length", () => {
    expect(codesOf(() => opened().forces.apply(new Uint8Array(5)))).toEqual(["image.length"]);
  });
});

const zeros = Object.fromEntries(layout.outputs.points.map(({ name, kind }) => [name, kind === "boolean" ? false : 0]));

describe("exclusive outputs", () => {
  test("cannot both be forced on", () => {
    const { forces } = opened();
    forces.force("clampDown", true);
    expect(problemsOf(() => forces.force("clampUp", true))).toEqual([
      {
        code: "forcing.exclusive",
        path: "clampUp",
        message: "must not be on together with clampDown, which is forced on; release clampDown first",
      },
    ]);
    forces.force("clampUp", false);
    expect(codesOf(() => forces.force("clampUp", true))).toEqual(["forcing.exclusive"]);
    forces.force("clampDown", false);
    forces.force("clampUp", true);
    expect(forces.apply(idle)[0]).toBe(0b10);
  });

  test("a force may meet the program's own value: the clash is told, and not decided", () => {
    const { forces } = opened();
    forces.force("clampDown", true);
    const program = Uint8Array.from(idle, (_, k) => (k === 0 ? 0b10 : 0));
    expect(forces.clashes(program)).toEqual([["clampDown", "clampUp"]]);
    expect(forces.clashes(idle)).toEqual([]);
    expect(forces.apply(program)[0]).toBe(0b11);
  });
});

describe("exclusive outputs in several groups", () => {
  const outputs = ["raise", "lower", "hold", "lamp"].map((name) => ({ name, type: "bit" as const }));
  const exclusive = [
    ["raise", "lower"],
    ["lower", "hold"],
  ];
  const lift = assemble({
    format: 1,
    name: "lift",
    byteOrder: "big",
    modules: [{ name: "coils", outputs, exclusive }],
  });
  const open = () => forcing(lift, { now: () => 0 }) as Table;

  test("meet the others of every group, and no more", () => {
    const forces = open();
    forces.force("lower", true);
    expect([codesOf(() => forces.force("raise", true)), codesOf(() => forces.force("hold", true))]).toEqual([
      ["forcing.exclusive"],
      ["forcing.exclusive"],
    ]);
    forces.force("lamp", true);
    forces.release("lower");
    forces.force("raise", true);
    forces.force("hold", true);
    expect(forces.active.map(({ name }) => name)).toEqual(["lamp", "raise", "hold"]);
  });

  test("clash with what the program has on, once for each pair", () => {
    const forces = open();
    forces.force("lower", true);
    forces.force("lamp", true);
    expect(forces.clashes(new Uint8Array([0b1101]))).toEqual([
      ["lower", "raise"],
      ["lower", "hold"],
    ]);
    forces.force("lower", false);
    expect(forces.clashes(new Uint8Array([0b1111]))).toEqual([]);
  });
});

describe("a force for some seconds", () => {
  test("lets go by itself, at its time and not before", () => {
    const { forces, clock } = opened();
    forces.force("steam", true, { for: 1.5 });
    clock.ms = 2499;
    expect(forces.apply(idle)[0]).toBe(0b100000);
    clock.ms = 2500;
    expect(forces.apply(idle)).toEqual(idle);
    expect(forces.active).toEqual([]);
  });

  test("forced anew before its end holds for the new time", () => {
    const { forces, clock } = opened();
    forces.force("steam", true, { for: 1 });
    clock.ms = 1900;
    forces.force("steam", true, { for: 1 });
    clock.ms = 2800;
    expect(forces.active).toHaveLength(1);
  });

  test("forces that ran out together are logged in the order in which they ended", () => {
    const { forces, clock } = opened();
    forces.force("steam", true, { for: 3 });
    forces.force("drain", true, { for: 1 });
    clock.ms = 9000;
    expect(forces.log.slice(2).map(({ at, name }) => [at, name])).toEqual([
      [2000, "drain"],
      [4000, "steam"],
    ]);
  });
});

describe("the end of a table", () => {
  test("close with forces on lists them all and closes nothing", () => {
    const { forces } = opened();
    forces.force("steam", true, { by: "early shift" });
    forces.force("pumpSpeed", 20);
    const problems = problemsOf(() => forces.close());
    expect(problems.map(({ code, path }) => [code, path])).toEqual([
      ["forcing.active", "steam"],
      ["forcing.active", "pumpSpeed"],
    ]);
    expect(problems[0]!.message).toMatch(/forced to true by early shift.*may move the machine/);
    expect(forces.apply(idle)[0]).toBe(0b100000);
    expect(problems[1]!.message).toMatch(/^is still forced to 20; release it first\./);
    forces.releaseAll();
    expect(forces.log.slice(2).map(({ what, by }) => [what, by])).toEqual([
      ["released", null],
      ["released", null],
    ]);
    forces.close();
    expect(problemsOf(() => forces.force("steam", true))).toEqual([
      { code: "forcing.closed", path: "steam", message: "cannot be forced: the table is closed" },
    ]);
    expect(forces.apply(idle)).toEqual(idle);
    forces.close();
  });

  test("using releases at the end of the scope, also where the scope ends by a fault", () => {
    let kept: Table | undefined;
    const scope = () => {
      using forces = opened().forces;
      kept = forces;
      forces.force("steam", true);
      throw new Error("the line stopped");
    };
    expect(scope).toThrow("the line stopped");
    expect(kept!.active).toEqual([]);
    expect(kept!.log.map(({ what }) => what)).toEqual(["forced", "disposed"]);
    expect(codesOf(() => kept!.force("steam", true))).toEqual(["forcing.closed"]);
  });

  test("where the runtime has no Symbol.dispose, a table opens all the same and close guards", () => {
    vi.stubGlobal("Symbol", { iterator: Symbol.iterator });
    let forces: Table;
    try {
      forces = opened().forces;
    } finally {
      vi.unstubAllGlobals();
    }
    expect(Object.getOwnPropertySymbols(forces)).toEqual([]);
    expect(Object.getOwnPropertyNames(forces)).toEqual(Object.keys(forces));
    forces.force("steam", true);
    expect(codesOf(() => forces.close())).toEqual(["forcing.active"]);
    forces.releaseAll();
    forces.close();
  });
});
