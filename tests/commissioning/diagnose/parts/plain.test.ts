import { expect, test } from "vitest";
import { plain } from "../../../../packages/commissioning/src/diagnose/plain.js";

// JSON has no infinities, no NaN and, as programs read it, no integers beyond 53 bits (RFC 8259, section 6).
test.each<[boolean | number | bigint, boolean | number | string]>([
  [true, true],
  [false, false],
  [0, 0],
  [-3.25, -3.25],
  [2 ** 53, 2 ** 53],
  [18446744073709551615n, "18446744073709551615"],
  [-1n, "-1"],
  [0n, "0"],
  [Infinity, "Infinity"],
  [-Infinity, "-Infinity"],
  [NaN, "NaN"],
])("%s stands in JSON as %j, and is the same when it has been there and back", (value, expected) => {
  expect(plain(value)).toBe(expected);
  expect(JSON.parse(JSON.stringify(plain(value)))).toBe(expected);
});
