// The order of the test files: those where the mutants of the piece die, then tables of cases, then what takes long.

import { readFileSync } from "node:fs";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const first = process.env.BYTERAIL_MUTATION_FIRST?.split(",") ?? [];

export default class Order extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return files
      .map((file) => ({ file, rank: rankOf(file.moduleId) }))
      .sort((a, b) => a.rank - b.rank)
      .map(({ file }) => file);
  }
}

function rankOf(path: string): number {
  const rank = first.findIndex((name) => path.includes(`/tests/${name}`));
  // Deep data and long series of random cases.
  if (/\/(odd|text|properties)\.test/.test(path)) return first.length + 2;
  if (rank >= 0) return rank;
  return first.length + (readFileSync(path, "utf8").includes("fc.assert(") ? 1 : 0);
}
