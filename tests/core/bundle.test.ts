// What the library costs a page that loads it: minified and compressed, as a server would send it.

import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { expect, test } from "vitest";

const here = dirname(fileURLToPath(import.meta.url));

/** Bytes of a script with everything that it imports, minified and compressed. */
async function sizeOf(script: string): Promise<number> {
  const { outputFiles } = await build({
    stdin: { contents: script, resolveDir: here, loader: "ts" },
    ...{
      bundle: true,
      minify: true,
      write: false,
      format: "esm",
      platform: "neutral",
      target: "es2022",
      logLevel: "silent",
    },
  });
  return gzipSync(outputFiles[0]!.contents, { level: 9 }).length;
}

test.each([
  ["the whole library", 12_000, 'export * from "byterail";'],
  [
    "the codec of 16 bits and the linear scale",
    3_000,
    `import { linearScale, numberCodec, roundTiesToEven } from "byterail";
     const word = numberCodec("int16", "big");
     const { toValue, toCounts } = linearScale([4000, 20000], [0, 10]);
     export const read = (bytes: Uint8Array) => toValue(word.read(bytes));
     export const write = (bytes: Uint8Array, value: number) => word.write(bytes, roundTiesToEven(toCounts(value)));`,
  ],
  // Imports nothing, so it must cost nothing: the package has no side effects.
  [
    "an import of types alone",
    100,
    'import type { Station } from "byterail"; import "byterail"; export const station: Station | null = null;',
  ],
])("%s takes less than %i bytes", async (what, budget, script) => {
  const size = await sizeOf(script);
  console.log(`minified and compressed, ${what}: ${size} bytes of ${budget}`);
  expect(size).toBeLessThan(budget);
});

test("runs without Node: nothing of it is imported", async () => {
  // With platform "neutral" esbuild would fail to resolve a module of Node.
  await expect(sizeOf('export * from "byterail"; export * from "byterail/schema";')).resolves.toBeGreaterThan(0);
});
