// What the tests of single parts of diagnosis share: a station as it is read, and what a cause makes of it, as rows.

import type { Observation } from "@byterail/commissioning";
import { assemble, type Station } from "byterail";
import { expect } from "vitest";
import { type Base, baseOf } from "../../../packages/commissioning/src/diagnose/base.js";
import { changeBetween } from "../../../packages/commissioning/src/diagnose/change.js";
import { factsOf } from "../../../packages/commissioning/src/diagnose/facts.js";
import type { Cause, Hypothesis } from "../../../packages/commissioning/src/diagnose/hypothesis.js";
import { ifPossible } from "../../../packages/commissioning/src/diagnose/ifPossible.js";
import { type Judgement, judge } from "../../../packages/commissioning/src/diagnose/judge.js";
import { checkObservations } from "../../../packages/commissioning/src/diagnose/observation.js";
import { after } from "../../../packages/commissioning/src/diagnose/search.js";

/** A station as it is read, with the facts of observations. */
export function baseFor(station: Station, observations: readonly Observation[]): Base {
  const layout = assemble(station);
  const checked = checkObservations(layout, observations);
  return baseOf(
    station,
    { facts: factsOf(checked), frames: checked.map(({ frames }) => frames), excused: new Set(), cut: {} },
    layout,
  );
}

/** A hypothesis in words: `cause`, `at` (direction, module and point, "-" for none), `says`, `assumes`. */
export function told({ cause, where: { direction, module, point }, says, assumes }: Hypothesis) {
  return { cause, at: [direction, module, point].map((part) => part ?? "-").join(" "), says, assumes };
}

/** What a cause makes of a base, as rows: its hypotheses in words, each with its change of the description. */
export function rows(cause: Cause, base: Base) {
  return [...cause(base)].map((hypothesis) => ({ ...told(hypothesis), change: changeOf(base, hypothesis) }));
}

/** Facts that each hypothesis of a cause makes right, and that it breaks; fact 0 is the length of the first frame. */
export function judged(cause: Cause, base: Base): readonly (Judgement | null)[] {
  return [...cause(base)].map(({ effect }) => judge(base, effect));
}

/** What a cause says of a base, as it is in the order of the search. */
export function said(cause: Cause, base: Base): readonly string[] {
  return [...cause(base)].map(({ says }) => says);
}

/** The same, with what comes right in the order of the facts, where a cause changes points in another. */
export function judgedInOrder(cause: Cause, base: Base): readonly (Judgement | null)[] {
  return judged(cause, base).map((judgement) => judgement && { ...judgement, fixes: [...judgement.fixes].sort() });
}

/** The change of the description that a hypothesis stands for; null where no description can say it. */
export function changeOf(base: Base, { station }: Hypothesis) {
  return station && changeBetween(base.station, station());
}

/** Facts that a hypothesis makes right and breaks when the whole changed station is placed and read anew. */
export function judgedInFull(base: Base, hypothesis: Hypothesis): Judgement | null {
  const then = after(base, hypothesis);
  if (!then) return null;
  const facts = base.facts.map((_, k) => k);
  const fixes = facts.filter((k) => !base.right[k] && then.right[k]);
  const breaks = facts.filter((k) => base.right[k] && !then.right[k]);
  return fixes.length > 0 ? { fixes, breaks } : null;
}

/** Every hypothesis of a cause is judged by its effect as the whole changed station would be. */
export function expectQuickIsFull(cause: Cause, base: Base): void {
  for (const hypothesis of cause(base)) {
    if (hypothesis.stands?.() === false) continue;
    const quick = ifPossible(() => judge(base, hypothesis.effect));
    expect(sorted(quick), hypothesis.says).toEqual(sorted(judgedInFull(base, hypothesis)));
  }
}

function sorted(judgement: Judgement | null): Judgement | null {
  const inOrder = (facts: readonly number[]) => [...facts].sort((a, b) => a - b);
  return judgement && { fixes: inOrder(judgement.fixes), breaks: inOrder(judgement.breaks) };
}

/** 0x11223344 in the four orders, as in the table at `significance` in core. */
export const bytesOf = {
  "big highFirst": "11 22 33 44",
  "big lowFirst": "33 44 11 22",
  "little highFirst": "22 11 44 33",
  "little lowFirst": "44 33 22 11",
} as const;

/** Byte order and word order together. */
export type Both = keyof typeof bytesOf;
