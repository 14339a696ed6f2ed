/**
 * For vitest: importing this entry registers the matchers and adds them to the types of `expect`. It stands in a test, or
 * once in a file of `setupFiles`.
 *
 * @packageDocumentation
 */
import { expect } from "vitest";
import { type ByterailMatchers, matchers } from "./matchers/matchers.js";

declare module "vitest" {
  // biome-ignore lint/suspicious/noExplicitAny: the type parameter must be written as vitest declares it
  interface Matchers<T = any> extends ByterailMatchers<T> {}
}

expect.extend(matchers);

export { matchers };
