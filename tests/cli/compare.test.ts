import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Comparison } from "@byterail/commissioning";
import { afterAll, expect, test } from "vitest";
import { byterail, json, kegWasher } from "./byterail.js";

const folder = mkdtempSync(join(tmpdir(), "byterail-compare-"));
afterAll(() => rmSync(folder, { recursive: true }));

// The next revision: one more bit before the sensors' words, another span, a renamed bit, a bit less.
const text = readFileSync(kegWasher, "utf8");
const later = join(folder, "later.json");
writeFileSync(
  later,
  text
    .replace(
      '"name": "sensors",\n      "inputs": [',
      '"name": "sensors",\n      "inputs": [{ "name": "ready", "type": "bit" },',
    )
    .replace('"value": [0, 10]', '"value": [0, 16]')
    .replace('"name": "kegPresent"', '"name": "kegOnHead"')
    .replace(
      ', "title": "Steam to the sterilising head" },\n        { "spareBits": 2 }',
      ' }, { "name": "air", "type": "bit" }',
    ),
);

test("a comparison for machines has every point, the modules and what an old partner would get", () => {
  const made = json(["compare", kegWasher, later]) as Comparison;
  const of = (name: string) => made.points.find((point) => point.name === name)!;
  expect(of("ready").changes).toEqual(["added"]);
  expect(of("causticTemp")).toMatchObject({ changes: ["moved"], old: { address: "%IW1" }, new: { address: "%IW2" } });
  expect(of("supply").changes).toEqual(["moved", "rescaled"]);
  expect(of("kegOnHead")).toMatchObject({ changes: ["renamed"], old: { name: "kegPresent" }, renamedBy: "guess" });
  expect(of("steam").changes).toEqual(["redescribed"]);
  expect(made.sizes.inputs).toEqual({ old: 20, new: 22, toldBy: "length" });
  expect(
    made.stale
      .find(({ name }) => name === "supply")!
      .overlaps.map(({ name }) => name)
      .sort(),
  ).toEqual(["causticTemp", "supply"]);
});

test("people get tables: what changed, what is affected, what the old map would read", () => {
  const { status, out, err } = byterail(["compare", kegWasher, later, "--width", "160"]);
  expect([status, err]).toEqual([0, ""]);
  expect(out).toMatch(/^kegWasher\nPoints: .*moved/);
  expect(out).toContain("Inputs: 20 → 22 bytes; the connection must be configured anew");
  expect(out).toMatch(/supply +moved, rescaled +%IW3 uint16 +%IW4 uint16 +scale\.value: \[0,10\] → \[0,16\]/);
  expect(out).toMatch(/renamed, a guess \(was/);
  expect(out).toMatch(/With the old map\n[\s\S]*inputs +supply +causticTemp \(8 bits\), supply \(8 bits\)/);
  expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(160);
});

test("--fail-on ends with 1 and names every such change, behind the tables", () => {
  const { status, out, err } = byterail(["compare", kegWasher, later, "--fail-on", "rescaled,resized,removed"]);
  expect(status).toBe(1);
  expect(out).toMatch(/^kegWasher\n/);
  expect(err.trimEnd().split("\n")).toEqual([
    "compare.rescaled inputs supply: moved, rescaled: %IW3 uint16 → %IW4 uint16; scale.value: [0,10] → [0,16]",
    "compare.resized inputs: 20 → 22 bytes",
  ]);
});

test("--fail-on of what did not happen ends with 0", () => {
  expect(
    byterail(["compare", kegWasher, kegWasher, "--fail-on", "moved,retyped,reordered,rescaled,renamed,added,removed"])
      .status,
  ).toBe(0);
});

test("a revision that is unchanged has no tables", () => {
  expect(byterail(["compare", kegWasher, kegWasher]).out).toBe(
    "kegWasher\nPoints: 14 unchanged\nInputs: 20 bytes, as before\nOutputs: 23 bytes, as before\n",
  );
});

test.each([
  { name: "an unknown change", args: [kegWasher, later, "--fail-on", "shifted"], status: 2 },
  { name: "one revision alone", args: [kegWasher], status: 2 },
  { name: "both from standard input", args: ["-", "-"], status: 2 },
  { name: "no such file", args: [kegWasher, join(folder, "none.json")], status: 1 },
])("$name: status $status", ({ args, status }) => {
  expect(byterail(["compare", ...args]).status).toBe(status);
});
