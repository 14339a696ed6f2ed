import { type Entry, type NumberField, type NumberPoint, type Station, significance } from "byterail";
import { describe, expect, test } from "vitest";
import { countFormat } from "../../../../packages/commissioning/src/diagnose/causes/countFormat.js";
import { judge } from "../../../../packages/commissioning/src/diagnose/judge.js";
import { baseFor, changeOf, expectQuickIsFull, said, told } from "../trial.js";

const stationOf = (entry: Entry): Station => ({
  format: 1,
  name: "rig",
  byteOrder: "big",
  modules: [{ name: "ai", inputs: [entry] }],
});

// All bits are 0, so every number reads 0 (offset binary: its least), and 7 is wrong.
function baseOfNumber(entry: NumberPoint | NumberField, word = 64) {
  const bytes = "type" in entry ? Number(/\d+/.exec(entry.type)) / 8 : word / 8;
  const item: Entry = "type" in entry ? entry : { word, fields: [entry] };
  return baseFor(stationOf(item), [{ inputs: "00 ".repeat(bytes), known: { [entry.name]: 7 } }]);
}

const replace = (path: string, value: unknown) => ({ op: "replace", path: `/modules/0/inputs/0/${path}`, value });
const add = (path: string, value: unknown) => ({ op: "add", path: `/modules/0/inputs/0/${path}`, value });
const remove = (path: string) => ({ op: "remove", path: `/modules/0/inputs/0/${path}` });

const unsigned = "unsigned";
const signed = "signed (two's complement)";
const offset = "offset binary";
const sign = "sign and magnitude";
const bcd = "BCD";

type Row = readonly [now: string, then: string, change: readonly object[]];

const rowsOf = (name: string, rows: readonly Row[]) =>
  rows.map(([now, then, change]) => ({
    cause: [now, then].every((each) => each === unsigned || each === signed) ? "sign" : "countFormat",
    at: "inputs ai n",
    says:
      then === "real" ? `${name} is an IEEE 754 real, not ${now}.` : `The counts of ${name} are ${then}, not ${now}.`,
    assumes: [now, then].every((each) => each === unsigned || each === signed) ? 2 : 3,
    change,
  }));

describe("a number may have any other code; the sign alone assumes less", () => {
  test.each<[string, NumberPoint, readonly Row[]]>([
    [
      "a signed one",
      { name: "n", type: "int16" },
      [
        [signed, unsigned, [replace("type", "uint16")]],
        [signed, offset, [add("code", "offsetBinary")]],
        [signed, sign, [add("code", "signMagnitude")]],
        [signed, bcd, [replace("type", "uint16"), add("code", "bcd")]],
      ],
    ],
    [
      "an unsigned one",
      { name: "n", type: "uint8" },
      [
        [unsigned, signed, [replace("type", "int8")]],
        [unsigned, offset, [replace("type", "int8"), add("code", "offsetBinary")]],
        [unsigned, sign, [replace("type", "int8"), add("code", "signMagnitude")]],
        [unsigned, bcd, [add("code", "bcd")]],
      ],
    ],
    [
      "offset binary, of 24 bits",
      { name: "n", type: "int24", code: "offsetBinary" },
      [
        [offset, unsigned, [remove("code"), replace("type", "uint24")]],
        [offset, signed, [remove("code")]],
        [offset, sign, [replace("code", "signMagnitude")]],
        [offset, bcd, [replace("type", "uint24"), replace("code", "bcd")]],
      ],
    ],
    [
      "sign and magnitude, of 32 bits, which may be a real, too",
      { name: "n", type: "int32", code: "signMagnitude" },
      [
        [sign, unsigned, [remove("code"), replace("type", "uint32")]],
        [sign, signed, [remove("code")]],
        [sign, offset, [replace("code", "offsetBinary")]],
        [sign, bcd, [replace("type", "uint32"), replace("code", "bcd")]],
        [sign, "real", [remove("code"), replace("type", "float32")]],
      ],
    ],
    [
      "BCD, of 64 bits",
      { name: "n", type: "uint64", code: "bcd" },
      [
        [bcd, unsigned, [remove("code")]],
        [bcd, signed, [remove("code"), replace("type", "int64")]],
        [bcd, offset, [replace("type", "int64"), replace("code", "offsetBinary")]],
        [bcd, sign, [replace("type", "int64"), replace("code", "signMagnitude")]],
        [bcd, "real", [remove("code"), replace("type", "float64")]],
      ],
    ],
    [
      "a real, which may be a plain integer alone",
      { name: "n", type: "float32" },
      [
        ["IEEE 754", unsigned, [replace("type", "uint32")]],
        ["IEEE 754", signed, [replace("type", "int32")]],
      ],
    ],
    [
      "a real of 64 bits",
      { name: "n", type: "float64" },
      [
        ["IEEE 754", unsigned, [replace("type", "uint64")]],
        ["IEEE 754", signed, [replace("type", "int64")]],
      ],
    ],
  ])("%s", (_, entry, rows) => {
    const base = baseOfNumber(entry);
    const found = [...countFormat(base)].map((each) => ({ ...told(each), change: changeOf(base, each) }));
    expect(found).toEqual(rowsOf("n", rows));
  });

  test.each<[string, NumberField, readonly Row[]]>([
    [
      "an unsigned field",
      { name: "n", bits: 12, shift: 2 },
      [
        [unsigned, signed, [add("fields/0/signed", true)]],
        [unsigned, offset, [add("fields/0/code", "offsetBinary")]],
        [unsigned, sign, [add("fields/0/code", "signMagnitude")]],
        [unsigned, bcd, [add("fields/0/code", "bcd")]],
      ],
    ],
    [
      "a signed field, of 32 bits: a field is no real",
      { name: "n", bits: 32, shift: 0, signed: true },
      [
        [signed, unsigned, [remove("fields/0/signed")]],
        [signed, offset, [remove("fields/0/signed"), add("fields/0/code", "offsetBinary")]],
        [signed, sign, [remove("fields/0/signed"), add("fields/0/code", "signMagnitude")]],
        [signed, bcd, [remove("fields/0/signed"), add("fields/0/code", "bcd")]],
      ],
    ],
    [
      "a field in BCD",
      { name: "n", bits: 8, shift: 8, code: "bcd" },
      [
        [bcd, unsigned, [remove("fields/0/code")]],
        [bcd, signed, [remove("fields/0/code"), add("fields/0/signed", true)]],
        [bcd, offset, [replace("fields/0/code", "offsetBinary")]],
        [bcd, sign, [replace("fields/0/code", "signMagnitude")]],
      ],
    ],
  ])("%s", (_, field, rows) => {
    const base = baseOfNumber(field);
    const found = [...countFormat(base)].map((each) => ({ ...told(each), change: changeOf(base, each) }));
    expect(found).toEqual(rowsOf("n", rows));
  });

  test("its other keys stay, and so does its place", () => {
    const scale = { counts: [0, 1000], value: [0, 10] } as const;
    const base = baseOfNumber({ name: "n", title: "kept", type: "int16", byteOrder: "little", scale });
    const [unsigned] = countFormat(base);
    expect(unsigned!.station!().modules[0]!.inputs).toEqual([
      { name: "n", title: "kept", type: "uint16", byteOrder: "little", scale },
    ]);
    const before = base.points.get("inputs n")!;
    expect(unsigned!.effect.points!.get("inputs n")).toMatchObject({ positions: before.positions, bits: 16, low: 0 });
    expect(before.positions).toEqual(significance(16, "little", "highFirst"));
  });

  test("nothing is said of numbers that are right, nor of bits", () => {
    const station: Station = {
      ...stationOf({ name: "n", type: "int16" }),
      modules: [
        { name: "mix", inputs: [{ name: "n", type: "int16" }, { name: "door", type: "bit" }, { spareBits: 7 }] },
      ],
    };
    expect(said(countFormat, baseFor(station, [{ inputs: "00 07 00", known: { n: 7, door: true } }]))).toEqual([]);
  });
});

