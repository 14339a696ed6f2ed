// Changes of a description as JSON patches (RFC 6902) with JSON pointers (RFC 6901).

import { applyChange, type StationChange } from "@byterail/commissioning";
import type { Station } from "byterail";
import { station } from "@byterail/testkit";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changeBetween } from "../../../../packages/commissioning/src/diagnose/change.js";
import { problemsOf } from "../../../support/problems.js";

// A change can be of any JSON data; descriptions are such.
const applied = (data: unknown, ...change: StationChange) => applyChange(data as Station, change) as unknown;
const between = (from: unknown, to: unknown) => changeBetween(from as Station, to as Station);

describe("applied as RFC 6902 has it, its appendix A from memory", () => {
  test.each<[string, unknown, StationChange[number], unknown]>([
    ["A.1 a member added", { foo: "bar" }, { op: "add", path: "/baz", value: "qux" }, { foo: "bar", baz: "qux" }],
    [
      "A.2 an element added",
      { foo: ["bar", "baz"] },
      { op: "add", path: "/foo/1", value: "qux" },
      { foo: ["bar", "qux", "baz"] },
    ],
    ["A.3 a member removed", { baz: "qux", foo: "bar" }, { op: "remove", path: "/baz" }, { foo: "bar" }],
    [
      "A.4 an element removed",
      { foo: ["bar", "qux", "baz"] },
      { op: "remove", path: "/foo/1" },
      { foo: ["bar", "baz"] },
    ],
    [
      "A.5 a value replaced",
      { baz: "qux", foo: "bar" },
      { op: "replace", path: "/baz", value: "boo" },
      { baz: "boo", foo: "bar" },
    ],
    [
      "A.6 a value moved",
      { foo: { bar: "baz", waldo: "fred" }, qux: { corge: "grault" } },
      { op: "move", from: "/foo/waldo", path: "/qux/thud" },
      { foo: { bar: "baz" }, qux: { corge: "grault", thud: "fred" } },
    ],
    [
      "A.7 an element moved",
      { foo: ["all", "grass", "cows", "eat"] },
      { op: "move", from: "/foo/1", path: "/foo/3" },
      { foo: ["all", "cows", "eat", "grass"] },
    ],
    [
      "A.10 an object added",
      { foo: "bar" },
      { op: "add", path: "/child", value: { grandchild: {} } },
      { foo: "bar", child: { grandchild: {} } },
    ],
    [
      "A.14 ~ and / escaped, in this order",
      { "/": 9, "~1": 10 },
      { op: "replace", path: "/~01", value: 11 },
      { "/": 9, "~1": 11 },
    ],
    ["/ escaped", { "/": 9, "~1": 10 }, { op: "replace", path: "/~1", value: 11 }, { "/": 11, "~1": 10 }],
    [
      "A.16 a list added at the end",
      { foo: ["bar"] },
      { op: "add", path: "/foo/-", value: ["abc", "def"] },
      { foo: ["bar", ["abc", "def"]] },
    ],
    ["an element replaced", { foo: [1, 2, 3] }, { op: "replace", path: "/foo/1", value: 9 }, { foo: [1, 9, 3] }],
    [
      "inside an element of a list",
      { foo: [{ a: 1 }, { a: 2 }, { a: 3 }] },
      { op: "replace", path: "/foo/1/a", value: 9 },
      { foo: [{ a: 1 }, { a: 9 }, { a: 3 }] },
    ],
    ["a member that is there added: replaced", { foo: 1 }, { op: "add", path: "/foo", value: 2 }, { foo: 2 }],
    ["the whole", { foo: 1 }, { op: "replace", path: "", value: { bar: 2 } }, { bar: 2 }],
    ["a key that is an empty text", { "": 1 }, { op: "replace", path: "/", value: 2 }, { "": 2 }],
    ["every ~ and /", { "a/b/c~d~e": 1 }, { op: "remove", path: "/a~1b~1c~0d~0e" }, {}],
  ])("%s", (_, data, operation, wanted) => {
    const before = structuredClone(data);
    expect(applied(data, operation)).toStrictEqual(wanted);
    expect(data).toEqual(before);
  });

  test("one operation after the other", () => {
    const change: StationChange = [
      { op: "remove", path: "/foo/0" },
      { op: "replace", path: "/foo/0", value: 9 },
    ];
    expect(applied({ foo: [1, 2, 3] }, ...change)).toEqual({ foo: [9, 3] });
  });
});

