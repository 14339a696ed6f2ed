// Ranks: more facts explained come first, then fewer causes; what is equal in both shares a rank. What an answer assumes
// orders a rank and makes none.

import { describe, expect, test } from "vitest";
import { everywhere, type Hypothesis } from "../../../../packages/commissioning/src/diagnose/hypothesis.js";
import { ranked } from "../../../../packages/commissioning/src/diagnose/rank.js";
import type { Found } from "../../../../packages/commissioning/src/diagnose/search.js";
import { built } from "../station.js";

/** An answer: a name, the facts that it makes right, and what each of its causes assumes. */
type Answer = readonly [name: string, fixes: readonly number[], assumes: readonly number[]];

function found([says, fixes, assumes]: Answer): Found {
  const parts = assumes.map((each): Hypothesis => {
    return { cause: "length", where: everywhere, says, assumes: each, effect: {}, station: null };
  });
  return { parts, fixes, station: () => built, reading: () => null };
}

/** The answers in order, each with its rank. */
function order(...answers: readonly Answer[]): readonly string[] {
  return ranked(answers.map(found)).map(({ rank, parts }) => `${rank} ${parts[0]!.says}`);
}

describe("what comes first", () => {
  test.each<[string, readonly Answer[], readonly string[]]>([
    ["nothing was found", [], []],
    ["a single answer is the first", [["a", [0], [1]]], ["1 a"]],
    [
      "more facts explained come before fewer, whatever is assumed",
      [
        ["one", [0], [1]],
        ["two others", [1, 2], [9]],
      ],
      ["1 two others", "2 one"],
    ],
    [
      "of as many facts one cause comes before two, whatever is assumed",
      [
        ["pair", [0, 1], [1, 1]],
        ["single", [2, 3], [9]],
      ],
      ["1 single", "2 pair"],
    ],
    [
      "more facts with two causes come before fewer with one",
      [
        ["single", [0], [1]],
        ["pair", [0, 1], [2, 2]],
      ],
      ["1 pair", "2 single"],
    ],
    [
      "equal in facts and causes: one rank, and the one that assumes least first in it",
      [
        ["more", [0], [3]],
        ["less", [0], [2]],
      ],
      ["1 less", "1 more"],
    ],
    [
      "what a pair assumes is what both of its causes assume",
      [
        ["3 and 1", [0], [3, 1]],
        ["1 and 2", [0], [1, 2]],
      ],
      ["1 1 and 2", "1 3 and 1"],
    ],
    [
      "equal in all, they stay in the order in which they were found",
      [
        ["second", [0], [2]],
        ["first", [0], [2]],
      ],
      ["1 second", "1 first"],
    ],
  ])("%s", (_, answers, expected) => {
    expect(order(...answers)).toEqual(expected);
  });

  test("a rank counts how many are better, so that three tied on rank 1 are followed by rank 4", () => {
    expect(
      order(
        ["a", [0, 1], [1]],
        ["b", [0, 2], [1]],
        ["c", [1, 2], [1]],
        ["d", [3], [1]],
        ["e", [4], [1]],
        ["f", [5], [1, 1]],
      ),
    ).toEqual(["1 a", "1 b", "1 c", "4 d", "4 e", "6 f"]);
  });

  test("an answer keeps what was found, and what was given stays in its order", () => {
    const given = [found(["less", [0], [1]]), found(["more", [1, 2], [1]])];
    const [less, more] = given;
    expect(ranked(given)).toEqual([
      { ...more!, rank: 1 },
      { ...less!, rank: 2 },
    ]);
    expect(given).toEqual([less, more]);
  });
});

describe("what explains only a part of what as few causes explain is left out", () => {
  test.each<[string, readonly Answer[], readonly string[]]>([
    [
      "a part, by one cause as well",
      [
        ["whole", [0, 1, 2], [1]],
        ["part", [0, 2], [1]],
      ],
      ["1 whole"],
    ],
    [
      "a part, by two causes where one does more",
      [
        ["whole", [0, 1, 2], [1]],
        ["part", [0, 2], [1, 1]],
      ],
      ["1 whole"],
    ],
    [
      "a part, by one cause where only two do more: it stays",
      [
        ["whole", [0, 1, 2], [1, 1]],
        ["part", [0, 2], [1]],
      ],
      ["1 whole", "2 part"],
    ],
    [
      "as much, by two causes where one does it: it stays, further down",
      [
        ["single", [0, 1], [1]],
        ["pair", [0, 1], [1, 1]],
      ],
      ["1 single", "2 pair"],
    ],
    [
      "a fact of its own besides: it stays",
      [
        ["other", [0, 1, 2], [1]],
        ["own", [0, 3], [1]],
      ],
      ["1 other", "2 own"],
    ],
    [
      "a part of the second of two that are tied",
      [
        ["a", [0, 1, 2], [1]],
        ["b", [3, 4, 5], [1]],
        ["part of b", [4], [1]],
      ],
      ["1 a", "1 b"],
    ],
    [
      "a part of the second of two that are tied and share all facts but one",
      [
        ["a", [0, 1, 2], [1]],
        ["b", [0, 1, 3], [1]],
        ["part of b", [0, 3], [1]],
      ],
      ["1 a", "1 b"],
    ],
    [
      "a part of what is on a lower rank",
      [
        ["a", [0, 1, 2], [1]],
        ["b", [3, 4], [1]],
        ["part of b", [3], [1]],
      ],
      ["1 a", "2 b"],
    ],
    [
      "a part of a single answer that explains as much as a pair, the pair standing first among the pairs",
      [
        ["pair", [0, 1, 2], [1, 1]],
        ["pair of two", [0, 1], [1, 1]],
        ["single", [0, 1], [1]],
        ["part", [0], [1]],
      ],
      ["1 pair", "2 single"],
    ],
    [
      "a part of a single answer with the facts of a pair that leads it in number",
      [
        ["pair", [0, 1], [1, 1]],
        ["single", [0, 1], [1]],
        ["part", [1], [1]],
        ["part with two", [1], [1, 1]],
      ],
      ["1 single", "2 pair"],
    ],
  ])("%s", (_, answers, expected) => {
    expect(order(...answers)).toEqual(expected);
  });
});
