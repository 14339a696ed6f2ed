import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { descriptionDigest } from "@byterail/generate";
import { parseStationText } from "byterail/schema";
import { parse } from "csv-parse/sync";
import { afterAll, describe, expect, test } from "vitest";
import { byterail, json, kegWasher } from "./byterail.js";

const folder = mkdtempSync(join(tmpdir(), "byterail-sheet-"));
afterAll(() => rmSync(folder, { recursive: true }));

const digest = descriptionDigest(parseStationText(readFileSync(kegWasher, "utf8")));

test("a page is printed unless something else is asked for, with the digest and the pictures of both images", () => {
  const { status, out, err } = byterail(["sheet", kegWasher]);
  expect([status, err]).toEqual([0, ""]);
  expect(out).toMatch(/^<!doctype html>/);
  expect(out).toContain(digest);
  expect(out.match(/<img /g)?.length).toBeGreaterThanOrEqual(2);
  expect(byterail(["sheet", kegWasher, "--html"]).out).toBe(out);
});

test.each([
  { option: "--markdown", begins: /^# Loop check: Keg washer, skid 2\n/ },
  { option: "--csv", begins: /^check,direction,point,/ },
])("$option", ({ option, begins }) => {
  const { status, out } = byterail(["sheet", kegWasher, option]);
  expect(status).toBe(0);
  expect(out).toMatch(begins);
});

interface Made {
  readonly method: { readonly combination: string };
  readonly loops: readonly {
    readonly name: string;
    readonly address: string;
    readonly rows: readonly { readonly percent: number }[];
  }[];
}

test("steps, the combination of errors and addresses are options", () => {
  const options = ["--steps", "0, 10,99.5", "--combine", "worst-case", "--inputs-at", "100"];
  const { method, loops } = json(["sheet", kegWasher, ...options]) as Made;
  expect(method.combination).toBe("worstCase");
  const supply = loops.find(({ name }) => name === "supply")!;
  expect(supply.rows.map(({ percent }) => percent)).toEqual([0, 10, 99.5, 99.5, 10, 0]);
  expect(supply.address).toBe("%IW103");
});

describe("--out", () => {
  test("writes the file, whole, and prints nothing", () => {
    const file = join(folder, "sheet.csv");
    const { status, out } = byterail(["sheet", kegWasher, "--csv", "--out", file]);
    expect([status, out]).toEqual([0, ""]);
    expect((parse(readFileSync(file, "utf8")) as string[][]).length).toBeGreaterThan(40);
    expect(readdirSync(folder)).toEqual(["sheet.csv"]);
  });

  test("a folder that is not there is the input's fault, in one line", () => {
    const { status, err } = byterail(["sheet", kegWasher, "--out", join(folder, "none", "sheet.html")]);
    expect(status).toBe(1);
    expect(err).toMatch(/^file\.write .*none.*: cannot be written: .*\n$/);
  });
});

test.each([
  { name: "two formats", options: ["--csv", "--markdown"], status: 2 },
  { name: "steps that are no numbers", options: ["--steps", "0,half"], status: 2 },
  { name: "steps that fall", options: ["--steps", "100,0"], status: 1 },
])("$name: status $status", ({ options, status }) => {
  const ran = byterail(["sheet", kegWasher, ...options]);
  expect([ran.status, ran.out]).toEqual([status, ""]);
});

test("help shows the cautions", () => {
  expect(byterail(["sheet", "--help"]).out).toMatch(/lockout procedure and a competent person/);
});
