import { expect, test } from "vitest";
import { byterail, json, kegWasher } from "./byterail.js";

interface Row {
  readonly name: string | null;
  readonly byte: number;
  readonly address: string | null;
}

interface Image {
  readonly byteLength: number;
  readonly points: readonly Row[];
  readonly gaps: readonly unknown[];
}

type Map = Readonly<Record<"inputs" | "outputs", Image>> & { readonly station: string };

const map = json(["map", kegWasher]) as Map;

test("the map for machines has the station, and length, points and gaps of both images, and nothing else", () => {
  expect(Object.keys(map)).toEqual(["station", "inputs", "outputs"]);
  expect(map.station).toBe("kegWasher");
  expect(Object.keys(map.inputs)).toEqual(["byteLength", "points", "gaps"]);
  expect([map.inputs.byteLength, map.outputs.byteLength]).toEqual([20, 23]);
  expect(map.inputs.gaps).toEqual([]);
  expect(map.outputs.gaps).toEqual([{ byte: 1, bytes: 2, why: "reserve" }]);
});

const none = { bit: null, word: null, shift: null };
// Addresses: IEC 61131-3, table 15; a field of several bits has none.
test.each([
  { name: "kegClamped", module: "clamps", slot: 1, type: "bit", byte: 0, bits: 1, ...none, bit: 1, address: "%IX0.1" },
  { name: "supply", module: "sensors", slot: 2, type: "uint16", byte: 3, bits: 16, ...none, address: "%IW3" },
  { name: null, module: "sensors", slot: 2, type: "spare", byte: 5, bits: 8, ...none, address: null },
  {
    ...{ name: "tank", module: "level", slot: 3, type: "field", byte: 6, bits: 12 },
    ...{ bit: null, word: 16, shift: 4, address: null },
  },
  {
    ...{ name: "tankFault", module: "level", slot: 3, type: "field", byte: 6, bits: 1 },
    ...{ bit: null, word: 16, shift: 0, address: "%IX6.0" },
  },
  { name: "kegsWashed", module: "level", slot: 3, type: "uint64", byte: 8, bits: 64, ...none, address: "%IL8" },
])("the row of $type $name has just the ten keys", (row) => {
  expect(map.inputs.points.filter(({ name, byte }) => name === row.name && byte === row.byte)).toEqual([row]);
});

test("a declared spare of bits is a row, a reserve is none", () => {
  expect(map.outputs.points.map(({ name }) => name)).toEqual([
    "rinse",
    "steam",
    null,
    "speed",
    "dose",
    "batch",
    "setpoint",
  ]);
  expect(map.outputs.points[2]).toMatchObject({ type: "spare", byte: 0, bit: 2, bits: 2, address: null });
});

// The standard leaves open whether %IW1 is byte 1 or word 1.
test("addresses start where the controller puts each image, and count bytes or words", () => {
  const addresses = (args: readonly string[], direction: "inputs" | "outputs") =>
    (json(["map", kegWasher, ...args]) as Map)[direction].points.map(({ address }) => address);
  expect(addresses(["--inputs-at", "65", "--count", "words"], "inputs")).toEqual([
    "%IX65.0",
    "%IX65.1",
    "%IW33",
    "%IW34",
    null,
    "%IX71.0",
    null,
    null,
    null,
  ]);
  expect(addresses(["--outputs-at", "100"], "outputs")).toEqual([
    "%QX100.0",
    "%QX100.1",
    null,
    "%QW103",
    "%QW105",
    "%QL107",
    "%QL115",
  ]);
});

test("a station may come from standard input", () => {
  const station = `\uFEFF{ "format": 1, "name": "drain", "byteOrder": "big", "modules": [] }`;
  const empty = { byteLength: 0, points: [], gaps: [] };
  expect(json(["map", "-"], station)).toEqual({ station: "drain", inputs: empty, outputs: empty });
});

test("at 80 columns long names are broken between their parts, and odd words carry a sign that a note explains", () => {
  const { out, err, status } = byterail(["map", kegWasher]);
  expect({ status, err }).toEqual({ status: 0, err: "" });
  expect(widest(out)).toBeLessThanOrEqual(80);
  expect(out.slice(0, out.indexOf("Warnings"))).toBe(page);
  expect(out.match(/^- placement\.oddByte /gm)).toHaveLength(6);
});

test("at 120 columns titles have room", () => {
  const { out } = byterail(["map", kegWasher, "--width", "120"]);
  expect(widest(out)).toBeLessThanOrEqual(120);
  expect(out).toMatch(/^Byte +Bit +Address +Name +Type +Module \(slot\) +Counts +Unit +Title$/m);
  expect(out).toContain("Steam to the sterilising head\n");
});

test("titles cannot steer the terminal", () => {
  const modules = [{ name: "m", inputs: [{ name: "p", type: "bit", title: "\u001b[31mred\nline" }] }];
  const station = JSON.stringify({ format: 1, name: "s", title: "\u0007", byteOrder: "big", modules });
  const { out } = byterail(["map", "-", "--width", "120"], station);
  expect(out).toContain("s: \\u0007\n");
  expect(out).toContain("\\u001b[31mred\\u000aline\n");
});

function widest(text: string): number {
  return Math.max(...text.split("\n").map((line) => [...line].length));
}

const page = `kegWasher: Keg washer, skid 2

Inputs: 20 bytes of at most 509 (station → controller)
Byte    Bit    Address  Name          Type      Module       Counts        Unit
                                                (slot)
0       0      %IX0.0   kegPresent    bit       clamps (1)
0       1      %IX0.1   kegClamped    bit       clamps (1)
1..2*          %IW1     causticTemp   int16     sensors (2)  0..1500 →     °C
                                                             0..150
3..4*          %IW3     supply        uint16    sensors (2)  4000..20000   bar
                                                             = 4..20 mA →
                                                             0..10
5                                     spare     sensors (2)
6..7    0      %IX6.0   tankFault     field/16  level (3)
6..7    4..15           tank          field/16  level (3)    0..4095 →     %
                                                             0..100
8..15          %IL8     kegsWashed    uint64    level (3)                  kegs
16..19         %ID16    conductivity  float32   level (3)                  mS/cm

Outputs: 23 bytes of at most 505 (controller → station)
Byte     Bit  Address  Name      Type     Module (slot)  Counts             Unit
0        0    %QX0.0   rinse     bit      valves (0)
0        1    %QX0.1   steam     bit      valves (0)
0        2                       spare    valves (0)     2 bits
1..2                             gap                     reserved by the
                                                         module
3..4*         %QW3     speed     uint16   pump (4)       0..1000 → 0..100   %
5..6*         %QW5     dose      uint16   pump (4)       BCD                mL
7..14*        %QL7     batch     int64    pump (4)       sign and
                                                         magnitude
15..22*       %QL15    setpoint  float64  pump (4)                          bar

* starts at an odd byte, so it lies across 16-bit registers.
field/16 is a part of a packed word of 16 bits: Byte is where the word stands,
  Bit counts from its least significant bit.

`;
