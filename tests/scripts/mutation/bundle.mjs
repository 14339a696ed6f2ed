// The test files with the sources of core and commissioning in one script: `(require, vitest) => ({ [file]: () => import })`.

import { build } from "esbuild";

/** @param {readonly string[]} files test files, from the folder of the tests */
export async function bundle(files) {
  const imports = files.map((file) => `${JSON.stringify(file)}: () => import(${JSON.stringify(`./${file}`)})`);
  const { outputFiles } = await build({
    stdin: { contents: `export const modules = { ${imports.join(", ")} };`, resolveDir: "tests" },
    absWorkingDir: process.cwd(),
    bundle: true,
    write: false,
    format: "cjs",
    platform: "node",
    target: "node20",
    packages: "external",
    plugins: [{ name: "sources", setup }],
  });
  return `(require, vitest) => { const module = { exports: {} }, exports = module.exports;\n${outputFiles[0].text}\nreturn module.exports.modules; }`;
}

// Packages are imported by name, as a user does; here the names stand for their sources.
function setup({ onResolve, onLoad }) {
  const source = (path) => ({ path: `${process.cwd()}/${path}` });
  onResolve({ filter: /^byterail$/ }, () => source("packages/core/src/index.ts"));
  onResolve({ filter: /^byterail\// }, ({ path }) => source(`packages/core/src/${path.slice("byterail/".length)}.ts`));
  onResolve({ filter: /^@byterail\/commissioning$/ }, () => source("packages/commissioning/src/index.ts"));
  onResolve({ filter: /^fast-check$/ }, ({ importer }) =>
    importer.endsWith("fewRuns.mjs") ? undefined : source("tests/scripts/mutation/fewRuns.mjs"),
  );
  onResolve({ filter: /^vitest$/ }, () => ({ path: "vitest", namespace: "given" }));
  onLoad({ filter: /./, namespace: "given" }, () => ({ contents: "module.exports = vitest;" }));
}
