// Frames written in tests as hex text.

import { fromHex, toHex } from "byterail/frames";
import { frameOf } from "@byterail/testkit";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/problems.js";

describe("a frame is read from", () => {
  const cases: readonly (readonly [how: string, text: string, bytes: readonly number[]])[] = [
    ["pairs with white space", "01 F4\t00 0a", [0x01, 0xf4, 0x00, 0x0a]],
    ["a bar between modules", "01 F4 | 00 0A", [0x01, 0xf4, 0x00, 0x0a]],
    ["pairs without anything between", "01F4000A", [0x01, 0xf4, 0x00, 0x0a]],
    ["commas and 0x, as in a program", "0x01, 0xF4, 0x00", [0x01, 0xf4, 0x00]],
    ["words with 0x", "0x01F4 0x000A", [0x01, 0xf4, 0x00, 0x0a]],
    ["colons, as in a capture", "01:f4:00", [0x01, 0xf4, 0x00]],
    ["hyphens", "01-F4-00", [0x01, 0xf4, 0x00]],
    ["lines with comments", "01 // one\n# a line of its own\n\r\n02 03 # AB is no data", [1, 2, 3]],
    ["nothing at all", "", []],
    ["a comment alone", "// no data", []],
  ];
  for (const [how, text, bytes] of cases) test(how, () => expect([...frameOf(text)]).toEqual(bytes));

  test("whatever toHex writes, and as fromHex reads it", () => {
    fc.assert(
      fc.property(fc.uint8Array(), (bytes) => {
        expect(frameOf(toHex(bytes))).toEqual(bytes);
        expect(frameOf(toHex(bytes))).toEqual(fromHex(toHex(bytes)));
      }),
    );
  });
});

describe("a slip is told with its place", () => {
  const cases: readonly (readonly [slip: string, text: string, problems: readonly string[]])[] = [
    ["a digit that stands alone", "01 F | 4 00", ['column 4 "F" is no whole bytes', 'column 8 "4" is no whole bytes']],
    ["a letter O for a zero", "01 O0", ['column 4 "O0" is no hex: "O" is no hex digit']],
    ["every slip, in whichever line", "01\n 0x\n zz", ["line 2, column 2", "line 3, column 2"]],
    ["three digits", "01 2F4", ["column 4"]],
  ];
  for (const [slip, text, problems] of cases)
    test(slip, () => {
      const found = problemsOf(() => frameOf(text));
      expect(found.map(({ code }) => code)).toEqual(problems.map(() => "hex.syntax"));
      found.forEach(({ path, message }, k) => expect(`${path} ${message}`).toContain(problems[k]));
    });
});
