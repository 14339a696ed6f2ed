// Every TypeScript snippet of the documentation runs, and what its comments claim is so.

import { describe, expect, test } from "vitest";
import { collectSnippets } from "./collect.js";
import { runSnippet } from "./run.js";

const snippets = collectSnippets();

describe("documentation snippets", () => {
  test("there are some", () => {
    expect(snippets.length).toBeGreaterThan(0);
  });

  for (const snippet of snippets) {
    test(`${snippet.file}:${snippet.line}`, () => runSnippet(snippet));
  }
});
