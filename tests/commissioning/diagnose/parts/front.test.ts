import type { Entry } from "byterail";
import { describe, expect, test } from "vitest";
import { withoutFront } from "../../../../packages/commissioning/src/diagnose/front.js";

// Entries in short: a letter is a 16-bit number, "b" and a letter one bit, "4" four spare bytes, "b4" four spare bits,
// "w:x,y" a packed word of the flags x and y.
const entry = (short: string): Entry => {
  if (/^\d+$/.test(short)) return { spare: Number(short) };
  if (/^b\d+$/.test(short)) return { spareBits: Number(short.slice(1)) };
  if (short.startsWith("w:"))
    return {
      word: 16,
      fields: short
        .slice(2)
        .split(",")
        .map((name, bit) => ({ name, bit })),
    };
  return short.length === 2 ? { name: short, type: "bit" } : { name: short, type: "uint16" };
};
const entries = (short: string): Entry[] => short.split(" ").filter(Boolean).map(entry);
const left = (short: string, likely: readonly number[] = [], held: readonly string[] = []) =>
  withoutFront(entries(short), likely, held);

describe("what is left of the entries of a module without its front", () => {
  test.each<[string, string, readonly number[], readonly string[]]>([
    ["nothing of nothing", "", [1], []],
    ["words go one by one", "u v w", [1], ["v w", "w", ""]],
    [
      "spare bytes are shortened by what is likely, as long as some are left",
      "4 u",
      [1, 3, 4, 5],
      ["3 u", "1 u", "u", ""],
    ],
    ["spare bytes further on, too", "u 2 v", [1], ["2 v", "1 v", "v", ""]],
    ["a packed word goes as a whole", "w:run,trip u", [1], ["u", ""]],
    ["bits of one byte go together", "b4 bx by bz bu bv", [], ["bv", ""]],
    ["fewer than a byte where a word follows", "bx by u", [], ["u", ""]],
    ["the count of bits begins anew after a word", "bx u b8 by", [], ["u b8 by", "b8 by", "by", ""]],
    ["spare bits that end a byte", "b3 b5 bx", [], ["bx", ""]],
    ["a spare of bits is not shortened", "b16 bx", [1], ["bx", ""]],
  ])("%s", (_, from, likely, lists) => {
    expect(left(from, likely)).toEqual(lists.map(entries));
  });

  test("no more than eight entries are looked at", () => {
    expect(left("a b c d e f g h i j").map((list) => list.length)).toEqual([9, 8, 7, 6, 5, 4, 3, 2]);
  });

  test("what is written beside the size of a spare stays", () => {
    expect(withoutFront([{ spare: 2, title: "status" }], [1], [])).toEqual([[{ spare: 1, title: "status" }], []]);
  });

  test.each<[string, string, readonly string[], readonly string[]]>([
    ["a point that is held, and all that follows it", "u v w", ["v"], ["v w"]],
    ["the first", "u v w", ["w", "u"], []],
    ["a flag of a packed word", "u w:run,trip v", ["trip"], ["w:run,trip v"]],
    ["spares are never held", "2 b8 bx", ["bx"], ["b8 bx", "bx"]],
  ])("cannot go: %s", (_, from, held, lists) => {
    expect(left(from, [], held)).toEqual(lists.map(entries));
  });
});
