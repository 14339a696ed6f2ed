// Captures kept as text: time, direction, hex, one frame a line.

import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type RecordedFrame, recordedText, recordingText } from "@byterail/testkit";
import { recorded } from "@byterail/testkit/node";
import fc from "fast-check";
import { afterAll, describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

const folder = mkdtempSync(join(tmpdir(), "byterail-capture-"));
afterAll(() => rmSync(folder, { recursive: true }));

const cycle = `# Keg washer, start of a cycle

0.000  in   03 60 36 C1 02
0.020  out  01 00 00 00     // rinse opens
0.3  inputs  03 60 | 36 C2 02
1.3  OUTPUTS
`;

describe("a capture", () => {
  const bare = ({ time, seconds, direction, bytes, line }: RecordedFrame) => [
    time,
    seconds,
    direction,
    [...bytes],
    line,
  ];

  test("is read line by line", () => {
    expect(recordedText(cycle).map(bare)).toEqual([
      ["0.000", 0, "inputs", [0x03, 0x60, 0x36, 0xc1, 0x02], 3],
      ["0.020", 0.02, "outputs", [1, 0, 0, 0], 4],
      ["0.3", 0.3, "inputs", [0x03, 0x60, 0x36, 0xc2, 0x02], 5],
      ["1.3", 1.3, "outputs", [], 6],
    ]);
  });

  test("is read from a file, by path or URL", () => {
    const file = join(folder, "cycle.txt");
    writeFileSync(file, cycle);
    expect(recorded(file)).toEqual(recordedText(cycle));
    expect(recorded(pathToFileURL(file))).toEqual(recordedText(cycle));
  });

  test("counts seconds from its first frame", () => {
    const clock = recordedText("2026-03-02T08:15:00.040Z in 00\n2026-03-02T09:15:01.140+01:00 in 01");
    expect(clock.map(({ seconds }) => seconds)).toEqual([0, 1.1]);
    expect(recordedText("5.1 in 00\n5.4 in 00").map(({ seconds }) => seconds)).toEqual([0, 0.3]);
  });

  test("without frames is none", () => {
    expect(recordedText("\n# nothing happened\n")).toEqual([]);
  });

  test("is written as it is read", () => {
    const frames = fc.array(
      fc.record({ direction: fc.constantFrom("inputs" as const, "outputs" as const), bytes: fc.uint8Array() }),
    );
    fc.assert(
      fc.property(frames, (list) => {
        const timed = list.map((frame, k) => ({ ...frame, time: `${k / 8}` }));
        const back = recordedText(recordingText(timed));
        expect(back.map(({ time, direction, bytes }) => ({ direction, bytes, time }))).toEqual(timed);
      }),
    );
  });
});

describe("a capture that is wrong", () => {
  const cases: readonly (readonly [wrong: string, text: string, problems: readonly string[]])[] = [
    ["no time", "in 03", ["record.time line 1", "record.direction line 1"]],
    ["a time without its zone", "2026-03-02T08:15:00 in 03", ["record.time line 1"]],
    ["no such day", "2026-02-40T08:15:00Z in 03", ["record.time line 1"]],
    ["time of two kinds", "0 in 03\n2026-03-02T08:15:00Z in 03", ["record.time line 2"]],
    ["time that falls", "1 in 03\n0.5 in 03", ["record.order line 2"]],
    ["no such direction", "0 up 03", ["record.direction line 1"]],
    ["a name that every object has", "0 constructor 03", ["record.direction line 1"]],
    ["a time alone", "0.5", ["record.syntax line 1"]],
    ["hex with a slip", "0 in 03 4", ["hex.syntax line 1, hex column 4"]],
    [
      "slips in several lines",
      "0 in 0\nx in 00\n1 on 00",
      ["hex.syntax line 1, hex column 1", "record.time line 2", "record.direction line 3"],
    ],
  ];
  for (const [wrong, text, problems] of cases)
    test(wrong, () =>
      expect(problemsOf(() => recordedText(text)).map(({ code, path }) => `${code} ${path}`)).toEqual(problems),
    );
});
