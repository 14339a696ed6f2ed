import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { generate } from "@byterail/generate";
import { assemble } from "byterail";
import { parseStationText } from "byterail/schema";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { testWith } from "../support/tool.js";
import { byterail, byterailOnTerminal, kegWasher } from "./byterail.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "byterail-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const out = () => join(folder, "made");
const run = (...args: string[]) => byterail(["generate", kegWasher, "--out", out(), ...args]);
const read = (file: string) => readFileSync(join(out(), file), "utf8");

test("the files of the targets are written below the folder, and named", () => {
  expect(run("--to", "typescript", "csv")).toEqual({
    status: 0,
    out: "written kegWasher.ts\nwritten kegWasher.csv\n",
    err: "",
  });
  expect(readdirSync(out()).sort()).toEqual(["kegWasher.csv", "kegWasher.ts"]);
});

test("they are what the library makes, under a header that tells the command and no folder of the machine", () => {
  run("--to", "markdown", "csv", "--count", "words", "--inputs-at", "64");
  const layout = assemble(parseStationText(readFileSync(kegWasher, "utf8")));
  const { files } = generate(layout, ["markdown"], {
    command: "byterail generate kegWasher.json --to markdown --count words --inputs-at 64",
    addresses: { inputs: { counting: "words", start: 64 }, outputs: { counting: "words" } },
  });
  expect(read("kegWasher.md")).toBe(files[0]!.text);
});

test("options of a target reach it", () => {
  run("--to", "structured-text", "--elements", "16", "--element-order", "high-first", "--arithmetic", "real");
  expect(read("kegWasher.st")).toContain(
    "--to structured-text --elements 16 --element-order high-first --arithmetic real`",
  );
  const before = read("kegWasher.st");
  run("--to", "structured-text", "--decimals", "2");
  expect(read("kegWasher.st")).not.toBe(before);
});

test("the second time nothing changes", () => {
  run("--to", "typescript");
  expect(run("--to", "typescript").out).toBe("unchanged kegWasher.ts\n");
});

test("what a target had to change is noted on standard error, and done all the same", () => {
  const station = {
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [{ name: "m", inputs: [{ name: "END_VAR", type: "bit" }] }],
  };
  const { status, err } = byterail(
    ["generate", "-", "--to", "structured-text", "--out", out()],
    JSON.stringify(station),
  );
  expect(status).toBe(0);
  expect(err).toMatch(/^note name\.changed inputs › END_VAR: /m);
});

describe("--check", () => {
  test("is content with files that are as the description gives them, and writes nothing", () => {
    run("--to", "typescript", "csv");
    expect(run("--to", "typescript", "csv", "--check")).toEqual({
      status: 0,
      out: "2 files are as the description gives them\n",
      err: "",
    });
  });

  test("ends with 1 and names every file that is missing or differs", () => {
    run("--to", "typescript");
    writeFileSync(join(out(), "kegWasher.ts"), `${read("kegWasher.ts")}\n`);
    const { status, err } = run("--to", "typescript", "csv", "markdown", "--check");
    expect(status).toBe(1);
    expect(
      err
        .trim()
        .split("\n")
        .map((line) => line.split(": ")[0]),
    ).toEqual([
      `file.differs ${join(out(), "kegWasher.ts")}`,
      `file.missing ${join(out(), "kegWasher.csv")}`,
      `file.missing ${join(out(), "kegWasher.md")}`,
    ]);
    expect(readdirSync(out())).toEqual(["kegWasher.ts"]);
  });

  test("makes no folder", () => {
    expect(run("--to", "csv", "--check").status).toBe(1);
    expect(existsSync(out())).toBe(false);
  });
});

