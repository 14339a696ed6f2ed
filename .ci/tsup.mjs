// How every package is built: readable ES modules with their types, and nothing else in dist.

/**
 * The tsup settings of a package for any platform; an import of a Node module fails its build.
 * @param {...string} entry its entries, one file in dist each
 * @returns {import("tsup").Options}
 */
export function library(...entry) {
  return {
    entry,
    format: "esm",
    target: "es2022",
    platform: "neutral",
    removeNodeProtocol: false,
    dts: true,
    treeshake: true,
    minify: false,
    sourcemap: false,
    clean: true,
    silent: true,
  };
}

/**
 * The tsup settings of a package that runs on Node alone.
 * @param {...string} entry
 * @returns {import("tsup").Options}
 */
export function forNode(...entry) {
  return { ...library(...entry), platform: "node" };
}
