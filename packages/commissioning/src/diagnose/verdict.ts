/** The verdict of a diagnosis: never more certain than the facts. */

/**
 * `noFault`: every fact agrees with the description. `explained`: one explanation accounts for everything that is wrong,
 * and no other as well. `tied`: several do as well as each other. `partlyExplained`: the best leaves facts unexplained.
 * `unexplained`: nothing accounts for anything that is wrong.
 */
export type Verdict = "noFault" | "explained" | "tied" | "partlyExplained" | "unexplained";

/** What a verdict rests on. */
export interface Outcome {
  /** Facts that are wrong as described. */
  readonly wrong: number;
  /** Facts that the best explanations account for, and how many such explanations there are. */
  readonly explained: number;
  readonly leading: number;
}

/** The verdict on what was found. */
export function verdictOf({ wrong, explained, leading }: Outcome): Verdict {
  if (wrong === 0) return "noFault";
  if (leading === 0) return "unexplained";
  if (explained < wrong) return "partlyExplained";
  return leading > 1 ? "tied" : "explained";
}

/** The verdict in a sentence. */
export function saysVerdict(verdict: Verdict, { wrong, explained, leading }: Outcome, facts: number): string {
  const some = `${wrong} of ${facts} facts ${wrong === 1 ? "is" : "are"} wrong as described`;
  switch (verdict) {
    case "noFault":
      return facts === 1
        ? "The only fact agrees with the description: no fault is claimed."
        : `All ${facts} facts agree with the description: no fault is claimed.`;
    case "explained":
      return `${some}; one explanation accounts for ${wrong === 1 ? "it" : "all of them"}, and no other that was tried does as well.`;
    case "tied":
      return `${some}; ${leading} explanations account for ${wrong === 1 ? "it" : "all of them"}, and the facts do not tell them apart.`;
    case "partlyExplained":
      return `${some}; the best ${leading > 1 ? `explanations (${leading} are tied) account` : "explanation accounts"} for ${explained} of them. There may be more than two faults, a fault that is not tried, or a fact that is not true.`;
    case "unexplained":
      return `${some}; nothing that was tried explains ${wrong === 1 ? "it" : "them"} without making another fact wrong. Check the facts, and whether the frame belongs to this station.`;
  }
}
