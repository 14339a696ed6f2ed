// The tests as they run under mutation: against the sources instead of the built packages, without outside programs, and
// with few runs a property, the same each time.

import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import Order from "./order.ts";

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: at("../.."),
  resolve: {
    alias: [
      { find: /^byterail$/, replacement: at("../../../packages/core/src/index.ts") },
      { find: /^byterail\/(schema|map|frames)$/, replacement: at("../../../packages/core/src/$1.ts") },
      { find: /^@byterail\/commissioning$/, replacement: at("../../../packages/commissioning/src/index.ts") },
      { find: /^fast-check$/, replacement: at("fewRuns.ts") },
    ],
  },
  test: {
    include: process.env.BYTERAIL_MUTATION_TESTS?.split(",") ?? ["core/**/*.test.ts", "commissioning/**/*.test.ts"],
    // The compiler and the bundler judge other things than results; the compiler would take seconds for each mutant.
    exclude: ["core/types.test.ts", "core/bundle.test.ts"],
    // No program is found, so that `testWith` skips what would start one.
    env: { PATH: "", BYTERAIL_NO_SKIP: "" },
    testTimeout: 20_000,
    // One worker for all files of a run; each run has a new one, so that constants made on import are mutated too.
    isolate: false,
    sequence: { sequencer: Order },
  },
});
