// Deep, huge and circular data: refused, never a crash.

import type { Entry } from "byterail";
import { examine } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { station, withInput, withModule } from "./answers.js";

describe("deep and odd data", () => {
  test("nesting of 100,000 levels is walked no deeper than a station goes", () => {
    let deep: unknown = [];
    for (let level = 0; level < 100_000; level++) deep = level % 2 ? [deep] : { modules: deep };
    for (const data of [
      deep,
      station({ modules: [deep] }),
      withInput(deep),
      withInput({ name: "n", type: "int16", scale: { counts: deep } }),
      station({ "x-own": deep }),
    ])
      expect(() => examine(data)).not.toThrow();
  });

  test("a station that holds itself is refused", () => {
    const loop = station();
    loop.modules = [loop];
    expect(examine(loop).layout).toBeNull();
  });

  test("a huge text is shown cut, control characters written out", () => {
    const [problem] = examine(station({ name: `\u001b[31m${"a".repeat(1e6)}` })).problems;
    expect(problem!.message.length).toBeLessThan(300);
    expect(problem!.message).toContain("\\u001b");
  });

  test("4,096 points are assembled, and a scrambled one of them is found", () => {
    const inputs: Entry[] = Array.from({ length: 4096 }, (_, k) => ({ name: `n${k}`, type: "bit" }));
    expect(examine(withModule({ inputs })).layout!.inputs.byteLength).toBe(512);
    expect(
      examine(
        withModule({ inputs: inputs.map((entry, k) => (k === 2000 ? { name: "n1", type: "bit" } : entry)) }),
      ).problems.map(({ path }) => path),
    ).toEqual(["modules[0] m › inputs[2000] n1"]);
  });
});
