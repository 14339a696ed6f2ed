// What is made from the example station is committed, as goldens and for reading; it must be what the packages make now.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { stationSchema } from "byterail/schema";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { byterail, command } from "../cli/byterail.js";
import { kegWasher } from "../../examples/kegWasher.station.js";
import { pages, textOf, withOutputs } from "../../examples/pages.js";

const examples = join(import.meta.dirname, "../../examples");
const station = join(examples, "kegWasher.json");

test("kegWasher.json is the station of the example program, and its schema accepts it", () => {
  const fromFile: unknown = JSON.parse(readFileSync(station, "utf8"));
  expect(fromFile).toEqual(JSON.parse(JSON.stringify(kegWasher)));
  expect(new Ajv2020({ strict: false }).validate(stationSchema, fromFile)).toBe(true);
});

test.each([
  ["examples/generated", ["--to", "all"]],
  [
    "tests/goldens",
    [
      ...["--to", "structured-text", "bit-copies", "csv", "--elements", "16", "--element-order", "high-first"],
      ...["--arithmetic", "real", "--count", "words", "--inputs-at", "64"],
    ],
  ],
])("%s is fresh; `npm run demo` makes it anew", (folder, options) => {
  const { status, err } = byterail(["generate", station, "--out", join(examples, "..", folder), "--check", ...options]);
  expect(err.split("\n").filter((line) => line !== "" && !line.startsWith("note "))).toEqual([]);
  expect(status).toBe(0);
});

test("the loop-check sheet in examples/generated is fresh", () => {
  const committed = readFileSync(join(examples, "generated/kegWasher.sheet.html"), "utf8");
  expect(byterail(["sheet", station, "--html"]).out === committed, "`npm run demo` makes it anew").toBe(true);
});

describe.each(pages)("$file", (page) => {
  test("shows what its commands print; `npm run demo` writes it anew", () => {
    expect(textOf(page)).toBe(withOutputs(page, command));
  });

  test("shows what every command prints", () => {
    const commands = textOf(page).split("```sh\n").length - 1;
    expect(textOf(page).match(/```sh\nbyterail .*\n```\n\n```text\n[^`]/g)).toHaveLength(commands);
  });
});

test("the example programs run, and tell what the map tells", () => {
  const tsx = join(examples, "node_modules/.bin/tsx");
  const run = (program: string) => spawnSync(tsx, [program], { cwd: examples, encoding: "utf8" });
  const washer = run("kegWasher.ts");
  expect(washer.stderr).toBe("");
  expect(washer.stdout).toContain("An output payload, encoded:  05 00 00 00 A0 0F 88 13");
  expect(washer.stdout).toMatch(/supplyPressure +13\.92 mA +6\.2 +bar +ok/);
  // Modbus Application Protocol Specification V1.1b3, 6.3 and 6.2: 555, 0, 100 and inputs 197 to 218.
  const answers = run("modbusAnswers.ts");
  expect(answers.stdout).toContain("{ r108: 555, r109: 0, r110: 100 }");
  expect(answers.stdout).toContain("0011010111011011101011");
});
