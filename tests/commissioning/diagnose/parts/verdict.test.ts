// The verdict: never more certain than the facts, and the sentence that goes with it.

import { describe, expect, test } from "vitest";
import {
  type Outcome,
  saysVerdict,
  type Verdict,
  verdictOf,
} from "../../../../packages/commissioning/src/diagnose/verdict.js";

const outcome = (wrong: number, explained: number, leading: number): Outcome => ({ wrong, explained, leading });

describe("the verdict follows from what is wrong, what the best answers account for, and how many they are", () => {
  test.each<[string, Outcome, Verdict]>([
    ["nothing is wrong", outcome(0, 0, 0), "noFault"],
    ["one fact is wrong, and nothing accounts for it", outcome(1, 0, 0), "unexplained"],
    ["one answer accounts for the only wrong fact", outcome(1, 1, 1), "explained"],
    ["one answer accounts for all", outcome(4, 4, 1), "explained"],
    ["two answers account for all", outcome(4, 4, 2), "tied"],
    ["one answer leaves one fact", outcome(4, 3, 1), "partlyExplained"],
    ["two answers leave one fact, as many each: still not all", outcome(4, 3, 2), "partlyExplained"],
  ])("%s", (_, given, verdict) => {
    expect(verdictOf(given)).toBe(verdict);
  });
});

describe("the sentence counts in the singular and in the plural", () => {
  test.each<[Verdict, Outcome, number, string]>([
    ["noFault", outcome(0, 0, 0), 1, "The only fact agrees with the description: no fault is claimed."],
    ["noFault", outcome(0, 0, 0), 2, "All 2 facts agree with the description: no fault is claimed."],
    [
      "explained",
      outcome(1, 1, 1),
      3,
      "1 of 3 facts is wrong as described; one explanation accounts for it, and no other that was tried does as well.",
    ],
    [
      "explained",
      outcome(2, 2, 1),
      3,
      "2 of 3 facts are wrong as described; one explanation accounts for all of them, and no other that was tried does as well.",
    ],
    [
      "tied",
      outcome(1, 1, 2),
      3,
      "1 of 3 facts is wrong as described; 2 explanations account for it, and the facts do not tell them apart.",
    ],
    [
      "tied",
      outcome(3, 3, 5),
      3,
      "3 of 3 facts are wrong as described; 5 explanations account for all of them, and the facts do not tell them apart.",
    ],
    [
      "partlyExplained",
      outcome(3, 2, 1),
      9,
      "3 of 9 facts are wrong as described; the best explanation accounts for 2 of them. There may be more than two faults, a fault that is not tried, or a fact that is not true.",
    ],
    [
      "partlyExplained",
      outcome(3, 2, 4),
      9,
      "3 of 9 facts are wrong as described; the best explanations (4 are tied) account for 2 of them. There may be more than two faults, a fault that is not tried, or a fact that is not true.",
    ],
    [
      "unexplained",
      outcome(1, 0, 0),
      2,
      "1 of 2 facts is wrong as described; nothing that was tried explains it without making another fact wrong. Check the facts, and whether the frame belongs to this station.",
    ],
    [
      "unexplained",
      outcome(2, 0, 0),
      2,
      "2 of 2 facts are wrong as described; nothing that was tried explains them without making another fact wrong. Check the facts, and whether the frame belongs to this station.",
    ],
  ])("%s, %o of %i facts", (verdict, given, facts, says) => {
    expect(saysVerdict(verdict, given, facts)).toBe(says);
  });
});
