// The shape of a description, key by key: which values each takes, and how the others are answered.

import { examine, parseJson, stationSchema } from "byterail/schema";
import { describe, expect, test } from "vitest";
import { station, withInput, withModule, withOutput } from "./answers.js";

type Data = Record<string, unknown>;

const n = { name: "n", type: "int16" };
const scale = { counts: [0, 1], value: [0, 1] };
const point = (keys: Data) => withInput({ ...n, ...keys });
const codes = (data: unknown) => examine(data).problems.map(({ code, path }) => `${code} ${path}`);
const messages = (data: unknown) => examine(data).problems.map(({ message }) => message);

describe("one of several words", () => {
  const types = [8, 16, 24, 32, 64].flatMap((bits) => [`int${bits}`, `uint${bits}`]).concat("float32", "float64");
  const networks = ["ethernet-ip", "profinet", "profibus-dp", "modbus-tcp", "ethercat", "canopen", "io-link"];
  const placed = (keys: Data) => station({ placement: { inputs: keys, outputs: keys } });
  test.each<[key: string, values: unknown[], made: (value: unknown) => unknown, times?: number]>([
    ["byteOrder of a station", ["big", "little"], (byteOrder) => station({ byteOrder })],
    ["wordOrder of a station", ["highFirst", "lowFirst"], (wordOrder) => station({ wordOrder })],
    ["network", networks, (network) => station({ network })],
    ["order", ["slot", "wordsFirst"], (order) => placed({ order }), 2],
    ["packing", ["byte", "bit"], (packing) => placed({ packing }), 2],
    ["alignment", [1, 2, 4], (alignment) => placed({ alignment }), 2],
    ["bitOrder of a placement", ["lsbFirst", "msbFirst"], (bitOrder) => placed({ bitOrder }), 2],
    ["lengthMultiple", [1, 2, 4, 8], (lengthMultiple) => placed({ lengthMultiple }), 2],
    ["group", ["bits", "words"], (group) => withModule({ group })],
    ["bitOrder of a module", ["lsbFirst", "msbFirst"], (bitOrder) => withModule({ bitOrder })],
    ["byteOrder of a module", ["big", "little"], (byteOrder) => withModule({ byteOrder })],
    ["wordOrder of a module", ["highFirst", "lowFirst"], (wordOrder) => withModule({ wordOrder })],
    ["type", ["bit", ...types], (type) => withInput({ name: "n", type })],
    ["byteOrder of a point", ["big", "little"], (byteOrder) => point({ byteOrder })],
    ["wordOrder of a point", ["highFirst", "lowFirst"], (wordOrder) => point({ type: "int32", wordOrder })],
    ["wordOrder of a word", ["highFirst", "lowFirst"], (wordOrder) => withInput({ word: 32, fields: [], wordOrder })],
    ["code of an intN", ["offsetBinary", "signMagnitude"], (code) => point({ code })],
    ["code of a uintN", ["bcd"], (code) => point({ type: "uint16", code })],
    ["signalUnit", ["mA", "V"], (signalUnit) => point({ scale: { ...scale, signal: [4, 20], signalUnit } })],
    ["shape", ["linear", "squareRoot"], (shape) => point({ scale: { ...scale, shape } })],
    [
      "health",
      ["ok", "belowMeasuring", "aboveMeasuring", "failedLow", "failedHigh", "invalid"],
      (health) => point({ specialCounts: [{ counts: 1, health }] }),
    ],
  ])("%s", (key, values, made, times = 1) => {
    for (const value of values) expect(examine(made(value)).problems).toEqual([]);
    const shown = values.map((value) => JSON.stringify(value)).join(" or ");
    for (const wrong of [7, null, "zzzzzzzzzzzz", [values[0]]]) {
      const problems = examine(made(wrong)).problems;
      expect(problems.map(({ code }) => code)).toEqual(Array(times).fill("type.oneOf"));
      // A code is one list for all types; which of it fits, the type decides.
      if (!key.startsWith("code")) expect(problems[0]!.message).toMatch(new RegExp(`^must be ${shown}, not [^;]+$`));
    }
  });

  test("what an output does on loss of the network is a word, a number or a boolean", () => {
    const lost = (onNetworkLoss: unknown, type: string) => messages(withOutput({ name: "n", type, onNetworkLoss }));
    for (const state of ["off", "hold", true, false]) expect(lost(state, "bit")).toEqual([]);
    for (const state of ["off", "hold", 0, -3.5]) expect(lost(state, "int16")).toEqual([]);
    expect(lost("on", "bit")).toEqual([expect.stringMatching(/^must be "off" or "hold" or a value, not "on"/)]);
    expect(lost(Number.NaN, "int16")).toEqual([expect.stringMatching(/^must be .* or a value, not NaN$/)]);
    expect(lost(null, "int16")).toEqual([expect.stringMatching(/not null$/)]);
  });
});

