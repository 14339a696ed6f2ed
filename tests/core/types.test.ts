// The types are a part of the interface: types.cases.ts says what they infer and refuse, the compiler judges.

import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

const here = dirname(fileURLToPath(import.meta.url));
const cases = join(here, "types.cases.ts");

/** Complaints of the compiler about a file, as `line: message`. */
function complaints(file: string): string[] {
  const settings = join(here, "../tsconfig.json");
  const { config } = ts.readConfigFile(settings, ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(
    { ...config, include: [], files: [file] },
    ts.sys,
    dirname(settings),
  );
  const program = ts.createProgram([file], { ...options, types: [], lib: ["lib.es2022.d.ts", "lib.dom.d.ts"] });
  return ts.getPreEmitDiagnostics(program).map(({ file: where, start = 0, messageText }) => {
    const line = where ? where.getLineAndCharacterOfPosition(start).line + 1 : 0;
    return `${line}: ${ts.flattenDiagnosticMessageText(messageText, " ")}`;
  });
}

test("the compiler infers and refuses what types.cases.ts says", () => {
  expect(createRequire(cases).resolve("byterail")).toMatch(/packages.core.dist/);
  expect(complaints(cases)).toEqual([]);
});
