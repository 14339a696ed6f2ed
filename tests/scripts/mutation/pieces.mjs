// The pieces that are mutated one after the other, each with the tests that specify it.

/**
 * `first` names the test files where most mutants of the piece die.
 * @type {readonly { name: string, mutate: readonly string[], tests: readonly string[], first: readonly string[] }[]}
 */
export const pieces = [
  piece("core", "number", "numbers"),
  piece("core", "scale", "scaling", "mistakes/scales", "numbers"),
  piece("core", "layout", "placement", "mistakes/", "address", "image"),
  piece("core", "image", "image"),
  piece("core", "station", "mistakes/"),
  piece("core", "schema", "mistakes/"),
  piece("core", "problem", "mistakes/"),
  piece("commissioning", "forcing", "forcing.test"),
  piece("commissioning", "cautions", "print"),
  piece("commissioning", "sheet", "sheet", "band", "print"),
  piece("commissioning", "compare", "compare"),
  piece("commissioning", "diagnose", "diagnose/causes", "diagnose/parts", "diagnose/diagnose"),
];

function piece(workspace, concept, ...first) {
  return {
    name: `${workspace}/${concept}`,
    // A concept is a folder or a single file.
    mutate: [`packages/${workspace}/src/${concept}/**/*.ts`, `packages/${workspace}/src/${concept}.ts`],
    tests: [workspace],
    first: first.map((name) => `${workspace}/${name}`),
  };
}