describe("a place that does not exist is refused, with its path", () => {
  test.each<[string, unknown, StationChange[number], string]>([
    ["A.12 nothing to add into", { foo: "bar" }, { op: "add", path: "/baz/bat", value: 1 }, "/baz/bat"],
    ["into a text", { foo: "bar" }, { op: "add", path: "/foo/0", value: 1 }, "/foo/0"],
    ["into null", { foo: null }, { op: "add", path: "/foo/a", value: 1 }, "/foo/a"],
    ["nothing to remove", { foo: 1 }, { op: "remove", path: "/bar" }, "/bar"],
    ["nothing to replace", { foo: 1 }, { op: "replace", path: "/bar", value: 1 }, "/bar"],
    ["the whole removed", { foo: 1 }, { op: "remove", path: "" }, ""],
    ["an element replaced behind the end", { foo: [1] }, { op: "replace", path: "/foo/1", value: 1 }, "/foo/1"],
    ["an element removed behind the end", { foo: [1] }, { op: "remove", path: "/foo/1" }, "/foo/1"],
    ["an element added two behind the end", { foo: [1] }, { op: "add", path: "/foo/2", value: 1 }, "/foo/2"],
    ["inside the element behind the end", { foo: [{}] }, { op: "add", path: "/foo/1/a", value: 1 }, "/foo/1/a"],
    ["an element before the first", { foo: [1] }, { op: "replace", path: "/foo/-1", value: 1 }, "/foo/-1"],
    ["a half", { foo: [1, 2] }, { op: "replace", path: "/foo/0.5", value: 1 }, "/foo/0.5"],
    ["no index", { foo: [1, 2] }, { op: "replace", path: "/foo/a", value: 1 }, "/foo/a"],
    ["nothing to move", { foo: 1 }, { op: "move", from: "/bar", path: "/baz" }, "/bar"],
    ["nothing on the way to what is moved", { foo: 1 }, { op: "move", from: "/bar/a", path: "/baz" }, "/bar/a"],
    ["nowhere to move to", { foo: 1 }, { op: "move", from: "/foo", path: "/bar/a" }, "/bar/a"],
    ["a key of every object", {}, { op: "replace", path: "/toString", value: 1 }, "/toString"],
    ["a prototype", {}, { op: "add", path: "/__proto__/polluted", value: 1 }, "/__proto__/polluted"],
  ])("%s", (_, data, operation, path) => {
    expect(problemsOf(() => applied(data, operation))).toEqual([
      { code: "change.path", path, message: "does not exist in this description; the change was made for another" },
    ]);
    expect("polluted" in {}).toBe(false);
  });

  test("an element may be added right behind the last", () => {
    expect(applied({ foo: [1] }, { op: "add", path: "/foo/1", value: 2 })).toEqual({ foo: [1, 2] });
  });
});

const [a, b, c, d] = ["a", "b", "c", "d"].map((name) => ({ name, size: 1 }));

