// Sources: JSON patch, RFC 6902, its sections 4 and its appendix A; JSON pointers, RFC 6901, sections 3 to 5. The examples
// of both are given from memory.

import type { StationChange } from "@byterail/commissioning";
import { ByterailError, type Station } from "byterail";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyChange, changeBetween } from "../../../../packages/commissioning/src/diagnose/change.js";
import { problemsOf } from "../../../support/problems.js";
import { built } from "../station.js";

// A patch is made for any document; stations are those that it is used for.
const patched = (document: unknown, ...change: StationChange): unknown => applyChange(document as Station, change);
const between = (from: unknown, to: unknown) => changeBetween(from as Station, to as Station);

const refusedAt = (path: string) => [
  { code: "change.path", path, message: "does not exist in this description; the change was made for another" },
];

describe("a change is applied as a JSON patch (sections of RFC 6902)", () => {
  test.each<[string, unknown, StationChange, unknown]>([
    ["A.1 a member is added", { foo: "bar" }, [{ op: "add", path: "/baz", value: "qux" }], { baz: "qux", foo: "bar" }],
    [
      "A.2 an item is added before another",
      { foo: ["bar", "baz"] },
      [{ op: "add", path: "/foo/1", value: "qux" }],
      { foo: ["bar", "qux", "baz"] },
    ],
    ["A.3 a member is removed", { baz: "qux", foo: "bar" }, [{ op: "remove", path: "/baz" }], { foo: "bar" }],
    [
      "A.4 an item is removed",
      { foo: ["bar", "qux", "baz"] },
      [{ op: "remove", path: "/foo/1" }],
      { foo: ["bar", "baz"] },
    ],
    [
      "A.5 a member is replaced",
      { baz: "qux", foo: "bar" },
      [{ op: "replace", path: "/baz", value: "boo" }],
      { baz: "boo", foo: "bar" },
    ],
    [
      "A.6 a member is moved",
      { foo: { bar: "baz", waldo: "fred" }, qux: { corge: "grault" } },
      [{ op: "move", from: "/foo/waldo", path: "/qux/thud" }],
      { foo: { bar: "baz" }, qux: { corge: "grault", thud: "fred" } },
    ],
    [
      "A.7 an item is moved: the place is counted after it was taken out",
      { foo: ["all", "grass", "cows", "eat"] },
      [{ op: "move", from: "/foo/1", path: "/foo/3" }],
      { foo: ["all", "cows", "eat", "grass"] },
    ],
    [
      "A.10 a member that is an object is added",
      { foo: "bar" },
      [{ op: "add", path: "/child", value: { grandchild: {} } }],
      { foo: "bar", child: { grandchild: {} } },
    ],
    [
      "A.11 a key of an operation that nobody knows is left alone",
      { foo: "bar" },
      [{ op: "add", path: "/baz", value: "qux", xyz: 123 } as never],
      { foo: "bar", baz: "qux" },
    ],
    [
      "A.16 a list is added behind the last item",
      { foo: ["bar"] },
      [{ op: "add", path: "/foo/-", value: ["abc", "def"] }],
      { foo: ["bar", ["abc", "def"]] },
    ],
    ["4.1 the root is replaced", { foo: 1 }, [{ op: "add", path: "", value: { bar: 2 } }], { bar: 2 }],
    ["4.1 a member that is there is replaced", { foo: 1 }, [{ op: "add", path: "/foo", value: 2 }], { foo: 2 }],
    ["4.1 behind the last item, by number", [1, 2], [{ op: "add", path: "/2", value: 3 }], [1, 2, 3]],
    ["4.1 into an empty list", { a: [] }, [{ op: "add", path: "/a/0", value: 1 }], { a: [1] }],
    ["4.3 an item is replaced, the first", [1, 2, 3], [{ op: "replace", path: "/0", value: 9 }], [9, 2, 3]],
    ["4.3 an item is replaced, the last", [1, 2, 3], [{ op: "replace", path: "/2", value: 9 }], [1, 2, 9]],
    ["4.3 a null is there to be replaced", { a: null }, [{ op: "replace", path: "/a", value: 1 }], { a: 1 }],
    ["4.4 to where it is already", [1, 2], [{ op: "move", from: "/1", path: "/1" }], [1, 2]],
    ["4.4 beside a key that begins alike", { a: 1 }, [{ op: "move", from: "/a", path: "/ab" }], { ab: 1 }],
    [
      "below lists and objects",
      { a: [0, { b: [1, 2], c: 3 }, 4], d: 5 },
      [{ op: "replace", path: "/a/1/b/0", value: 9 }],
      { a: [0, { b: [9, 2], c: 3 }, 4], d: 5 },
    ],
    [
      "in a list of more than ten items",
      [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11],
      [
        { op: "remove", path: "/11" },
        { op: "remove", path: "/10" },
      ],
      [0, 1, 2, 3, 4, 5, 6, 7, 8, 9],
    ],
    [
      "each operation to what the one before left",
      { a: [1, 2] },
      [
        { op: "remove", path: "/a/0" },
        { op: "replace", path: "/a/0", value: { b: 1 } },
        { op: "add", path: "/a/0/c", value: 2 },
      ],
      { a: [{ b: 1, c: 2 }] },
    ],
    ["no operation", { a: 1 }, [], { a: 1 }],
  ])("%s", (_, document, change, expected) => {
    expect(patched(document, ...change)).toEqual(expected);
  });

  // The document of section 5: what each pointer names.
  const document = {
    foo: ["bar", "baz"],
    "": 0,
    "a/b": 1,
    "c%d": 2,
    "e^f": 3,
    "g|h": 4,
    "i\\j": 5,
    'k"l': 6,
    " ": 7,
    "m~n": 8,
  };
  test.each<[string, string]>([
    ["/foo", "foo"],
    ["/", ""],
    ["/a~1b", "a/b"],
    ["/c%d", "c%d"],
    ["/e^f", "e^f"],
    ["/g|h", "g|h"],
    ["/i\\j", "i\\j"],
    ['/k"l', 'k"l'],
    ["/ ", " "],
    ["/m~0n", "m~n"],
  ])("RFC 6901, 5: %j names the member %j", (path, key) => {
    expect(patched(document, { op: "replace", path, value: "here" })).toEqual({ ...document, [key]: "here" });
    expect(Object.keys(patched(document, { op: "remove", path }) as object)).not.toContain(key);
  });

  test("RFC 6901, 4 and RFC 6902, A.14: ~01 is a tilde and a 1, not a slash; all of a key are read", () => {
    expect(patched({ "/": 9, "~1": 10 }, { op: "replace", path: "/~01", value: 11 })).toEqual({ "/": 9, "~1": 11 });
    expect(patched({ "a//b~~": 1 }, { op: "replace", path: "/a~1~1b~0~0", value: 2 })).toEqual({ "a//b~~": 2 });
  });

  test("the description given stays as it is, and what is not changed is shared with it", () => {
    const before = structuredClone(built);
    const after = applyChange(built, [
      { op: "replace", path: "/modules/1/inputs/1/type", value: "uint16" },
      { op: "remove", path: "/modules/3" },
      { op: "move", from: "/modules/0", path: "/modules/1" },
      { op: "add", path: "/modules/0/title", value: "Sensors" },
    ]);
    expect(built).toEqual(before);
    expect(after.modules.map(({ name }) => name)).toEqual(["sensors", "limits", "counters"]);
    expect(after.modules[1]).toBe(built.modules[0]);
    expect(after.modules[0]!.inputs![0]).toBe(built.modules[1]!.inputs![0]);
  });
});

