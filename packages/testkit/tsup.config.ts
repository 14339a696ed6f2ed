import { library } from "../../.ci/tsup.mjs";

// Only the entry `node` reads files; the others run anywhere (tests/testkit/entries.test.ts holds them to it).
export default {
  ...library("src/index.ts", "src/vitest.ts", "src/jest.ts", "src/node.ts"),
  external: ["node:fs", "node:url"],
};