describe("whole numbers: the least and the most, and one beyond", () => {
  const placed = (length: unknown) => station({ placement: { inputs: { length } } });
  const wide = (field: Data) => withInput({ word: 256, fields: [{ name: "f", ...field }] });
  test.each<[key: string, least: number, most: number, made: (value: unknown) => unknown, step?: number]>([
    ["spare", 1, 65535, (spare) => withInput({ spare })],
    ["spareBits", 1, 524280, (spareBits) => withInput({ spareBits })],
    ["word", 8, 256, (word) => withInput({ word, fields: [] }), 8],
    ["bits", 1, 64, (bits) => wide({ bits, shift: 0 })],
    ["shift", 0, 255, (shift) => wide({ bits: 1, shift })],
    ["bit", 0, 255, (bit) => wide({ bit })],
    ["slot", 0, 65535, (slot) => withModule({ slot })],
    ["inputBytes", 0, 65535, (inputBytes) => withModule({ inputBytes })],
    ["outputBytes", 0, 65535, (outputBytes) => withModule({ outputBytes })],
    ["inputOffset", 0, 65535, (inputOffset) => withModule({ inputOffset })],
    ["outputOffset", 0, 65535, (outputOffset) => withModule({ outputOffset })],
    ["length", 0, 65535, placed],
    ["limits", 0, 65535, (inputs) => station({ limits: { inputs, outputs: 9 } })],
  ])("%s: %i to %i", (_, least, most, made, step = 1) => {
    for (const value of [least, most]) expect(codes(made(value))).toEqual([]);
    const range = `must be a whole number from ${least} to ${most}${step > 1 ? ", a multiple of 8" : ""}, not `;
    for (const value of [least - step, most + step, least + step / 2, null])
      expect(messages(made(value))).toEqual([range + String(value)]);
    expect(messages(made("8"))).toEqual([`${range}"8"`]);
  });
});

