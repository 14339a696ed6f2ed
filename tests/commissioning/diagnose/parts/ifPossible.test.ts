import { ByterailError } from "byterail";
import { describe, expect, test } from "vitest";
import { ifPossible } from "../../../../packages/commissioning/src/diagnose/ifPossible.js";

describe("a change that is tried", () => {
  test("gives what comes of it, null and undefined included", () => {
    expect([ifPossible(() => 7), ifPossible(() => null), ifPossible(() => undefined)]).toEqual([7, null, undefined]);
  });

  test("gives null where core says that there can be no such thing", () => {
    const refused = () => {
      throw new ByterailError([{ code: "scale.span", path: "station", message: "has no span" }]);
    };
    expect(ifPossible(refused)).toBeNull();
  });

  test("lets every other error pass: it is a defect, not an answer", () => {
    const broken = () => {
      throw new TypeError("no function");
    };
    expect(() => ifPossible(broken)).toThrow(new TypeError("no function"));
  });
});
