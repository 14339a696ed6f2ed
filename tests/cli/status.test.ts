import { spawn } from "node:child_process";
import { once } from "node:events";
import { expect, test } from "vitest";
import { testWith } from "../support/tool.js";
import { byterail, byterailOnTerminal, command, json, kegWasher } from "./byterail.js";

test.each([
  ["no command", [], "Usage:"],
  ["an unknown command", ["mop"], "error: unknown command 'mop'"],
  ["no station", ["map"], "error: missing required argument 'STATION'"],
  ["an unknown option", ["map", kegWasher, "--shiny"], "error: unknown option '--shiny'"],
  ["a counting that is none", ["map", kegWasher, "--count", "nibbles"], "error: option '--count"],
  ["a start before 0", ["map", kegWasher, "--inputs-at", "-1"], "error: option '--inputs-at"],
  ["a start between bytes", ["map", kegWasher, "--outputs-at", "1.5"], "error: option '--outputs-at"],
  ["neither direction", ["decode", kegWasher], "error: one of --inputs and --outputs is needed"],
  ["both directions", ["decode", kegWasher, "--inputs", "00", "--outputs", "00"], "error: option '--inputs"],
  ["bytes without quotes", ["decode", kegWasher, "--inputs", "00", "01"], "error: too many arguments"],
  ["standard input twice", ["encode", "-", "--outputs", "-"], "error: only one thing can come from standard input"],
  ["clamping counts", ["encode", kegWasher, "--raw", "--outputs", "{}", "--out-of-range", "clamp"], "error: option"],
])("%s is wrong usage", (_, args, first) => {
  const { status, out, err } = byterail(args);
  expect({ status, out }).toEqual({ status: 2, out: "" });
  expect(err.slice(0, first.length)).toBe(first);
});

test.each([
  ["no such file", ["map", "nowhere.json"], "file.read nowhere.json: "],
  ["a folder", ["map", "."], "file.read .: "],
  ["no such values", ["encode", kegWasher, "--outputs", "@nowhere.json"], "file.read nowhere.json: "],
  ["half a byte", ["decode", kegWasher, "--inputs", "0"], "hex.syntax --inputs: "],
  ["a digit that is none", ["decode", kegWasher, "--inputs", "0G"], "hex.syntax --inputs: "],
  ["too few bytes", ["decode", kegWasher, "--inputs", ""], "image.length inputs: "],
  ["values that are no JSON", ["encode", kegWasher, "--outputs", "{"], "json.syntax --outputs "],
  [
    "a value given twice",
    ["encode", kegWasher, "--outputs", `{"a":1,"a":1}`],
    "json.repeated --outputs line 1 column 8: ",
  ],
  ["no object of values", ["encode", kegWasher, "--outputs", "5", "--onto", "00"], "value.type --outputs: "],
  ["a list of values", ["encode", kegWasher, "--outputs", "[]"], "value.type --outputs: "],
])("%s is a fault of the input, told as code, path and message", (_, args, first) => {
  const { status, out, err } = byterail(args);
  expect({ status, out }).toEqual({ status: 1, out: "" });
  expect(err.slice(0, first.length)).toBe(first);
  expect(err.trimEnd()).not.toContain("\n");
});

test("version and help are no faults", () => {
  expect(byterail(["--version"])).toMatchObject({
    status: 0,
    out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/),
    err: "",
  });
  const help = byterail(["--help"]);
  expect(help).toMatchObject({ status: 0, err: "" });
  for (const name of ["map", "decode", "encode", "check"]) expect(help.out).toMatch(new RegExp(`^  ${name} `, "m"));
});

const faulty = `{ "format": 1, "name": "2nd", "byteOrder": "big", "colour": 1, "modules": [{ "name": "a" }, { "name": "A" }] }`;

test("check tells every problem on standard error, one a line", () => {
  const { status, out, err } = byterail(["check", "-"], faulty);
  expect({ status, out }).toEqual({ status: 1, out: "standard input: 3 problems, no warnings\n" });
  expect(
    err
      .trim()
      .split("\n")
      .map((line) => line.split(" ")[0])
      .sort(),
  ).toEqual([...["key.unknown", "name.duplicate", "name.illegal"]]);
});

test("check tells the problems to machines as well", () => {
  const { status, out } = byterail(["check", "-", "--json"], faulty);
  expect(status).toBe(1);
  expect(JSON.parse(out)).toEqual({ problems: expect.any(Array), warnings: [] });
  expect(JSON.parse(out).problems).toHaveLength(3);
});

test("check says so when there is nothing to tell, and marks warnings", () => {
  const clean = `{ "format": 1, "name": "drain", "byteOrder": "big", "modules": [] }`;
  expect(byterail(["check", "-"], clean)).toEqual({
    status: 0,
    out: "standard input: no problems, no warnings\n",
    err: "",
  });
  const { status, out, err } = byterail(["check", kegWasher]);
  expect({ status, err }).toEqual({ status: 0, err: "" });
  expect(out.match(/^warning placement\.oddByte .+: .+$/gm)).toHaveLength(6);
  expect(json(["check", kegWasher])).toMatchObject({ problems: [], warnings: { length: 6 } });
});

test("a text that is no UTF-8 is refused before a unit is garbled", async () => {
  const child = spawn(process.execPath, [command, "check", "-"], { stdio: ["pipe", "ignore", "pipe"] });
  child.stdin.end(Buffer.from(`{ "unit": "\xb0C" }`, "latin1"));
  const [err] = (await once(child.stderr, "data")) as [Buffer];
  await once(child, "close");
  expect(String(err)).toMatch(/^file\.encoding standard input: /);
});

test("a reader that closes the pipe early is no error", async () => {
  const points = Array.from({ length: 2000 }, (_, k) => ({ name: `p${k}`, type: "bit" }));
  const station = { format: 1, name: "long", byteOrder: "big", modules: [{ name: "m", inputs: points }] };
  const child = spawn(process.execPath, [command, "map", "-", "--json"], { stdio: "pipe" });
  child.stdout.destroy();
  let err = "";
  child.stderr.on("data", (chunk) => {
    err += chunk;
  });
  child.stdin.end(JSON.stringify(station));
  const [status] = await once(child, "close");
  expect({ status, err }).toEqual({ status: 0, err: "" });
});

const zeros = "00 ".repeat(23);
const coloured = "\u001b[";

testWith("python3")("colours are for terminals, and NO_COLOR turns them off", () => {
  expect(byterail(["map", kegWasher]).out).not.toContain(coloured);
  expect(byterailOnTerminal(["map", kegWasher]).out).toContain(coloured);
  expect(byterailOnTerminal(["map", kegWasher], { NO_COLOR: "1" }).out).not.toContain(coloured);
});

testWith("python3")("encoding outputs on a terminal shows a caution, encoding inputs none", () => {
  const caution = /^Caution: outputs move machines\..*no safety function\.\r?$/m;
  expect(byterailOnTerminal(["encode", kegWasher, "--outputs", "{}", "--onto", zeros]).out).toMatch(caution);
  expect(byterailOnTerminal(["encode", kegWasher, "--inputs", "{}", "--onto", zeros.slice(9)]).out).not.toMatch(
    caution,
  );
});