describe("the change between two descriptions", () => {
  test.each<[string, unknown, unknown, StationChange]>([
    ["none", { foo: [a, 1] }, { foo: [a, 1] }, []],
    [
      "a value",
      { name: "rig", byteOrder: "big" },
      { name: "rig", byteOrder: "little" },
      [{ op: "replace", path: "/byteOrder", value: "little" }],
    ],
    [
      "keys that go, stay and come, at any depth",
      { at: { old: 1, same: 2, deep: { x: 1 } } },
      { at: { same: 2, deep: { x: 2 }, new: 3 } },
      [
        { op: "remove", path: "/at/old" },
        { op: "replace", path: "/at/deep/x", value: 2 },
        { op: "add", path: "/at/new", value: 3 },
      ],
    ],
    ["a key that has no value is none", { a: 1, b: undefined }, { a: 1, c: undefined }, []],
    ["a key that loses its value", { a: 1 }, { a: undefined }, [{ op: "remove", path: "/a" }]],
    [
      "a key with ~ and /",
      { "x-a/b/c~d~e": 1 },
      { "x-a/b/c~d~e": 2 },
      [{ op: "replace", path: "/x-a~1b~1c~0d~0e", value: 2 }],
    ],
    [
      "a list of numbers, as a whole",
      { counts: [0, 10] },
      { counts: [0, 20] },
      [{ op: "replace", path: "/counts", value: [0, 20] }],
    ],
    [
      "a list of which one side has no objects",
      { list: [a, b] },
      { list: [a, 5] },
      [{ op: "replace", path: "/list", value: [a, 5] }],
    ],
    ["the other side", { list: [5, a] }, { list: [b, a] }, [{ op: "replace", path: "/list", value: [b, a] }]],
    ["a list in place of an object", { x: a }, { x: [a] }, [{ op: "replace", path: "/x", value: [a] }]],
    ["an object in place of a list", { x: [a] }, { x: a }, [{ op: "replace", path: "/x", value: a }]],
    ["null in place of an object", { x: a }, { x: null }, [{ op: "replace", path: "/x", value: null }]],
    ["an object in place of a text", { x: "a" }, { x: a }, [{ op: "replace", path: "/x", value: a }]],
    ["one item more, before all", { list: [a, b] }, { list: [c, a, b] }, [{ op: "add", path: "/list/0", value: c }]],
    ["in between", { list: [a, b] }, { list: [a, c, b] }, [{ op: "add", path: "/list/1", value: c }]],
    ["behind all", { list: [a, b] }, { list: [a, b, c] }, [{ op: "add", path: "/list/2", value: c }]],
    [
      "two more",
      { list: [b] },
      { list: [a, b, c] },
      [
        { op: "add", path: "/list/0", value: a },
        { op: "add", path: "/list/2", value: c },
      ],
    ],
    ["one item less", { list: [a, b, c] }, { list: [a, c] }, [{ op: "remove", path: "/list/1" }]],
    ["the last", { list: [a, b, c] }, { list: [a, b] }, [{ op: "remove", path: "/list/2" }]],
    [
      "two less",
      { list: [a, b, c, d] },
      { list: [b, d] },
      [
        { op: "remove", path: "/list/0" },
        { op: "remove", path: "/list/1" },
      ],
    ],
    [
      "neighbours exchanged",
      { list: [a, b, c] },
      { list: [a, c, b] },
      [{ op: "move", from: "/list/2", path: "/list/1" }],
    ],
    [
      "two exchanged that are apart",
      { list: [a, b, c, d] },
      { list: [a, d, c, b] },
      [
        { op: "move", from: "/list/3", path: "/list/1" },
        { op: "move", from: "/list/2", path: "/list/3" },
      ],
    ],
    [
      "exchanged, and one of them changed",
      { list: [a, b, c] },
      { list: [b, { ...a, size: 2 }, c] },
      [
        { op: "move", from: "/list/1", path: "/list/0" },
        { op: "replace", path: "/list/1/size", value: 2 },
      ],
    ],
    [
      "two others in their places",
      { list: [a, b] },
      { list: [c, d] },
      [
        { op: "replace", path: "/list/0/name", value: "c" },
        { op: "replace", path: "/list/1/name", value: "d" },
      ],
    ],
    [
      "one of two in the place of the other",
      { list: [a, b] },
      { list: [b, c] },
      [
        { op: "replace", path: "/list/0/name", value: "b" },
        { op: "replace", path: "/list/1/name", value: "c" },
      ],
    ],
    [
      "and the other way round",
      { list: [a, b] },
      { list: [c, a] },
      [
        { op: "replace", path: "/list/0/name", value: "c" },
        { op: "replace", path: "/list/1/name", value: "a" },
      ],
    ],
    [
      "three that changed places, item by item",
      { list: [a, b, c] },
      { list: [b, c, a] },
      [
        { op: "replace", path: "/list/0/name", value: "b" },
        { op: "replace", path: "/list/1/name", value: "c" },
        { op: "replace", path: "/list/2/name", value: "a" },
      ],
    ],
    [
      "items without a name are told by what is in them",
      { list: [{ spare: 1 }, a, { spare: 2 }] },
      { list: [{ spare: 2 }, a, { spare: 1 }] },
      [
        { op: "move", from: "/list/2", path: "/list/0" },
        { op: "move", from: "/list/1", path: "/list/2" },
      ],
    ],
    [
      "one that shrinks",
      { list: [{ spare: 4 }, a] },
      { list: [{ spare: 2 }, a] },
      [{ op: "replace", path: "/list/0/spare", value: 2 }],
    ],
    [
      "a name that is no text",
      { list: [{ name: 1 }, a] },
      { list: [{ name: 2 }, a] },
      [{ op: "replace", path: "/list/0/name", value: 2 }],
    ],
  ])("%s", (_, from, to, change) => {
    expect(between(from, to)).toEqual(change);
    // A key without a value is none in JSON.
    expect(applied(from, ...change)).toEqual(JSON.parse(JSON.stringify(to)));
  });

  test("between any two stations, applied to the one it gives the other", () => {
    fc.assert(
      fc.property(station(), station(), (from, to) => {
        expect(applyChange(from, changeBetween(from, to))).toEqual(to);
      }),
      { numRuns: 60 },
    );
  });
});
