import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Diagnosis, Observation } from "@byterail/commissioning";
import { afterAll, describe, expect, test } from "vitest";
import { byterail, json } from "./byterail.js";

const folder = mkdtempSync(join(tmpdir(), "byterail-diagnose-"));
afterAll(() => rmSync(folder, { recursive: true }));

let files = 0;
function file(data: unknown): string {
  const name = join(folder, `${files++}.json`);
  writeFileSync(name, typeof data === "string" ? data : JSON.stringify(data));
  return name;
}
const newFile = (): string => join(folder, `new${files++}.json`);

// 6.2 bar of 0 to 10 on 4000 to 20000 counts is 13920 = 3660h; 70.5 °C in tenths is 705 = 02C1h. As built, high byte first.
const described = {
  $schema: "station.schema.json",
  format: 1,
  name: "head",
  byteOrder: "little",
  "x-drawing": "sheet 4",
  modules: [
    {
      name: "limits",
      inputs: [
        { name: "doorClosed", type: "bit" },
        { name: "kegPresent", type: "bit" },
      ],
    },
    {
      name: "sensors",
      inputs: [
        {
          name: "supply",
          type: "uint16",
          scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
        },
        { name: "caustic", type: "int16", scale: { counts: [0, 1500], value: [0, 150], unit: "°C" } },
      ],
    },
    { name: "drive", outputs: [{ name: "speed", type: "uint16" }] },
  ],
};
const inputs = "01 | 36 60 | 02 C1";
const supply = { value: 6.2, within: 0.05 };
const one: Observation = { inputs, known: { doorClosed: true, supply } };
const all: Observation[] = [
  { inputs, outputs: "05 DC", known: { doorClosed: true, kegPresent: false, supply, caustic: 70.5, speed: 1500 } },
];
const station = file(described);
const healthy = file({ ...described, byteOrder: "big" });

