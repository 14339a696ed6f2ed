// The matchers, registered in vitest by their entry: what matches, and the message where it does not.

import { type AnyImage, frameOf, frameSerializer, matchers, station, values } from "@byterail/testkit";
import "@byterail/testkit/vitest";
import { assemble, encode, type Layout } from "byterail";
import { expect as jestExpect } from "expect";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inputs, outputs, washing } from "./washer.js";

const frame = frameOf(washing.hex);

/** The message of a matcher that fails, its reason apart. */
function failure({
  pass,
  message,
}: {
  readonly pass: boolean;
  readonly message: () => string;
}): readonly [text: string, reason: string | null] {
  expect(pass).toBe(false);
  const [text = "", reason = null] = message().split("\n\nlikely reason: ");
  return [text, reason];
}

describe("toDecodeTo", () => {
  test("the values of a frame, all or some", () => {
    expect(frame).toDecodeTo(inputs, washing.values);
    expect(frame).toDecodeTo(inputs, { supply: 6.2, doorClosed: true });
    expect(frame).toDecodeTo(inputs, washing.values, { points: "every" });
    expect(frame).not.toDecodeTo(inputs, { supply: 6.3 });
    expect(frame).not.toDecodeTo(inputs, { doorClosed: false });
    expect(frame.subarray(1)).not.toDecodeTo(inputs, { supply: 6.2 });
  });

  test("of every station, whatever values it is given", () => {
    const image = station().map((description) => (assemble(description) as Layout).outputs);
    const given = image.chain((outputs) => values(outputs).map((written) => ({ outputs, written })));
    fc.assert(
      fc.property(given, ({ outputs, written }) => {
        const options = {
          counts: 0.5,
          value: 1e-6 * Math.max(...Object.values(written).map((n) => Math.abs(Number(n)))),
        };
        expect(encode(outputs, written)).toDecodeTo(outputs, written, options);
        expect(written).toEncodeAs(outputs, encode(outputs, written));
      }),
    );
  });

  test("of every station marks the line of the point that differs", () => {
    const images = station({ modules: [1, 6], entries: [1, 8] }).map((description) => assemble(description) as Layout);
    fc.assert(
      fc.property(images, ({ inputs }) => {
        for (const { name } of inputs.points) {
          const [text] = failure(matchers.toDecodeTo(new Uint8Array(inputs.byteLength), inputs, { [name]: "none" }));
          const marked = text.split("\n").filter((line) => line.startsWith("✗"));
          expect(marked.map((line) => line.split(/ {2,}/)[2])).toEqual([name]);
        }
      }),
      { numRuns: 30 },
    );
  });

  const near: readonly (readonly [
    what: string,
    expected: Parameters<typeof inexact>[0],
    options: object,
    matches: boolean,
  ])[] = [
    ["the nearest that a float32 holds", { flow: 6.2 }, {}, true],
    ["not another float32", { flow: 6.2000008 }, {}, false],
    ["a value between two counts, exactly", { supply: 6.2001 }, {}, false],
    ["what encode would send for it, within half a count", { supply: 6.2001 }, { counts: 0.5 }, true],
    ["a count beside it", { supply: 6.200625 }, { counts: 0.5 }, false],
    ["a count beside it, within one", { supply: 6.200625 }, { counts: 1 }, true],
    ["an integer within counts", { level: 52 }, { counts: 2 }, true],
    ["a bigint within counts", { kegs: 12345678899n }, { counts: 2 }, true],
    ["a bigint beyond them", { kegs: 12345678898n }, { counts: 2 }, false],
    ["within a value", { supply: 6.15, flow: 6.25 }, { value: 0.06 }, true],
    ["beyond a value", { supply: 6.1 }, { value: 0.06 }, false],
    ["bits, which have no tolerance", { doorClosed: false }, { counts: 1, value: 1 }, false],
  ];
  const inexact = (
    expected: Partial<Record<keyof typeof washing.values, boolean | number | bigint>>,
    options: object,
  ) => matchers.toDecodeTo(frame, inputs, expected, options).pass;
  for (const [what, expected, options, matches] of near)
    test(what, () => expect(inexact(expected, options)).toBe(matches));

  test("fails with the annotated dump: offset, bytes, point, received, expected", () => {
    const [text, reason] = failure(
      matchers.toDecodeTo(frame, inputs, { ...washing.values, supply: 6.25, kegPresent: false }),
    );
    expect(`\n${text}\n`).toBe(`
expected the inputs to decode to the given values, but 2 of 8 points differ

  0.0     03                       doorClosed   true
✗ 0.1     03                       kegPresent   true     expected false
✗ 1       60 36                    supply       6.2 bar  expected 6.25 bar = B0 36; 80 counts too low
  3       C1 02                    temperature  70.5 °C
  5       00                                    spare
  6:0     20 03                    levelFault   false
  6:4-15  20 03                    level        50 %
  8       66 66 C6 40              flow         6.199999809265137 L/h
  12      35 1C DC DF 02 00 00 00  kegs         12345678901
`);
    expect(reason).toBeNull();
  });

  test("tells why an expected value cannot be", () => {
    const [text] = failure(matchers.toDecodeTo(frame, inputs, { kegs: 5, level: 5000 }));
    expect(text).toContain("expected 5, which does not encode (value.type kegs: must be a bigint, not 5)");
    expect(text).toContain(
      "expected 5000 %, which does not encode (value.range level: must be a whole number from 0 to 4095",
    );
  });

  test("tells both lengths of a frame that is too long or too short", () => {
    const [text, reason] = failure(matchers.toDecodeTo(frameOf(`00 07 | ${washing.hex}`), inputs, washing.values));
    expect(text).toContain("image.length inputs: has 20 bytes, not 22: 2 too many");
    expect(reason).toBe("everything matches without the first 2 bytes");
    expect(failure(matchers.toDecodeTo(frameOf(`${washing.hex} 00`), inputs, washing.values))[1]).toBe(
      "everything matches without the last byte",
    );
    expect(failure(matchers.toDecodeTo(frame.subarray(1), inputs, washing.values))[0]).toContain("19: 1 too few");
  });

  test("fails for what is no bytes", () => {
    expect(failure(matchers.toDecodeTo([1, 2, 3], inputs, {}))[0]).toContain("image.bytes");
  });

  test("of a long image shows what differs and what stands beside it", () => {
    const points = Array.from({ length: 200 }, (_, k) => ({ name: `p${k}`, type: "uint8" }) as const);
    const long = assemble({ format: 1, name: "long", byteOrder: "big", modules: [{ name: "m", inputs: points }] });
    const [text] = failure(matchers.toDecodeTo(new Uint8Array(200), long.inputs, { p100: 1 }));
    const lines = text
      .split("\n")
      .slice(2)
      .map((line) => line.trim().replace(/ +/g, " "));
    expect(lines).toEqual([
      ...["…", "98 00 p98 0", "99 00 p99 0", "✗ 100 00 p100 0 expected 1 = 01; 1 count too low"],
      ...["101 00 p101 0", "102 00 p102 0", "…"],
    ]);
  });

  test("takes a mistake of the test for one, with .not too", () => {
    // @ts-expect-error There is no such point.
    expect(() => expect(frame).not.toDecodeTo(inputs, { suply: 6.2 })).toThrow("suply: no such point of the inputs");
    expect(() => expect(frame).toDecodeTo(inputs, { supply: 6.2 }, { points: "every" })).toThrow(
      "kegs: nothing is expected",
    );
    // @ts-expect-error A layout has two directions.
    expect(() => expect(frame).toDecodeTo({ inputs, outputs }, {})).toThrow("layout.inputs or layout.outputs");
  });
});

