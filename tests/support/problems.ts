// What an action was refused for, as data.

import { ByterailError, type Problem } from "byterail";

/** The problems of a ByterailError; an empty list where nothing was thrown. Any other error is a defect and passes on. */
export function problemsOf(action: () => unknown): readonly Problem[] {
  try {
    action();
    return [];
  } catch (error) {
    if (error instanceof ByterailError) return error.problems;
    throw error;
  }
}

/** Only the codes of those problems. */
export function codesOf(action: () => unknown): readonly string[] {
  return problemsOf(action).map(({ code }) => code);
}
