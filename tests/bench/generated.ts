/** The module that the generator writes for a workload, compiled and loaded. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Layout } from "byterail";
import { transformSync } from "esbuild";

/** What the bench uses of it; what it does not have is missing. */
export interface Generated {
  readonly decode?: ((bytes: Uint8Array) => object) | undefined;
  readonly decodeByModule?: ((bytes: Uint8Array) => object) | undefined;
  readonly encode?: ((values: object) => Uint8Array) | undefined;
  readonly encodeInto?: ((bytes: Uint8Array, values: object) => Uint8Array) | undefined;
}

/** Generates, compiles and loads; null where the generator cannot do that (yet). */
export async function generatedModule(layout: Layout, folder: string): Promise<Generated | null> {
  try {
    const { generate } = await import("@byterail/generate");
    const { files } = generate(layout, ["typescript"]);
    const { path, text } = files[0]!;
    const target = join(folder, path.replace(/\.ts$/, ".mjs"));
    writeFileSync(target, transformSync(text, { loader: "ts", target: "es2022" }).code);
    const module = (await import(pathToFileURL(target).href)) as Record<string, never>;
    return {
      decode: module.decodeInputs,
      decodeByModule: module.decodeInputsByModule,
      encode: module.encodeInputs,
      encodeInto: module.encodeInputsInto,
    };
  } catch (error) {
    console.error(`no generated module: ${error instanceof Error ? error.message : error}`);
    return null;
  }
}
