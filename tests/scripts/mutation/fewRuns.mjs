// fast-check with few runs, the same each time: whether a mutant dies must not be luck.

import fc from "fast-check";

// Enough for what the mutants get wrong; a property that says how many runs it takes often counts what they have met,
// so it keeps half of them.
const runs = (wanted) => (wanted === undefined ? 15 : Math.ceil(wanted / 2));

const assert = (property, parameters) =>
  fc.assert(property, {
    ...parameters,
    seed: 20251125,
    numRuns: runs(parameters?.numRuns),
    // The first failure is enough, nobody reads the smallest one.
    endOnFailure: true,
  });

export default { ...fc, assert };