describe("a place that does not exist is refused, and told (sections of RFC 6902, unless said otherwise)", () => {
  const document = { foo: "bar", list: [1, 2], none: null, deep: { er: {} }, items: [{ a: 1 }, { b: 2 }] };
  test.each<[string, StationChange[number], string?]>([
    ["A.12 added to what is not there", { op: "add", path: "/baz/bat", value: "qux" }],
    ["4.2 no member to remove", { op: "remove", path: "/baz" }],
    ["4.2 no root without a value", { op: "remove", path: "" }],
    ["4.3 no member to replace", { op: "replace", path: "/baz", value: 1 }],
    ["4.1 two behind the last item", { op: "add", path: "/list/3", value: 1 }],
    ["4.2 the item behind the last", { op: "remove", path: "/list/2" }],
    ["4.3 the item behind the last", { op: "replace", path: "/list/2", value: 1 }],
    ["4.2 what stands behind the last item", { op: "remove", path: "/list/-" }],
    ["4.3 what stands behind the last item", { op: "replace", path: "/list/-", value: 1 }],
    ["4.1 inside what stands behind the last item", { op: "add", path: "/list/2/a", value: 1 }],
    ["inside a text", { op: "add", path: "/foo/0", value: 1 }],
    ["inside a number", { op: "replace", path: "/list/0/a", value: 1 }],
    ["inside null", { op: "add", path: "/none/a", value: 1 }],
    ["a member that every object has", { op: "replace", path: "/constructor", value: 1 }],
    ["4.4 nothing to move", { op: "move", from: "/baz", path: "/foo" }, "/baz"],
    ["4.4 nothing to move, below what is not there", { op: "move", from: "/none/a/b", path: "/foo" }, "/none/a/b"],
    ["4.4 nowhere to move to", { op: "move", from: "/foo", path: "/baz/bat" }],
    ["4.4 an item into itself, and not into the next", { op: "move", from: "/items/0", path: "/items/0/a" }],
    ["4.4 a member into itself", { op: "move", from: "/deep", path: "/deep/er/est" }],
    ["4.4 the root into itself", { op: "move", from: "", path: "/foo" }],
    ["RFC 6901, 3: a pointer without its slash", { op: "replace", path: "foo", value: 1 }],
    ["RFC 6901, 3: a slash that comes too late", { op: "replace", path: "list/0", value: 1 }],
    ["RFC 6901, 3: ~ with nothing behind", { op: "add", path: "/a~", value: 1 }],
    ["RFC 6901, 3: ~ with anything but 0 or 1", { op: "add", path: "/a~2", value: 1 }],
    ["RFC 6901, 4: an index with a leading zero", { op: "replace", path: "/list/01", value: 1 }],
    ["RFC 6901, 4: an index with an exponent", { op: "replace", path: "/list/1e0", value: 1 }],
    ["RFC 6901, 4: an index with a fraction", { op: "replace", path: "/list/0.0", value: 1 }],
    ["RFC 6901, 4: an index with a sign", { op: "replace", path: "/list/-1", value: 1 }],
    ["RFC 6901, 4: an index with a space", { op: "replace", path: "/list/ 1", value: 1 }],
    ["RFC 6901, 4: an index without a digit", { op: "replace", path: "/list/", value: 1 }],
    ["RFC 6901, 4: a name in place of an index", { op: "replace", path: "/list/length", value: 1 }],
  ])("%s", (_, operation, path = operation.path) => {
    expect(problemsOf(() => patched(document, operation))).toEqual(refusedAt(path));
    expect(() => patched(document, operation)).toThrow(ByterailError);
  });
});