describe("texts, numbers, lists", () => {
  test.each<[title: string, data: unknown, message: string]>([
    ["a title of a station", station({ title: 1 }), "must be text, not 1"],
    ["a title of a module", withModule({ title: true }), "must be text, not true"],
    ["a title of a point", point({ title: null }), "must be text, not null"],
    ["a title of a spare", withInput({ spare: 1, title: 1n }), "must be text, not 1"],
    ["a title of a word", withInput({ word: 8, fields: [], title: [] }), "must be text, not a list"],
    ["a unit of a point", point({ unit: {} }), "must be text, not an object"],
    ["a unit of a scale", point({ scale: { ...scale, unit: 3 } }), "must be text, not 3"],
    ["a name", withModule({ inputs: [{ name: -0, type: "bit" }] }), "must be a name in text, not -0"],
    [
      "a sign",
      withInput({ word: 8, fields: [{ name: "f", bits: 4, shift: 0, signed: 1 }] }),
      "must be true or false, not 1",
    ],
    ["a limit", point({ limits: [0, "5"] }), 'must be a number, not "5"'],
    ["a deadband", point({ deadband: "0" }), 'must be a number, 0 or more, not "0"'],
    ["an accuracy", withModule({ accuracy: { absolute: -0.1 } }), "must be a number, 0 or more, not -0.1"],
    [
      "an accuracy in percent",
      withModule({ accuracy: { percentOfSpan: Infinity } }),
      "must be a number, 0 or more, not Infinity",
    ],
    ["a list of points as an object", withModule({ inputs: {} }), "must be a list, not an object"],
    ["a module that is text", station({ modules: ["m"] }), 'must be an object, not "m"'],
    ["three limits", point({ limits: [0, 1, 2] }), "must have 2 entries, not 3"],
    ["no special counts", point({ specialCounts: [] }), "must have 1 to 4096 entries, not 0"],
    ["one point of a curve", point({ scale: { points: [[0, 0]] } }), "must have 2 to 4096 entries, not 1"],
  ])("%s", (_, data, message) => expect(messages(data)).toEqual([message]));

  test("what is on the edge of its range passes", () => {
    const edge = { deadband: 0, limits: [-5, 5], scale: { ...scale, accuracy: { absolute: 0 } } };
    expect(codes(point(edge))).toEqual([]);
    expect(codes(withModule({ accuracy: { percentOfSpan: 0 } }))).toEqual([]);
    expect(codes(withInput({ spareBits: 2, title: "Not wired" }))).toEqual([]);
    expect(codes(station({ modules: Array.from({ length: 4096 }, (_, k) => ({ name: `m${k}` })) }))).toEqual([]);
    expect(messages(station({ modules: Array.from({ length: 4097 }, (_, k) => ({ name: `m${k}` })) }))).toEqual([
      "must have 0 to 4096 entries, not 4097",
    ]);
  });

  test("every required key is asked for", () => {
    const missing = (data: unknown) => messages(data).map((message) => /^"(.*)" is missing$/.exec(message)?.[1]);
    expect(missing({})).toEqual(["format", "name", "modules"]);
    expect(missing(station({ modules: [{}] }))).toEqual(["name"]);
    expect(missing(withInput({}))).toEqual(["name", "type"]);
    expect(missing(withInput({ type: "bit" }))).toEqual(["name"]);
    expect(missing(withInput({ word: 8 }))).toEqual(["fields"]);
    expect(missing(withInput({ word: 8, fields: [{}] }))).toEqual(["name", "bits", "shift"]);
    expect(missing(withInput({ word: 8, fields: [{ bit: 0 }] }))).toEqual(["name"]);
    expect(missing(point({ specialCounts: [{}] }))).toEqual(["counts", "health"]);
  });

  test("a required key that is there but undefined is wrong, an optional one counts as absent", () => {
    expect(codes(station({ name: undefined }))).toEqual(["type.name name"]);
    expect(codes(station({ title: undefined }))).toEqual([]);
  });
});

describe("hints at the word that was meant", () => {
  test.each<[key: string, hint: string]>([
    ["titel", 'unknown key "titel"; did you mean "title"?'],
    ["TITLE", 'unknown key "TITLE"; did you mean "title"?'],
    ["ttl", 'unknown key "ttl"; did you mean "title"?'],
    ["byteOder", 'unknown key "byteOder"; did you mean "byteOrder"?'],
    ["limit", 'unknown key "limit"; did you mean "limits"?'],
    ["plasment", 'unknown key "plasment"; did you mean "placement"?'],
  ])("%s", (key, hint) => expect(messages(station({ [key]: {} }))).toEqual([hint]));

  test("a word like no other gets the whole list instead, a value none", () => {
    const known = "format, name, modules, title, network, byteOrder, wordOrder, placement, limits";
    expect(messages(station({ voltage: 24 }))).toEqual([`unknown key "voltage"; known: ${known}`]);
    expect(messages(station({ $schemas: "", my$schema: "", "y-own": 1, "ax-is": 1 }))).toHaveLength(4);
    expect(messages(station({ network: "token ring" }))).toEqual([expect.stringMatching(/not "token ring"$/)]);
  });
});

