/** Changes that are tried may lead to what cannot be: a station that cannot be assembled, or a scale without a span. */
import { ByterailError } from "byterail";

/** What comes of a trial, or null where core says that there can be no such thing. */
export function ifPossible<T>(trial: () => T): T | null {
  try {
    return trial();
  } catch (error) {
    if (error instanceof ByterailError) return null;
    throw error;
  }
}
