import { defineConfig } from "vitest/config";

const report = process.env.BYTERAIL_TEST_REPORT;

export default defineConfig({
  test: {
    include: ["**/*.test.ts"],
    testTimeout: 60_000,
    setupFiles: ["support/seed.ts"],
    reporters: report ? ["default", ["json", { outputFile: report }]] : ["default"],
    // The built packages are loaded by Node itself, exactly as a user's program loads them.
    server: { deps: { external: [/\/packages\/[^/]+\/dist\//] } },
  },
});
