// Mistakes in a description, one by one: the code, the place and the remedy that each is answered with.

import { examine } from "byterail/schema";
import { expect, test } from "vitest";

type Data = Record<string, unknown>;

/** One mistake, and the one problem that answers it. */
export type Row = [title: string, data: unknown, code: string, path: string, remedy: string | RegExp];

/** A sound station with other keys put in. */
export const station = (keys: Data = {}): Data => ({
  ...{ format: 1, name: "rig", byteOrder: "little", modules: [] },
  ...keys,
});
export const withModules = (...modules: unknown[]): Data => station({ modules });
export const withModule = (keys: Data): Data => withModules({ name: "m", ...keys });
export const withInput = (entry: unknown): Data => withModule({ inputs: [entry] });
export const withOutput = (entry: unknown): Data => withModule({ outputs: [entry] });

/** Where the entry of `withInput` stands, if it is named n. */
export const input = "modules[0] m › inputs[0] n";

/** One test a row: that mistake has that answer, and no other. */
export function expectAnswers(table: readonly Row[]): void {
  test.each(table)("%s", (_, data, code, path, remedy) => {
    const { layout, problems } = examine(data);
    expect(layout).toBeNull();
    expect(problems.map((problem) => [problem.code, problem.path])).toEqual([[code, path]]);
    const { message } = problems[0]!;
    if (typeof remedy === "string") expect(message).toContain(remedy);
    else expect(message).toMatch(remedy);
  });
}