// 8005h: unsigned 32,773; two's complement 32,773 − 65,536; offset binary 32,773 − 32,768; sign and magnitude −(5); BCD 8005.
describe("what 8005h is as another code", () => {
  const points: readonly (readonly [string, NumberPoint, number])[] = [
    [unsigned, { name: "n", type: "uint16" }, 32_773],
    [signed, { name: "n", type: "int16" }, -32_763],
    [offset, { name: "n", type: "int16", code: "offsetBinary" }, 5],
    [sign, { name: "n", type: "int16", code: "signMagnitude" }, -5],
    [bcd, { name: "n", type: "uint16", code: "bcd" }, 8005],
  ];
  test.each(
    points.flatMap(([now, entry]) =>
      points.flatMap(([then, , known]) => (now === then ? [] : [[now, then, entry, known] as const])),
    ),
  )("read as %s, it is %s that makes the truth right, and nothing else", (now, then, entry, known) => {
    const base = baseFor(stationOf(entry), [{ inputs: "80 05", known: { n: known } }]);
    const right = [...countFormat(base)].filter(({ effect }) => judge(base, effect));
    expect(right.map(({ says }) => says)).toEqual([`The counts of n are ${then}, not ${now}.`]);
    // Fact 0 is the length of the frame.
    expect(judge(base, right[0]!.effect)).toEqual({ fixes: [1], breaks: [] });
    expectQuickIsFull(countFormat, base);
  });
});

// IEEE 754: 3F800000h is 1.0 in binary32, 3FF0000000000000h in binary64.
test.each<[string, NumberPoint["type"], number, string, object]>([
  ["3F 80 00 00", "uint32", 1, "n is an IEEE 754 real, not unsigned.", { code: null, kind: "real" }],
  ["3F F0 00 00 00 00 00 00", "int64", 1, `n is an IEEE 754 real, not ${signed}.`, { code: null, kind: "real" }],
  [
    "FF FF FF FE",
    "float32",
    -2,
    `The counts of n are ${signed}, not IEEE 754.`,
    { code: "twosComplement", kind: "integer" },
  ],
  [
    "FF FF FF FE",
    "float32",
    4_294_967_294,
    "The counts of n are unsigned, not IEEE 754.",
    { code: "unsigned", kind: "integer" },
  ],
])("%s, read as %s, is %d: %s", (inputs, type, known, says, read) => {
  const base = baseFor(stationOf({ name: "n", type }), [{ inputs, known: { n: known } }]);
  const right = [...countFormat(base)].filter(({ effect }) => judge(base, effect));
  expect(right.map((each) => each.says)).toEqual([says]);
  expect(right[0]!.effect.points!.get("inputs n")).toMatchObject(read);
  expect(right[0]!.stands!()).toBe(true);
  expectQuickIsFull(countFormat, base);
});

test("a real whose scale has counts that are not whole cannot stand as an integer", () => {
  const scale = { counts: [0.5, 1.5], value: [0, 10] } as const;
  const base = baseOfNumber({ name: "n", type: "float32", scale });
  expect([...countFormat(base)].map(({ stands }) => stands!())).toEqual([false, false]);
});
