/** What a name may be. */

/** A letter, then letters, digits, underscores; 64 at most: what IEC 61131-3 can carry. */
export const namePattern: RegExp = /^[A-Za-z][A-Za-z0-9_]{0,63}$/;

/** What is wrong with a name, or null. */
export function nameProblem(name: string): string | null {
  if (!namePattern.test(name)) return "is no name: a letter, then letters, digits or _, at most 64 in all";
  return name in Object.prototype ? "is a name that every JavaScript object has; choose another" : null;
}

/** Whether a value is an object of keys, and no list. */
export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