describe("for people", () => {
  test("the symptom, the answers with their change, what to look at next; nothing wider than 80 columns", () => {
    const { status, out, err } = byterail(["diagnose", station, file([one])]);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/^1 of 3 facts is wrong as described; \d+ explanations account for it/);
    expect(out).toMatch(/Observation +Point +Known +Read +Unit\n +1 +supply +6\.2 ± 0\.05 +12\.8938 +bar\n/);
    expect(out).toMatch(/Answer 1, tied on rank 1: explains 1 of 1\n {2}The station has its bytes in big-endian order/);
    expect(out).toContain('  Change: /byteOrder becomes "big"\n');
    expect(out).toMatch(/What to look at next\nFind out what caustic was in observation 1: 70\.5 °C speaks for answer/);
    expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  test("one answer that does better than all others is no tie", () => {
    const { out } = byterail(["diagnose", station, file(all)]);
    expect(out).toContain("one explanation accounts for all of them,\nand no other that was tried does as well.");
    expect(out).toMatch(/Answer 1: explains 3 of 3\n/);
    expect(out).not.toContain("tied");
    expect(out).not.toContain("What to look at next");
  });

  test("a station without a fault is said to have none", () => {
    const { status, out } = byterail(["diagnose", healthy, file(all)]);
    expect([status, out]).toEqual([0, "All 7 facts agree with the description: no fault is claimed.\n"]);
  });

  test("where nothing explains the facts it says so", () => {
    const rig = {
      format: 1,
      name: "rig",
      byteOrder: "big",
      modules: [{ name: "m", inputs: [{ name: "kegs", type: "uint16" }] }],
    };
    const { status, out } = byterail(["diagnose", file(rig), file([{ inputs: "12 35", known: { kegs: 77 } }])]);
    expect(status).toBe(0);
    expect(out.replaceAll("\n", " ")).toContain("nothing that was tried explains it without making another fact wrong");
    expect(out).not.toContain("Answer");
  });

  test("a list that was cut is said to be cut, and stays as uncertain", () => {
    const { out } = byterail(["diagnose", station, file([one]), "--limit", "1"]);
    expect(out).toMatch(/Answer 1, tied on rank 1/);
    expect(out).not.toContain("Answer 2");
    expect(out).toMatch(/\d+ more answers are not shown; --limit shows more of them\./);
  });

  test("one observation may stand for itself, and come from standard input", () => {
    expect(byterail(["diagnose", station, "-"], JSON.stringify(one)).out).toBe(
      byterail(["diagnose", station, file([one])]).out,
    );
  });

  test("--help shows the cautions", () => {
    expect(byterail(["diagnose", "--help"]).out).toMatch(/competent person govern[\s\S]*no safety function/);
  });
});

test("for machines, the diagnosis as the library gives it", () => {
  const made = json(["diagnose", station, file(all)]) as Diagnosis;
  expect(made).toMatchObject({ verdict: "explained", leading: 1, more: 0, nextObservation: null });
  expect(made.explanations[0]).toMatchObject({
    rank: 1,
    parts: [{ cause: "byteOrder", where: { direction: null, module: null, point: null }, frame: null }],
    change: [{ op: "replace", path: "/byteOrder", value: "big" }],
    unexplained: [],
  });
  expect(made.facts.find(({ point }) => point === "supply")).toMatchObject({
    known: 6.2,
    within: 0.05,
    unit: "bar",
    right: false,
  });
});

describe("--apply", () => {
  test("writes a description that reads the facts right, and keeps what it does not change", () => {
    const repaired = newFile();
    const { status, err } = byterail(["diagnose", station, file(all), "--apply", repaired]);
    expect(status).toBe(0);
    expect(err.replaceAll("\n", " ")).toContain("the description with answer 1 applied. Check it at the machine.");
    expect(JSON.parse(readFileSync(repaired, "utf8"))).toEqual({ ...described, byteOrder: "big" });
    expect(json(["decode", repaired, "--inputs", inputs])).toEqual({
      doorClosed: true,
      kegPresent: false,
      supply: 6.2,
      caustic: 70.5,
    });
    expect((json(["diagnose", repaired, file(all)]) as Diagnosis).verdict).toBe("noFault");
  });

  test("--answer takes another answer; a tie is told", () => {
    const observations = file([one]);
    const { explanations } = json(["diagnose", station, observations]) as Diagnosis;
    const answer = explanations.findIndex(({ says }) => says.startsWith("supply has its bytes in big-endian")) + 1;
    const repaired = newFile();
    const { err } = byterail(["diagnose", station, observations, "--apply", repaired, "--answer", String(answer)]);
    expect(err.replaceAll("\n", " ")).toMatch(
      /It is one of \d+ that explain as much: the facts do not say that it is the right one/,
    );
    const { modules } = JSON.parse(readFileSync(repaired, "utf8")) as typeof described;
    expect(modules[1]!.inputs![0]).toMatchObject({ name: "supply", byteOrder: "big" });
  });

  test("a file that exists is left as it is", () => {
    const kept = file("kept");
    const { status, out, err } = byterail(["diagnose", station, file(all), "--apply", kept]);
    expect([status, out, err]).toEqual([1, "", `file.write ${kept}: exists already; name a new file\n`]);
    expect(readFileSync(kept, "utf8")).toBe("kept");
  });

  test.each([
    ["there is nothing to change", healthy, all, [], "diagnose.answer", "there is nothing to change"],
    ["there is no such answer", station, all, ["--answer", "99"], "diagnose.answer", "there is no answer 99"],
    [
      "the description is not at fault",
      healthy,
      [1, 2].map((bar): Observation => ({ inputs, known: { supply: bar } })),
      [],
      "diagnose.change",
      "answer 1 does not change the description. supply is stuck",
    ],
  ])("nothing is written where %s", (_, described, observations, options, code, message) => {
    const target = newFile();
    const { status, err } = byterail(["diagnose", described, file(observations), "--apply", target, ...options]);
    expect(status).toBe(1);
    expect(err).toContain(`${code} ${target}: is not written: `);
    expect(err).toContain(message);
    expect(() => readFileSync(target)).toThrow("ENOENT");
  });
});

describe("what is refused", () => {
  test("every problem of the observations is told, one a line", () => {
    const bad = file([{ inputs: "0", known: { suply: 1, doorClosed: 1 } }, { known: {} }, 7]);
    const { status, out, err } = byterail(["diagnose", station, bad]);
    expect([status, out]).toEqual([1, ""]);
    expect(
      err
        .trimEnd()
        .split("\n")
        .map((line) => line.replace(/:.*/, "")),
    ).toEqual([
      "hex.syntax observations[0].inputs",
      "known.unknown observations[0].known.suply",
      "known.type observations[0].known.doorClosed",
      "observation.frame observations[1]",
      "observation.shape observations[2]",
    ]);
  });

  test.each([
    { name: "a station with problems", args: [file({ format: 1, name: "x", modules: [] }), file([one])], status: 1 },
    {
      name: "a key that stands twice",
      args: [station, file('[{ "inputs": "00", "inputs": "01", "known": {} }]')],
      status: 1,
    },
    { name: "no JSON", args: [station, file("supply is wrong")], status: 1 },
    { name: "no such file", args: [station, join(folder, "none.json")], status: 1 },
    { name: "an empty list", args: [station, file([])], status: 1 },
    { name: "no observations", args: [station], status: 2 },
    { name: "both from standard input", args: ["-", "-"], status: 2 },
    { name: "--answer without --apply", args: [station, file([one]), "--answer", "2"], status: 2 },
    {
      name: "an answer that is no number",
      args: [station, file([one]), "--apply", newFile(), "--answer", "best"],
      status: 2,
    },
    { name: "an unknown option", args: [station, file([one]), "--fix"], status: 2 },
  ])("$name: status $status", ({ args, status }) => {
    const ran = byterail(["diagnose", ...args]);
    expect([ran.status, ran.out]).toEqual([status, ""]);
    expect(ran.err).not.toMatch(/\n +at /);
  });
});
