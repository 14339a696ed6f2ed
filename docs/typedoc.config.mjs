// The reference: every public name of every package is in it and documented, and every link leads somewhere.

import { existsSync, readdirSync, readFileSync } from "node:fs";

const packages = new URL("../packages/", import.meta.url);
const names = readdirSync(packages)
  .map((folder) => new URL(`${folder}/package.json`, packages))
  .filter((manifest) => existsSync(manifest))
  .map((manifest) => JSON.parse(readFileSync(manifest, "utf8")).name);

/** @type {Partial<import("typedoc").TypeDocOptions>} */
export default {
  name: "Byterail",
  entryPoints: [
    "../packages/*/src/index.ts",
    "../packages/core/src/{frames,map,schema}.ts",
    "../packages/testkit/src/{jest,node,vitest}.ts",
  ],
  tsconfig: "tsconfig.json",
  out: "api",
  readme: "none",
  githubPages: false,
  excludeInternal: true,
  disableSources: true,
  logLevel: "Warn",
  treatWarningsAsErrors: true,
  validation: { notExported: true, invalidLink: true, notDocumented: true },
  packagesRequiringDocumentation: names,
  requiredToBeDocumented: [
    "Enum",
    "EnumMember",
    "Variable",
    "Function",
    "Class",
    "Interface",
    "Method",
    "Accessor",
    "TypeAlias",
  ],
};