describe("the change between two descriptions", () => {
  const a = { name: "a", type: "bit" };
  const b = { name: "b", type: "bit" };
  const c = { name: "c", type: "bit" };
  const d = { name: "d", type: "bit" };
  const in0 = { word: 16, fields: [a] };
  test.each<[string, unknown, unknown, StationChange]>([
    ["nothing", { a: [1, { b: 2 }] }, { a: [1, { b: 2 }] }, []],
    ["keys in another order are no change", { a: 1, b: { c: 2, d: 3 } }, { b: { d: 3, c: 2 }, a: 1 }, []],
    ["a value", { a: 1, b: 2 }, { a: 1, b: 3 }, [{ op: "replace", path: "/b", value: 3 }]],
    [
      "a value further down",
      { a: { b: { c: 1 } } },
      { a: { b: { c: 2 } } },
      [{ op: "replace", path: "/a/b/c", value: 2 }],
    ],
    ["a key more", {}, { a: { b: 1 } }, [{ op: "add", path: "/a", value: { b: 1 } }]],
    ["a key less", { a: 1, b: 2 }, { b: 2 }, [{ op: "remove", path: "/a" }]],
    [
      "another key: what goes comes before what comes",
      { a: 1 },
      { b: 1 },
      [
        { op: "remove", path: "/a" },
        { op: "add", path: "/b", value: 1 },
      ],
    ],
    ["undefined is no value: a key more", { a: undefined }, { a: 1 }, [{ op: "add", path: "/a", value: 1 }]],
    ["undefined is no value: a key less", { a: 1 }, { a: undefined }, [{ op: "remove", path: "/a" }]],
    ["undefined is no value: no change", { a: undefined, c: 1 }, { b: undefined, c: 1 }, []],
    ["null in place of an object", { a: {} }, { a: null }, [{ op: "replace", path: "/a", value: null }]],
    ["an object in place of null", { a: null }, { a: {} }, [{ op: "replace", path: "/a", value: {} }]],
    ["an object in place of a list", { a: [b] }, { a: { 0: b } }, [{ op: "replace", path: "/a", value: { 0: b } }]],
    ["a list in place of an object", { a: { 0: b } }, { a: [b] }, [{ op: "replace", path: "/a", value: [b] }]],
    ["a text in place of an object", { a: {} }, { a: "b" }, [{ op: "replace", path: "/a", value: "b" }]],
    ["an object in place of a text", { a: "b" }, { a: { 0: "b" } }, [{ op: "replace", path: "/a", value: { 0: "b" } }]],
    [
      "a list of numbers as a whole",
      { a: [0, 100] },
      { a: [0, 200] },
      [{ op: "replace", path: "/a", value: [0, 200] }],
    ],
    ["numbers in place of entries", { a: [b] }, { a: [1] }, [{ op: "replace", path: "/a", value: [1] }]],
    ["entries in place of numbers", { a: [1] }, { a: [b] }, [{ op: "replace", path: "/a", value: [b] }]],
    ["a list of lists as a whole", { a: [[1]] }, { a: [[2]] }, [{ op: "replace", path: "/a", value: [[2]] }]],
    ["a null in a list", { a: [b, null] }, { a: [b] }, [{ op: "replace", path: "/a", value: [b] }]],
    [
      "keys with ~ and /, escaped by RFC 6901, 3",
      { "x-/~": 1 },
      { "x-/~": 2 },
      [{ op: "replace", path: "/x-~1~0", value: 2 }],
    ],
    ["a key ~1", { "~1//": 1 }, {}, [{ op: "remove", path: "/~01~1~1" }]],
    ["an entry more, first", [a, b], [c, a, b], [{ op: "add", path: "/0", value: c }]],
    ["an entry more, between", [a, b], [a, c, b], [{ op: "add", path: "/1", value: c }]],
    ["an entry more, last", [a, b], [a, b, c], [{ op: "add", path: "/2", value: c }]],
    ["the only entry", [], [a], [{ op: "add", path: "/0", value: a }]],
    ["an entry less, first", [a, b, c], [b, c], [{ op: "remove", path: "/0" }]],
    ["an entry less, between", [a, b, c], [a, c], [{ op: "remove", path: "/1" }]],
    ["an entry less, last", [a, b, c], [a, b], [{ op: "remove", path: "/2" }]],
    ["no entry left", [a], [], [{ op: "remove", path: "/0" }]],
    [
      "one of two equal spares less",
      [{ spare: 1 }, { spare: 1 }, a],
      [{ spare: 1 }, a],
      [{ op: "remove", path: "/1" }],
    ],
    [
      "two entries more",
      [b],
      [a, b, c],
      [
        { op: "add", path: "/0", value: a },
        { op: "add", path: "/2", value: c },
      ],
    ],
    [
      "two entries less",
      [a, b, c],
      [b],
      [
        { op: "remove", path: "/0" },
        { op: "remove", path: "/1" },
      ],
    ],
    [
      "an entry more, and another changed",
      [a, b],
      [c, a, { ...b, title: "B" }],
      [
        { op: "add", path: "/0", value: c },
        { op: "add", path: "/2/title", value: "B" },
      ],
    ],
    [
      "an entry less, and another changed",
      [a, b],
      [{ ...b, type: "uint16" }],
      [
        { op: "remove", path: "/0" },
        { op: "replace", path: "/0/type", value: "uint16" },
      ],
    ],
    ["neighbours exchanged", [a, b, c], [b, a, c], [{ op: "move", from: "/1", path: "/0" }]],
    ["neighbours exchanged, behind others", [a, b, c], [a, c, b], [{ op: "move", from: "/2", path: "/1" }]],
    [
      "two exchanged with one between",
      [a, b, c],
      [c, b, a],
      [
        { op: "move", from: "/2", path: "/0" },
        { op: "move", from: "/1", path: "/2" },
      ],
    ],
    [
      "two exchanged with more between",
      [a, b, c, d],
      [d, b, c, a],
      [
        { op: "move", from: "/3", path: "/0" },
        { op: "move", from: "/1", path: "/3" },
      ],
    ],
    [
      "exchanged, and changed beside",
      [a, b],
      [b, { ...a, slot: 1 }],
      [
        { op: "move", from: "/1", path: "/0" },
        { op: "add", path: "/1/slot", value: 1 },
      ],
    ],
    [
      "entries without a name exchanged",
      [in0, { spare: 1 }],
      [{ spare: 1 }, in0],
      [{ op: "move", from: "/1", path: "/0" }],
    ],
    [
      "entries whose name is no text exchanged",
      [
        { name: 5, k: 1 },
        { name: 5, k: 2 },
      ],
      [
        { name: 5, k: 2 },
        { name: 5, k: 1 },
      ],
      [{ op: "move", from: "/1", path: "/0" }],
    ],
    ["an entry renamed", [a, b], [a, c], [{ op: "replace", path: "/1/name", value: "c" }]],
    [
      "two renamed, the second as the first was",
      [b, c],
      [a, b],
      [
        { op: "replace", path: "/0/name", value: "a" },
        { op: "replace", path: "/1/name", value: "b" },
      ],
    ],
    [
      "two renamed, the first as the second was",
      [a, b],
      [b, c],
      [
        { op: "replace", path: "/0/name", value: "b" },
        { op: "replace", path: "/1/name", value: "c" },
      ],
    ],
    [
      "two pairs exchanged: by name",
      [a, b, c, d],
      [b, a, d, c],
      [
        { op: "replace", path: "/0/name", value: "b" },
        { op: "replace", path: "/1/name", value: "a" },
        { op: "replace", path: "/2/name", value: "d" },
        { op: "replace", path: "/3/name", value: "c" },
      ],
    ],
    [
      "a field of a word",
      [in0],
      [{ word: 16, fields: [b] }],
      [{ op: "replace", path: "/0/fields/0/name", value: "b" }],
    ],
  ])("%s", (_, from, to, expected) => {
    expect(between(from, to)).toEqual(expected);
    // Applied, it leads there: the same document once it has been written as JSON.
    expect(JSON.parse(JSON.stringify(patched(from, ...expected)))).toEqual(JSON.parse(JSON.stringify(to)));
  });

  test("of a description to itself, or to one written alike, is none", () => {
    expect(changeBetween(built, built)).toEqual([]);
    expect(changeBetween(built, structuredClone(built))).toEqual([]);
  });

  test("applied to the one it leads to the other, whatever the two are", () => {
    const entry = fc.oneof(
      fc.record({ name: fc.constantFrom("a", "b", "c", "d/~"), type: fc.constantFrom("bit", "int16") }),
      fc.record({ spare: fc.integer({ min: 1, max: 2 }) }),
    );
    const module = fc.record(
      {
        name: fc.constantFrom("x", "y", "z"),
        inputs: fc.array(entry, { maxLength: 4 }),
        "x-~1/": fc.jsonValue({ maxDepth: 1 }),
      },
      { requiredKeys: ["name"] },
    );
    const document = fc.record({
      byteOrder: fc.constantFrom("big", "little"),
      modules: fc.array(module, { maxLength: 4 }),
    });
    fc.assert(
      fc.property(document, document, (from, to) => {
        expect(patched(from, ...between(from, to))).toEqual(to);
      }),
      { numRuns: 30 },
    );
  });
});
