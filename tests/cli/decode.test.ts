import { expect, test } from "vitest";
import { byterail, json, kegWasher } from "./byterail.js";

// 03 | F4 01 | AC 0D | 00 | 01 80 | 01 00 00 00 00 00 00 80 | CD CC CC 3D
// both bits · caustic 500 counts · supply 3500 counts · spare · tank 800h, fault · 2^63 + 1 kegs · 0.1 in binary32
const sent = "03 F4 01 AC 0D 00 01 80 01 00 00 00 00 00 00 80 cd cc cc 3d";
// 1Ah in BCD is no number (IEC 61131-3, table 22); sign-magnitude with its sign alone is −0; a quiet NaN (IEEE 754).
const odd = "02 00 00 | F4 01 | 1A 00 | 00 00 00 00 00 00 00 80 | 00 00 00 00 00 00 F8 7F";

test("values by name; a 64-bit integer is a text, so that no reader rounds it", () => {
  expect(json(["decode", kegWasher, "--inputs", sent])).toEqual({
    ...{ kegPresent: true, kegClamped: true, causticTemp: 50, supply: -0.3125 },
    ...{ tankFault: true, tank: 204800 / 4095, kegsWashed: "9223372036854775809", conductivity: Math.fround(0.1) },
  });
});

test("counts by name; of a real, its pattern", () => {
  expect(json(["decode", kegWasher, "--inputs", sent, "--raw"])).toEqual({
    ...{ kegPresent: true, kegClamped: true, causticTemp: 500, supply: 3500 },
    ...{ tankFault: true, tank: 2048, kegsWashed: "9223372036854775809", conductivity: 0x3dcccccd },
  });
});

test("what JSON has no number for is a text", () => {
  const values = { rinse: false, steam: true, speed: 50, dose: "NaN", batch: "-0", setpoint: "NaN" };
  expect(json(["decode", kegWasher, "--outputs", odd])).toEqual(values);
  const raw = { ...values, speed: 500, dose: "16#1A", setpoint: String(0x7ff8000000000000n) };
  expect(json(["decode", kegWasher, "--outputs", odd, "--raw"])).toEqual(raw);
});

const reals = {
  ...{ format: 1, name: "reals", byteOrder: "big" },
  modules: [
    {
      name: "m",
      inputs: [
        { name: "x", type: "float32" },
        { name: "n", type: "int16", code: "signMagnitude" },
      ],
    },
  ],
};

// Patterns: IEEE 754 binary32.
test.each([
  ["7F800000 0001", `"Infinity"`, "1"],
  ["FF800000 8001", `"-Infinity"`, "-1"],
  ["80000000 8000", "-0", "-0"],
  ["C2ED4000 7FFF", "-118.625", "32767"],
])("%s prints as %s and %s", (bytes, x, n) => {
  const { out } = byterail(["decode", "-", "--inputs", bytes, "--json"], JSON.stringify(reals));
  expect(out).toBe(`{\n  "x": ${x},\n  "n": ${n}\n}\n`);
});

test("bytes may come from standard input", () => {
  const { out } = byterail(["decode", kegWasher, "--inputs", "-", "--json"], `${sent}\n`);
  expect(JSON.parse(out)).toMatchObject({ causticTemp: 50 });
});

test("the table keeps to 80 columns and tells what counts mean", () => {
  const { out } = byterail(["decode", kegWasher, "--inputs", sent]);
  expect(out).toBe(page);
});

test("the table of counts leaves out what they mean", () => {
  const { out } = byterail(["decode", kegWasher, "--inputs", sent, "--raw"]);
  expect(out).toMatch(/^Name +Module +Byte.bit +Raw$/m);
  expect(out).toMatch(/^conductivity +level +16\.\.19 +16#3DCCCCCD$/m);
});

const page = `Name        Module   Byte.bit         Raw  Signal        Value  Unit   Health
kegPresent  clamps   0.0             true                 true
kegClamped  clamps   0.1             true                 true
caustic     sensors  1..2             500                   50  °C
Temp
supply      sensors  3..4            3500  3.5 mA      -0.3125  bar    failedLow
tankFault   level    6:0             true                 true
tank        level    6:4..15         2048             50.01221  %
kegsWashed  level    8..15     9223372036          92233720368  kegs
                                854775809             54775809
conductivi  level    16..19    16#3DCCCCC                  0.1  mS/cm
ty                                      D

4:12 is bit 12, counted from the least significant, of the packed word that
starts at byte 4.
`;
