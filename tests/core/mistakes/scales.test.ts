// Mistakes in scales.

import { describe } from "vitest";
import { expectAnswers, input, withInput } from "./answers.js";

describe("scales", () => {
  const scale = `${input} › scale`;
  expectAnswers([
    ["a zero span of counts", withScale({ counts: [5, 5], value: [0, 1] }), "scale.span", `${scale}.counts`, /differ/],
    [
      "a zero span of value",
      withScale({ counts: [0, 5], value: [1, 1] }),
      "scale.span",
      `${scale}.value`,
      /1.*differ|differ.*1/,
    ],
    [
      "counts beyond the type",
      withScale({ counts: [0, 40000], value: [0, 1] }),
      "scale.counts",
      `${scale}.counts[1]`,
      "-32768 to 32767, not 40000",
    ],
    [
      "counts that are not whole",
      withScale({ counts: [0, 1.5], value: [0, 1] }),
      "scale.counts",
      `${scale}.counts[1]`,
      "a whole number",
    ],
    [
      "counts that are NaN",
      withScale({ counts: [0, Number.NaN], value: [0, 1] }),
      "type.number",
      `${scale}.counts[1]`,
      "must be a number, not NaN",
    ],
    [
      "counts that are infinite",
      withScale({ counts: [0, Infinity], value: [0, 1] }),
      "type.number",
      `${scale}.counts[1]`,
      "not Infinity",
    ],
    ["counts as text", withScale({ counts: ["0", 1], value: [0, 1] }), "type.number", `${scale}.counts[0]`, 'not "0"'],
    [
      "three counts",
      withScale({ counts: [0, 1, 2], value: [0, 1] }),
      "type.list",
      `${scale}.counts`,
      "must have 2 entries, not 3",
    ],
    ["no counts", withScale({ value: [0, 1] }), "scale.counts", scale, '"counts" is missing'],
    ["nothing but counts", withScale({ counts: [0, 1] }), "scale.value", scale, 'needs "value", "signal" or both'],
    [
      "a scale on 64 bits",
      withScale({ counts: [0, 1], value: [0, 1] }, "int64"),
      "scale.width",
      scale,
      "up to 32 bits, not 64",
    ],
    [
      "a signal unit without a signal",
      withScale({ counts: [0, 1], value: [0, 1], signalUnit: "mA" }),
      "scale.signal",
      `${scale}.signalUnit`,
      'no "signal"',
    ],
    [
      "a signal in ampere",
      withScale({ counts: [0, 1], signal: [0, 1], signalUnit: "A" }),
      "type.oneOf",
      `${scale}.signalUnit`,
      '"mA" or "V"',
    ],
    [
      "points and a value",
      withScale({
        points: [
          [0, 0],
          [1, 1],
        ],
        value: [0, 1],
      }),
      "scale.twice",
      scale,
      "no value",
    ],
    [
      "points and a shape",
      withScale({
        points: [
          [0, 0],
          [1, 1],
        ],
        shape: "linear",
      }),
      "scale.twice",
      scale,
      "no shape",
    ],
    [
      "points that turn back",
      withScale({
        points: [
          [0, 0],
          [2, 1],
          [1, 2],
        ],
      }),
      "scale.monotone",
      `${scale}.points`,
      /must each rise,? or fall/,
    ],
    [
      "a point of counts beyond the type",
      withScale({
        points: [
          [0, 0],
          [40000, 1],
        ],
      }),
      "scale.counts",
      `${scale}.points[1][0]`,
      "-32768 to 32767, not 40000",
    ],
    [
      "counts beside points, without the signal that they are for",
      withScale({
        points: [
          [0, 0],
          [1, 1],
        ],
        counts: [0, 1],
      }),
      "scale.counts",
      scale,
      "counts and signal go together",
    ],
    [
      "a signal beside points, without its counts",
      withScale({
        points: [
          [0, 0],
          [1, 1],
        ],
        signal: [4, 20],
        signalUnit: "mA",
      }),
      "scale.counts",
      scale,
      "counts and signal go together",
    ],
    ["one point", withScale({ points: [[0, 0]] }), "type.list", `${scale}.points`, "not 1"],
    [
      "ends too far apart in size",
      withScale({ counts: [0, 1], value: [1e-300, 1e300] }),
      "scale.size",
      scale,
      "too far apart",
    ],
  ]);
});

function withScale(scale: Record<string, unknown>, type = "int16") {
  return withInput({ name: "n", type, scale });
}