describe("the likely reason:", () => {
  type Point = { readonly type: string; readonly scale?: object };
  const imageOf = (points: Readonly<Record<string, Point>>): AnyImage =>
    (
      assemble({
        format: 1,
        name: "rig",
        byteOrder: "big",
        modules: [{ name: "m", inputs: Object.entries(points).map(([name, point]) => ({ name, ...point })) as never }],
      }) as Layout
    ).inputs;
  const u16 = { type: "uint16" };
  const bits = { a: { type: "bit" }, b: { type: "bit" }, c: { type: "bit" }, d: { type: "bit" } };
  const scaled = { type: "uint16", scale: { counts: [0, 1000], value: [0, 10] } };
  const cases: readonly (readonly [
    reason: string | null,
    points: Readonly<Record<string, Point>>,
    hex: string,
    expected: Readonly<Record<string, unknown>>,
  ])[] = [
    ["flow matches with bytes exchanged", { flow: u16 }, "2B 02", { flow: 555 }],
    ["total matches with words exchanged", { total: { type: "uint32" } }, "33 44 11 22", { total: 0x11223344 }],
    ["total matches with bytes exchanged", { total: { type: "uint32" } }, "22 11 44 33", { total: 0x11223344 }],
    [
      "total matches with bytes and words exchanged",
      { total: { type: "uint32" } },
      "44 33 22 11",
      { total: 0x11223344 },
    ],
    [
      "total matches with words exchanged",
      { total: { type: "uint64" } },
      "77 88 55 66 33 44 11 22",
      { total: 0x1122334455667788n },
    ],
    ["flow matches with words exchanged", { flow: { type: "float32" } }, "00 00 40 D0", { flow: 6.5 }],
    ["flow, level match with bytes exchanged", { flow: u16, level: u16 }, "2B 02 64 00", { flow: 555, level: 100 }],
    ["offset matches as a signed number", { offset: u16 }, "FF FE", { offset: -2 }],
    ["load matches as an unsigned number", { load: { type: "int16" } }, "FF FE", { load: 65534 }],
    ["level matches one byte later", { level: u16, next: { type: "uint8" } }, "00 01 F4", { level: 500 }],
    ["level matches one byte earlier", { first: { type: "uint8" }, level: u16 }, "01 F4 00", { level: 500 }],
    ["a, b match with the bit order turned round", bits, "C0", { a: true, b: true, c: false, d: false }],
    ["level matches in counts: what is expected is not scaled", { level: scaled }, "01 F4", { level: 500 }],
    [null, { flow: u16 }, "2B 02", { flow: 556 }],
    [null, { flow: u16, level: u16 }, "00 00 00 64", { flow: 7, level: 100 }],
    // One bit is right by chance every other time.
    [null, bits, "80", { a: true }],
    // 0 is what padding reads.
    [null, { level: u16, next: u16 }, "01 00 00 00", { level: 0 }],
  ];
  for (const [reason, points, hex, expected] of cases)
    test(`${reason ?? "none"} (${hex})`, () => {
      expect(failure(matchers.toDecodeTo(frameOf(hex), imageOf(points), expected))[1]).toBe(reason);
    });
});

