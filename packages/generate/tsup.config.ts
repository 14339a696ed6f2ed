import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build, type Plugin } from "esbuild";
import { library } from "../../.ci/tsup.mjs";

const source = fileURLToPath(new URL("./src/", import.meta.url));

/**
 * `import { text, sha256 } from "text:html/page.css"` puts a file of src in as a text; a script comes bundled with all that
 * it imports, the core among it, so that a page needs no other file.
 */
const texts: Plugin = {
  name: "texts",
  setup: ({ onResolve, onLoad }) => {
    // The mark at the end keeps other plug-ins away, which go by the ending of a file.
    onResolve({ filter: /^text:/ }, ({ path }) => ({ path: `${source}${path.slice(5)}?text`, namespace: "text" }));
    onLoad({ filter: /./, namespace: "text" }, async (file) => {
      const path = file.path.slice(0, -5);
      const text = path.endsWith(".ts") ? await bundled(path) : readFileSync(path, "utf8");
      const sha256 = createHash("sha256").update(text).digest("base64");
      return {
        contents: `export const text = ${JSON.stringify(text)}; export const sha256 = "${sha256}";`,
        watchFiles: [path],
      };
    });
  },
};

async function bundled(path: string): Promise<string> {
  const options = {
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2022",
    charset: "utf8",
    write: false,
  } as const;
  const { outputFiles } = await build({ ...options, entryPoints: [path], legalComments: "none" });
  // In a page, the end tag of a script would end it wherever it stands; inside a string the escape changes nothing.
  return outputFiles[0]!.text.replace(/<\/(?=script)/gi, "<\\/").replace(/<!--/g, "<\\!--");
}

export default { ...library("src/index.ts"), esbuildPlugins: [texts] };
