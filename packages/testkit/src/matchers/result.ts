/** What a matcher returns, and what all of them ask first. */
import { ByterailError, type ImageLayout } from "byterail";

/** Any image layout, whatever the types of its values. */
export type AnyImage = ImageLayout<unknown, unknown, unknown>;

/** The answer of a matcher, as vitest and jest take it. */
export interface MatcherResult {
  readonly pass: boolean;
  /** Why it fails, or, of a match, why `.not` does. */
  readonly message: () => string;
}

/** A failure with its message. */
export function failed(...lines: readonly string[]): MatcherResult {
  return { pass: false, message: () => lines.join("\n") };
}

/** A match; its message is what `.not` prints. */
export function passed(...lines: readonly string[]): MatcherResult {
  return { pass: true, message: () => lines.join("\n") };
}

/** Refuses what is no image layout: a slip of tests without types, where a whole layout is given for one direction. */
export function checkImage(image: AnyImage, matcher: string): void {
  if (!Array.isArray((image as Partial<AnyImage> | undefined)?.points))
    throw new TypeError(`${matcher} takes one direction of a layout: layout.inputs or layout.outputs`);
}

/** The problems of an action, as lines, or its result. */
export function attempt<T>(action: () => T): { readonly result: T } | { readonly problems: readonly string[] } {
  try {
    return { result: action() };
  } catch (error) {
    if (!(error instanceof ByterailError)) throw error;
    return { problems: error.problems.map(({ code, path, message }) => `${code} ${path}: ${message}`) };
  }
}
