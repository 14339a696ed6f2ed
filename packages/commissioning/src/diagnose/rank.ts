/**
 * Ranks: by how many facts are explained, then by how many causes that takes. Whatever is equal in both shares a rank, as
 * the facts cannot tell it apart; inside a rank the one that assumes least comes first, which is an order and no evidence.
 */
import type { Found } from "./search.js";

/** Something found, with its rank from 1 up. */
export interface Ranked extends Found {
  readonly rank: number;
}

/** Orders what was found. What explains only a part of what as few causes explain in full is left out. */
export function ranked(found: readonly Found[]): readonly Ranked[] {
  const sorted = [...found].sort(
    (a, b) => b.fixes.length - a.fixes.length || a.parts.length - b.parts.length || assumes(a) - assumes(b),
  );
  const all: Ranked[] = [];
  const better = new Map<string, { readonly parts: number; readonly fixes: ReadonlySet<number> }>();
  for (const each of sorted) {
    const dominated = [...better.values()].some(
      ({ parts, fixes }) =>
        parts <= each.parts.length && fixes.size > each.fixes.length && each.fixes.every((fact) => fixes.has(fact)),
    );
    if (dominated) continue;
    const last = all[all.length - 1];
    const tied = last && last.fixes.length === each.fixes.length && last.parts.length === each.parts.length;
    all.push({ ...each, rank: tied ? last.rank : all.length + 1 });
    // Hundreds may be tied on the same facts, and one of them tells as much as all.
    better.set(`${each.parts.length}: ${each.fixes.join()}`, { parts: each.parts.length, fixes: new Set(each.fixes) });
  }
  return all;
}

function assumes({ parts }: Found): number {
  return parts.reduce((sum, part) => sum + part.assumes, 0);
}
