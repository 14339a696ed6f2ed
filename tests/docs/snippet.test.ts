// The checking of documentation is itself checked: a claim that is so passes, one that is not fails, none is passed over.

import { describe, expect, test } from "vitest";
import { snippetsInDocstrings, snippetsInMarkdown } from "./collect.js";
import { runSnippet } from "./run.js";

const thrower = `const fail = () => { throw Object.assign(new Error("no"), { problems: [{ code: "a.b" }] }); };\n`;

const holding: Readonly<Record<string, string>> = {
  "an expression": "1 + 1; // → 2",
  "a const": "const sum: number = 1 + 1; // → 2",
  "an object": "({ rinse: true, level: NaN }); // → { rinse: true, level: NaN }",
  bytes: "new Uint8Array([1, 2]); // → new Uint8Array([1, 2])",
  "a statement of several lines": "[1, 2].map(\n  (n) => n + 1,\n); // → [2, 3]",
  "a claim on the next line": "[1, 2]\n// → [1, 2]",
  "a literal of several lines": "({ a: 1, b: 2 });\n// → {\n//   a: 1,\n//   b: 2 }",
  "a statement in a block": "for (const n of [1, 2]) {\n  n - n; // → 0\n}",
  "an awaited value": "await Promise.resolve(3); // → 3",
  "a thrown problem": `${thrower}fail(); // throws a.b`,
  "a rejection": `${thrower}await Promise.resolve().then(fail); // throws a.b`,
  "a snippet without claims": "const one = 1;\nif (one !== 1) throw new Error();",
};

const failing: Readonly<Record<string, string>> = {
  "another value": "1 + 1; // → 3",
  "another value of a const": "const sum = 1 + 1; // → 3",
  "other bytes": "new Uint8Array([1, 2]); // → new Uint8Array([1, 3])",
  "minus zero for zero": "-0; // → 0",
  "another code": `${thrower}fail(); // throws a.c`,
  "nothing thrown": "(() => 1)(); // throws a.b",
  "an error without problems": "null.x; // throws a.b",
  "a throw without a claim": `${thrower}fail();`,
  "a claim behind no statement": "// → 1\nconst one = 1;",
  "broken syntax": "const = 1;",
};

let line = 0;
const run = (source: string): Promise<void> => runSnippet({ file: "snippet.test", line: ++line, source });

describe("a snippet passes with", () => {
  for (const [title, source] of Object.entries(holding)) {
    test(title, () => run(source));
  }
});

describe("a snippet fails with", () => {
  for (const [title, source] of Object.entries(failing)) {
    test(title, () => expect(run(source)).rejects.toThrow());
  }
});

describe("snippets are found", () => {
  test("in Markdown, by the fence ts alone", () => {
    const page = "# A\n\n```ts\na();\n```\n```ts no-run\nb();\n```\n```sh\nc\n```\n- list\n  ```ts\n  d();\n  ```\n";
    expect(snippetsInMarkdown("a.md", page)).toEqual([
      { file: "a.md", line: 4, source: "a();" },
      { file: "a.md", line: 14, source: "d();" },
    ]);
  });

  test("in docstrings, under @example", () => {
    const code =
      "const x = 1;\n/**\n * Sum.\n * @example\n * ```ts\n * sum(1, 2); // → 3\n * ```\n */\nexport const y = 2;\n";
    expect(snippetsInDocstrings("a.ts", code)).toEqual([{ file: "a.ts", line: 6, source: "sum(1, 2); // → 3" }]);
  });
});
