// What the modules made from snippets call to check their claims.

import { expect } from "vitest";

/** The value deeply equals what the documentation says. */
export function equals(expression: string, actual: unknown, documented: unknown): void {
  expect(actual, expression).toEqual(documented);
}

/** The call throws an error whose `problems` include the documented code. */
export function throws(expression: string, call: () => unknown, code: string): void {
  try {
    call();
  } catch (error) {
    expectCode(expression, error, code);
    return;
  }
  expect.fail(`${expression} was to throw ${code}, and threw nothing`);
}

/** The same of an expression that awaits something. */
export async function rejects(expression: string, call: () => Promise<unknown>, code: string): Promise<void> {
  try {
    await call();
  } catch (error) {
    expectCode(expression, error, code);
    return;
  }
  expect.fail(`${expression} was to throw ${code}, and threw nothing`);
}

function expectCode(expression: string, error: unknown, code: string): void {
  const { problems } = error as { readonly problems?: readonly { readonly code: string }[] };
  if (!Array.isArray(problems)) throw error;
  expect(
    problems.map((problem) => problem.code),
    expression,
  ).toContain(code);
}