describe("a file that is there already", () => {
  test.each([
    "typescript",
    "c",
    "python",
    "json-schema",
    "structured-text",
    "bit-copies",
    "csv",
    "markdown",
    "svg",
    "html",
    "plcopen",
  ])("is overwritten when %s made it from an older description", (target) => {
    run("--to", target);
    const station = readFileSync(kegWasher, "utf8").replace("skid 2", "skid 3");
    const again = byterail(["generate", "-", "--to", target, "--out", out()], station);
    expect(again.status).toBe(0);
    expect(again.out).toMatch(/^written /);
  });

  test("is kept when it was not generated, and so is everything else", () => {
    mkdirSync(out());
    writeFileSync(join(out(), "kegWasher.csv"), "mine");
    const { status, err } = run("--to", "typescript", "csv");
    expect(status).toBe(1);
    expect(err).toMatch(/^file\.exists .*kegWasher\.csv: .*--force/);
    expect(read("kegWasher.csv")).toBe("mine");
    expect(readdirSync(out())).toEqual(["kegWasher.csv"]);
  });

  test("is overwritten by force", () => {
    mkdirSync(out());
    writeFileSync(join(out(), "kegWasher.csv"), "mine");
    expect(run("--to", "csv", "--force").status).toBe(0);
    expect(read("kegWasher.csv")).not.toBe("mine");
  });

  test("and is a folder is a problem, by force as well, and nothing half-written remains", () => {
    mkdirSync(join(out(), "kegWasher.csv"), { recursive: true });
    const { status, err } = run("--to", "typescript", "csv", "--force");
    expect(status).toBe(1);
    expect(err).toMatch(/^file\.exists /);
    expect(readdirSync(out())).toEqual(["kegWasher.csv"]);
  });

  test("and is a link: the link is replaced, and what it leads to stays as it was", () => {
    const elsewhere = join(folder, "elsewhere.csv");
    writeFileSync(elsewhere, "Generated by `byterail generate` and then kept");
    mkdirSync(out());
    symlinkSync(elsewhere, join(out(), "kegWasher.csv"));
    expect(run("--to", "csv").status).toBe(0);
    expect(readFileSync(elsewhere, "utf8")).toMatch(/then kept$/);
  });
});

test("a folder that cannot be made is a fault of the input", () => {
  writeFileSync(out(), "a file");
  const { status, err } = run("--to", "csv");
  expect(status).toBe(1);
  expect(err).toMatch(/^file\.write /);
});

test.each([
  ["no target", ["--out", "x"], "error: required option '--to"],
  ["an unknown target", ["--to", "cobol", "--out", "x"], "error: option '--to"],
  ["no folder", ["--to", "csv"], "error: required option '--out"],
  ["elements of 12 bits", ["--to", "csv", "--out", "x", "--elements", "12"], "error: option '--elements"],
  ["seven decimals", ["--to", "csv", "--out", "x", "--decimals", "7"], "error: option '--decimals"],
  ["a check by force", ["--to", "csv", "--out", "x", "--check", "--force"], "error: option '--check"],
])("%s is wrong usage", (_, args, first) => {
  const { status, out, err } = byterail(["generate", kegWasher, ...args]);
  expect({ status, out }).toEqual({ status: 2, out: "" });
  expect(err.slice(0, first.length)).toBe(first);
});

test("a description that is at fault writes nothing", () => {
  expect(byterail(["generate", "-", "--to", "csv", "--out", out()], "{}").status).toBe(1);
  expect(existsSync(out())).toBe(false);
});

test("the help lists the targets and the cautions", () => {
  const { out: help } = byterail(["generate", "--help"]);
  expect(help).toMatch(/^ {2}json-schema +JSON Schema 2020-12/m);
  expect(help).toMatch(/Neither this command nor the map is a safety function/);
});

testWith("python3")("on a terminal a caution is shown", () => {
  expect(byterailOnTerminal(["generate", kegWasher, "--to", "c", "--out", out()]).out).toMatch(/no safety function/);
});

test("two runs at once leave whole files", () => {
  const script = `for n in 1 2 3 4; do "$0" "$1" generate "$2" --to typescript csv --out "$3" >/dev/null 2>&1 & done; wait`;
  const command = join(import.meta.dirname, "../../packages/cli/dist/byterail.js");
  spawnSync("sh", ["-c", script, process.execPath, command, kegWasher, out()]);
  expect(run("--to", "typescript", "csv", "--check").status).toBe(0);
  expect(readdirSync(out()).sort()).toEqual(["kegWasher.csv", "kegWasher.ts"]);
});
