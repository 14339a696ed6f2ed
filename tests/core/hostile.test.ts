// Data that nobody sound would send: every call returns or throws the library's own error, and no prototype changes.
// `npm run proof -- fuzz` does the same for as long as one likes, and looks at time and memory.

import { assemble, type Layout } from "byterail";
import { station } from "@byterail/testkit";
import fc from "fast-check";
import { expect, test } from "vitest";
import { attackBytes, attackDescription, bytesAndValues, descriptions, type Outcome } from "../support/hostile.js";

const prototypes = [Object.prototype, Array.prototype, Function.prototype];
const keysOfPrototypes = () => prototypes.map((prototype) => Reflect.ownKeys(prototype).length);

test("descriptions with accidents, and what is no description", () => {
  const before = keysOfPrototypes();
  let calls = 0;
  const property = fc.property(descriptions(), (data) => {
    calls += allOwn(attackDescription(data));
  });
  fc.assert(property, { seed: 1, numRuns: 300 });
  expect(calls).toBeGreaterThan(150);
  expect(keysOfPrototypes()).toEqual(before);
});

test("bytes of any length, values of any kind, names of prototypes", () => {
  const before = keysOfPrototypes();
  const sample = station().map((description) => assemble(description) as Layout);
  const property = fc.property(
    sample.chain((layout) => fc.tuple(fc.constant(layout), bytesAndValues(layout))),
    ([layout, [bytes, values]]) => {
      allOwn(attackBytes(layout, bytes, values));
    },
  );
  fc.assert(property, { seed: 2, numRuns: 300 });
  expect(keysOfPrototypes()).toEqual(before);
});

function allOwn(outcomes: readonly Outcome[]): number {
  for (const { what, foreign } of outcomes) expect(foreign, what).toBeNull();
  return outcomes.length;
}
