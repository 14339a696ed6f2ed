// The text of a file: strict JSON, without repeated keys.

import { parseStationText } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { codesOf, problemsOf } from "../../support/problems.js";

describe("text of a file", () => {
  const text = (json: string) => problemsOf(() => parseStationText(json));

  test("a repeated key is told with its line", () => {
    const problems = text(
      '{\n  "format": 1, "name": "rig", "byteOrder": "big",\n  "modules": [ { "name": "a", "name": "b" } ]\n}',
    );
    expect(problems).toEqual([
      { code: "json.repeated", path: "line 3 column 31", message: 'key "name" stands twice in one object; keep one' },
    ]);
  });

  test("a key repeated by another spelling is found too", () => {
    expect(
      text('{"format":1,"name":"a","byteOrder":"big","modules":[],"n\\u0061me":"b"}').map(({ code }) => code),
    ).toEqual(["json.repeated"]);
  });

  test("the same key in different objects, and keys as values, are fine", () => {
    const json =
      '{"format":1,"name":"name","byteOrder":"big","title":"{\\"name\\": [","modules":[{"name":"a"},{"name":"b"}]}';
    expect(text(json)).toEqual([]);
    expect(parseStationText(json)).toEqual(JSON.parse(json));
  });

  test.each(["", "{", '{"format":1,}', "{'format':1}", "// comment\n{}", "\u0000", '{"format":1}{}'])(
    "%j is no JSON",
    (json) => expect(text(json).map(({ code }) => code)).toEqual(["json.syntax"]),
  );

  test("a million brackets are refused, not a crash", () => {
    expect(codesOf(() => parseStationText("[".repeat(1_000_000)))).toEqual(["json.syntax"]);
    expect(codesOf(() => parseStationText("[".repeat(3000) + "]".repeat(3000)))).toEqual(["type.record"]);
  });
});
