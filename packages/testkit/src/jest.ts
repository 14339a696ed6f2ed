/**
 * For jest: importing this entry adds the matchers to the types of `expect`, global or from `@jest/globals`. They are
 * registered by `expect.extend(matchers)`, once in a file of `setupFilesAfterEnv`. The package is of ES modules alone, so
 * jest needs `NODE_OPTIONS=--experimental-vm-modules`.
 *
 * @packageDocumentation
 */
import type {} from "expect"; // the compiler adds to the types of a module only where it has loaded them
import type { ByterailMatchers } from "./matchers/matchers.js";

declare module "expect" {
  interface Matchers<R extends void | Promise<void>, T = unknown> extends ByterailMatchers<T, R> {}
}

declare global {
  namespace jest {
    // biome-ignore lint/complexity/noBannedTypes: the type parameter must be written as jest declares it
    interface Matchers<R, T = {}> extends ByterailMatchers<T, R> {}
  }
}

export { matchers } from "./matchers/matchers.js";