describe("text that is no JSON", () => {
  test.each([
    ['{\n  "a": 1,\n}', "line 3 column 1"],
    ['{"a" 1}', "line 1 column 6"],
  ])("%j: %s", (text, place) => {
    const { value, problems } = parseJson(text);
    expect(value).toBeUndefined();
    expect(problems).toEqual([
      { code: "json.syntax", path: place, message: expect.stringMatching(/^is no JSON: .*position \d+/) },
    ]);
  });

  test("keys that stand twice are all told, at any depth, in lists too", () => {
    const { value, problems } = parseJson('{"a":[{"b":1,"b" :2}],\n"a":{"c":{},"d":"a"}}');
    expect(value).toEqual({ a: { c: {}, d: "a" } });
    expect(problems.map(({ path, message }) => [path, message])).toEqual([
      ["line 1 column 14", 'key "b" stands twice in one object; keep one'],
      ["line 2 column 1", 'key "a" stands twice in one object; keep one'],
    ]);
    expect(parseJson('["a","a",{"a":"a"}]').problems).toEqual([]);
  });
});

// JSON Schema 2020-12: an object that allows no other keys, but those that begin x-.
describe("the JSON Schema", () => {
  type Schema = { [key: string]: Schema };
  const top = stationSchema as Schema;
  const module = top.properties!.modules!.items!;

  test("names its dialect, and keys as the check does", () => {
    expect(top).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      title: "Field-bus station",
      type: "object",
      required: ["format", "name", "modules"],
      additionalProperties: false,
      patternProperties: { "^x-": true, "^\\$schema$": true },
    });
    expect(top.properties!.format).toEqual({ enum: [1] });
    expect(top.properties!.title).toEqual({ type: "string" });
  });

  test("a name is that of IEC 61131-3 and none of JavaScript's own", () => {
    const { type, pattern, not } = module.properties!.name as Schema & { not: { enum: string[] } };
    expect([type, pattern]).toEqual(["string", "^[A-Za-z][A-Za-z0-9_]{0,63}$"]);
    expect(not.enum).toEqual(expect.arrayContaining(["constructor", "toString", "__proto__"]));
  });

  test("whole numbers, lists and states have their ranges", () => {
    const { slot, accuracy, exclusive, inputs } = module.properties!;
    expect(slot).toEqual({ type: "integer", minimum: 0, maximum: 65535 });
    expect(exclusive).toMatchObject({ type: "array", minItems: 0, maxItems: 4096, items: { minItems: 2 } });
    expect(accuracy).toMatchObject({ type: "object", if: { required: ["percentOfSpan"] } });
    expect(accuracy!.then!.properties).toEqual({ percentOfSpan: { type: "number", minimum: 0 } });
    expect(accuracy!.else!.properties).toEqual({ absolute: { type: "number", minimum: 0 } });
    // Entries by their mark: spare, spareBits, word, a bit, else a number.
    const marks: unknown[] = [];
    let entry = inputs!.items!;
    for (; entry.if; entry = entry.else!) marks.push(entry.if);
    expect(marks).toEqual([
      { required: ["spare"] },
      { required: ["spareBits"] },
      { required: ["word"] },
      { required: ["type"], properties: { type: { const: "bit" } } },
    ]);
    expect(entry.properties!.limits).toEqual({ type: "array", items: { type: "number" }, minItems: 2, maxItems: 2 });
    expect(entry.properties!.onNetworkLoss).toEqual({
      anyOf: [{ enum: ["off", "hold"] }, { type: ["number", "boolean"] }],
    });
    const word = inputs!.items!.else!.else!.then!;
    expect(word.properties!.word).toEqual({ type: "integer", minimum: 8, maximum: 256, multipleOf: 8 });
    expect(word.properties!.fields!.items!.else!.properties!.signed).toEqual({ type: "boolean" });
  });
});
