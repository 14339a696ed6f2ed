// Generated TypeScript, compiled with the strict settings of this workspace and loaded.

import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Problem } from "byterail";
import { transformSync } from "esbuild";
import ts from "typescript";

const root = join(dirname(fileURLToPath(import.meta.url)), "../../..");

/** What a generated module exports. */
export interface StationModule {
  readonly inputsLength: number;
  readonly outputsLength: number;
  readonly inputsLayout: Record<string, Record<string, unknown>>;
  readonly outputsLayout: Record<string, Record<string, unknown>>;
  readonly decodeInputs: (bytes: Uint8Array) => unknown;
  readonly decodeOutputs: (bytes: Uint8Array) => unknown;
  readonly decodeInputsByModule: (bytes: Uint8Array) => unknown;
  readonly decodeOutputsByModule: (bytes: Uint8Array) => unknown;
  readonly encodeInputs: (values: unknown) => Uint8Array;
  readonly encodeOutputs: (values: unknown) => Uint8Array;
  readonly encodeInputsInto: (bytes: Uint8Array, values: unknown) => Uint8Array;
  readonly encodeOutputsInto: (bytes: Uint8Array, values: unknown) => Uint8Array;
  readonly ProcessImageError: new (problems: readonly Problem[]) => Error & { readonly problems: readonly Problem[] };
}

/** A program that was compiled. */
export interface Compiled {
  /** Messages of the compiler, one a line; none when the code is sound. */
  readonly messages: readonly string[];
  /** Loads one of the modules by the name of its file. */
  readonly load: (file: string) => Promise<StationModule>;
}

/**
 * Compiles modules together, in a folder of their own, with every strict setting.
 *
 * @param name of the folder
 * @param files texts by file names such as `a.ts`
 */
export function compileTypescript(name: string, files: ReadonlyMap<string, string>): Compiled {
  const folder = folderWith(name, files);
  const options = { ...strictOptions(), outDir: join(folder, "js"), rootDir: folder };
  const program = ts.createProgram(
    [...files.keys()].map((file) => join(folder, file)),
    options,
  );
  const emitted = program.emit();
  const found = [...ts.getPreEmitDiagnostics(program), ...emitted.diagnostics];
  return { messages: found.map(messageOf), load: loader(folder) };
}

/** Takes the types away without a look at them, which is many times quicker. */
export function strippedTypescript(name: string, files: ReadonlyMap<string, string>): Pick<Compiled, "load"> {
  const folder = folderWith(name, files);
  mkdirSync(join(folder, "js"));
  for (const [file, text] of files)
    writeFileSync(
      join(folder, "js", file.replace(/\.ts$/, ".js")),
      transformSync(text, { loader: "ts", target: "es2022" }).code,
    );
  return { load: loader(folder) };
}

function folderWith(name: string, files: ReadonlyMap<string, string>): string {
  const folder = join(root, "tests/.cache/typescript", name);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "package.json"), '{ "type": "module" }\n');
  for (const [file, text] of files) writeFileSync(join(folder, file), text);
  return folder;
}

function loader(folder: string): Compiled["load"] {
  return (file) => import(/* @vite-ignore */ pathToFileURL(join(folder, "js", file.replace(/\.ts$/, ".js"))).href);
}

function messageOf({ file, start, messageText }: ts.Diagnostic): string {
  const line = file && ts.getLineAndCharacterOfPosition(file, start!).line + 1;
  return `${file?.fileName}:${line} ${ts.flattenDiagnosticMessageText(messageText, " ")}`;
}

function strictOptions(): ts.CompilerOptions {
  const path = join(root, "tsconfig.base.json");
  const { config } = ts.readConfigFile(path, ts.sys.readFile) as { config: unknown };
  return ts.parseJsonConfigFileContent(config, ts.sys, root).options;
}
