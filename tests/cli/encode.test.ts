import { expect, test } from "vitest";
import { byterail, json, kegWasher } from "./byterail.js";

const values = { rinse: true, steam: false, speed: 25, dose: 369, batch: "-2", setpoint: 1 };
// IEC 61131-3, table 22: 369 is 0369h in BCD. IEEE 754: 1 is 3FF0000000000000h.
const bytes = "01 00 00 FA 00 69 03 02 00 00 00 00 00 00 80 00 00 00 00 00 00 F0 3F";
const zeros = "00 ".repeat(23);

test.each([
  ["text", [JSON.stringify(values)], ""],
  ["standard input", ["-"], JSON.stringify(values)],
])("values as %s become one line of hex pairs", (_, outputs, input) => {
  expect(byterail(["encode", kegWasher, "--outputs", ...outputs], input)).toEqual({
    status: 0,
    out: `${bytes}\n`,
    err: "",
  });
});

test("with --json the line is a text", () => {
  expect(json(["encode", kegWasher, "--outputs", JSON.stringify(values)])).toEqual({ bytes });
});

test.each([
  ["-0", "80"],
  [`"-0"`, "80"],
  ["0", "00"],
])("a 64-bit sign-magnitude number of %s ends in %s", (batch, last) => {
  const { out } = byterail(["encode", kegWasher, "--outputs", `{ "batch": ${batch} }`, "--onto", zeros]);
  expect(out.split(" ").slice(7, 15)).toEqual(["00", "00", "00", "00", "00", "00", "00", last]);
});

test("--onto changes the named points and no other bit", () => {
  const ones = "FF ".repeat(23);
  const { out } = byterail(["encode", kegWasher, "--outputs", `{ "steam": false }`, "--onto", ones]);
  expect(out.trim()).toBe(ones.replace("FF", "FD").trim());
});

test("a value beyond its limits is clamped only when asked for by name", () => {
  const run = (...args: string[]) =>
    byterail(["encode", kegWasher, "--outputs", `{ "speed": 250 }`, "--onto", zeros, ...args]);
  expect(run().err).toMatch(/^value\.limits speed: /);
  expect(run("--out-of-range", "clamp").out).toMatch(/^00 00 00 E8 03 /);
});

test.each([
  "02 00 00 F4 01 1A 00 00 00 00 00 00 00 00 80 00 00 00 00 00 00 F8 7F",
  "03 00 00 FF FF 99 99 FF FF FF FF FF FF FF FF 01 00 00 00 00 00 F0 FF",
])("counts survive the way to JSON and back: %s", (frame) => {
  const raw = byterail(["decode", kegWasher, "--outputs", frame, "--raw", "--json"]).out;
  expect(byterail(["encode", kegWasher, "--outputs", "-", "--raw"], raw).out).toBe(`${frame}\n`);
});

test("every offending point is told, one a line, and no byte is printed", () => {
  const given = `{ "rinse": 1, "steam": null, "speed": "50", "dose": 10000, "batch": 9007199254740993, "vent": true }`;
  const { status, out, err } = byterail(["encode", kegWasher, "--outputs", given]);
  expect({ status, out }).toEqual({ status: 1, out: "" });
  expect(
    err
      .trim()
      .split("\n")
      .map((line) => /^(\S+) (\S+): ./.exec(line)?.slice(1, 3).join(" ")),
  ).toEqual([
    ...["value.unknown vent", "value.type rinse", "value.type steam", "value.type speed", "value.range dose"],
    ...["value.type batch", "value.missing setpoint"],
  ]);
  expect(err).toContain("in JSON write it as a decimal text");
});

test("what is no 64-bit integer is a problem of its point, whatever it is", () => {
  const wrong = [null, true, 1.5, 1e30, "1.5", "12 ", "NaN", [1], { valueOf: 1 }];
  const inputs = wrong.map((_, k) => ({ name: `n${k}`, type: "uint64", limits: [0, 10] }));
  const station = { format: 1, name: "wide", byteOrder: "big", modules: [{ name: "m", inputs }] };
  const given = Object.fromEntries(wrong.map((value, k) => [`n${k}`, value]));
  const { status, out, err } = byterail(["encode", "-", "--inputs", JSON.stringify(given)], JSON.stringify(station));
  expect({ status, out }).toEqual({ status: 1, out: "" });
  const told = err.trim().split("\n");
  expect(told.map((line) => line.replace(/^value\.(type|range|limits) (n\d): .+$/, "$2"))).toEqual(Object.keys(given));
});

test("the cautions stand in the help, and nothing but bytes comes through a pipe", () => {
  const { out } = byterail(["encode", "--help"]);
  expect(out).toMatch(/lockout procedure/);
  expect(out).toMatch(/local codes and licensed practice come first/);
  expect(out).toMatch(/Neither this command nor the map is a safety function/);
});
