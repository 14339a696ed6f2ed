/** The verdict of a diagnosis: never more certain than the facts. */
import type { Explanation } from "./diagnose.js";

/**
 * `noFault`: every fact agrees with the description. `explained`: one explanation accounts for everything that is wrong,
 * and no other as well. `tied`: several do as well as each other. `partlyExplained`: the best leaves facts unexplained.
 * `unexplained`: nothing accounts for anything that is wrong.
 */
export type Verdict = "noFault" | "explained" | "tied" | "partlyExplained" | "unexplained";

/** The verdict on explanations that are ranked. */
export function verdictOf(explanations: readonly Explanation[], wrong: number): Verdict {
  if (wrong === 0) return "noFault";
  const [first, second] = explanations;
  if (!first) return "unexplained";
  if (first.unexplained.length > 0) return "partlyExplained";
  return second?.rank === 1 ? "tied" : "explained";
}

/** The verdict in a sentence. */
export function saysVerdict(
  verdict: Verdict,
  explanations: readonly Explanation[],
  wrong: number,
  facts: number,
): string {
  const tied = explanations.filter(({ rank }) => rank === 1).length;
  const some = `${wrong} of ${facts} facts ${wrong === 1 ? "is" : "are"} wrong as described`;
  switch (verdict) {
    case "noFault":
      return `All ${facts} facts agree with the description: no fault is claimed.`;
    case "explained":
      return `${some}; one explanation accounts for all of them, and no other that was tried does as well.`;
    case "tied":
      return `${some}; ${tied} explanations account for all of them, and the facts do not tell them apart.`;
    case "partlyExplained":
      return `${some}; the best explanation${tied > 1 ? ` (${tied} are tied)` : ""} accounts for ${explanations[0]!.explains.length} of them. There may be more than two faults, a fault that is not tried, or a fact that is not true.`;
    case "unexplained":
      return `${some}; nothing that was tried explains them without making another fact wrong. Check the facts, and whether the frame belongs to this station.`;
  }
}