describe("toEncodeAs", () => {
  test("the bytes of values, given as bytes or as hex", () => {
    expect(washing.values).toEncodeAs(inputs, frame);
    expect({ rinse: true, steam: false }).toEncodeAs(outputs, "01 | 00 00 00");
    expect({ rinse: true, steam: false }).not.toEncodeAs(outputs, "01 00 00");
    expect({ rinse: true, steam: false }).not.toEncodeAs(outputs, "03 00 00 00");
  });

  test("fails with the annotated dump", () => {
    const [text] = failure(matchers.toEncodeAs({ rinse: true, steam: false }, outputs, "02 00 00 00"));
    expect(`\n${text}\n`).toBe(`
expected values of the outputs to encode as another frame
  expected  02 00 00 00
  received  01 00 00 00

✗ 0.0  01        rinse  true   expected false
✗ 0.1  01        steam  false  expected true
  1    00 00 00         unused, reserve
`);
  });

  test("tells where bytes differ that no point uses", () => {
    const [text] = failure(matchers.toEncodeAs({ rinse: true, steam: false }, outputs, "81 00 00 01"));
    expect(text).toContain("byte 0, 3 differs in bits that no point uses");
  });

  test("tells the likely reason", () => {
    const given = { ...washing.values, supply: 1.3712, temperature: 70.5 };
    const swapped = frame.slice();
    swapped.set([0x36, 0x60], 1);
    expect(failure(matchers.toEncodeAs({ ...given, supply: 6.2 }, inputs, swapped))[1]).toBe(
      "supply matches with bytes exchanged",
    );
  });

  test("tells what does not encode, all of it", () => {
    // @ts-expect-error The names and a value are wrong.
    expect(() => expect({ rinse: 1, steem: true }).toEncodeAs(outputs, "01 00 00 00")).toThrow(
      /value\.unknown steem.*\n.*value\.type rinse.*\n.*value\.missing steam/,
    );
    expect(failure(matchers.toEncodeAs({ rinse: true, steam: true }, outputs, "03"))[0]).toContain(
      "has 4 bytes, not 1",
    );
  });
});

