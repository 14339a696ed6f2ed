// The library against a slow decoder that was written from the rules alone, on random stations of the whole model.
// `npm run proof -- differential` does the same for 10,000 stations, and for the generated modules.

import { frame, station } from "@byterail/testkit";
import type { ImageLayout } from "byterail";
import fc from "fast-check";
import { expect, test } from "vitest";
import { differences } from "../support/reference/agreement.js";

const stations = 500;

test(`${stations} random stations: places, counts and values are those of the reference`, () => {
  let points = 0;
  for (const [k, description] of fc.sample(station(), { seed: 1, numRuns: stations }).entries()) {
    const framesOf = (image: ImageLayout) => {
      points += image.points.length;
      return fc.sample(frame(image), { seed: k, numRuns: 2 });
    };
    expect(differences(description, framesOf), JSON.stringify(description)).toEqual([]);
  }
  expect(points).toBeGreaterThan(stations);
});