describe("toHaveLayout", () => {
  test("places of points, as addresses or keys of the byte map", () => {
    expect(inputs).toHaveLayout({ doorClosed: "%IX0.0", supply: "%IW1", kegs: "%IL12" });
    expect(inputs).toHaveLayout({ supply: "%IW65" }, { start: 64 });
    expect(inputs).toHaveLayout({
      level: { byte: 6, shift: 4, bits: 12 },
      flow: { type: "float32", module: "sensors" },
    });
    expect(inputs).toHaveLayout({}, { byteLength: 20 });
    expect(inputs).not.toHaveLayout({ supply: "%IW2" });
    expect(inputs).not.toHaveLayout({}, { byteLength: 22 });
  });

  test("fails with the map, and with the shift that explains it", () => {
    const [text, reason] = failure(
      matchers.toHaveLayout(
        inputs,
        { supply: "%IW3", temperature: { byte: 5 }, level: { byte: 6, shift: 3 } },
        { byteLength: 22 },
      ),
    );
    expect(`\n${text}\n`).toBe(`
expected the inputs to have another layout

byteLength expected 22, received 20
  0.0     %IX0.0  doorClosed   bit
  0.1     %IX0.1  kegPresent   bit
✗ 1       %IW1    supply       uint16   address expected %IW3, received %IW1
✗ 3       %IW3    temperature  int16    byte expected 5, received 3
  5                            spare
  6:0     %IX6.0  levelFault   field
✗ 6:4-15          level        field    shift expected 3, received 4
  8       %ID8    flow         float32
  12      %IL12   kegs         uint64
`);
    expect(reason).toBeNull();
    expect(failure(matchers.toHaveLayout(inputs, { supply: "%IW3", temperature: { byte: 5 }, flow: "%ID10" }))[1]).toBe(
      "all of them stand 2 bytes earlier: a module or a spare before them differs",
    );
  });

  test("names points that are not there", () => {
    // @ts-expect-error There is no such point.
    expect(() => expect(inputs).toHaveLayout({ suply: "%IW1" })).toThrow("suply  no such point");
  });
});

describe("snapshots", () => {
  expect.addSnapshotSerializer(frameSerializer(outputs));

  test("print a frame as its annotated dump", () => {
    expect(encode(outputs, { rinse: true, steam: false })).toMatchInlineSnapshot(`
      0.0  01        rinse  true
      0.1  01        steam  false
      1    00 00 00         unused, reserve
    `);
  });

  test("within other data, indented like it", () => {
    expect({ sent: encode(outputs, { rinse: true, steam: false }) }).toMatchInlineSnapshot(`
      {
        "sent": 0.0  01        rinse  true
        0.1  01        steam  false
        1    00 00 00         unused, reserve,
      }
    `);
  });

  test("of another length as always", () => {
    expect(new Uint8Array(1)).toMatchInlineSnapshot(`
      Uint8Array [
        0,
      ]
    `);
  });
});

describe("the expect of jest", () => {
  jestExpect.extend(matchers);

  test("takes the same matchers", () => {
    const registered = jestExpect as unknown as typeof expect;
    registered(frame).toDecodeTo(inputs, washing.values);
    registered(frame).not.toDecodeTo(inputs, { supply: 6.3 });
    registered({ rinse: true, steam: false }).toEncodeAs(outputs, "01 00 00 00");
    expect(() => registered(frame).toDecodeTo(inputs, { supply: 6.3 })).toThrow(
      /✗ 1 +60 36 +supply +6\.2 bar +expected 6\.3 bar/,
    );
  });
});
