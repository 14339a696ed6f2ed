// Where everything of a station stands: byte maps worked out by hand from the placement rules.
// Places read `name@bytes` for what takes whole bytes and `name byte.bit` for bits.

import {
  assemble,
  decode,
  type Entry,
  encode,
  type ImageLayout,
  imageLimit,
  type Module,
  type NetworkId,
  type NumberType,
  networks,
  type Placement,
  type Station,
} from "byterail";
import { fromHex, toHex } from "byterail/frames";
import { byteMap, pointAddress } from "byterail/map";
import { examine } from "byterail/schema";
import { describe, expect, test } from "vitest";

describe("order of modules", () => {
  const mixed = [di("DI2", 2), ai("AI2", 2), di("DI4", 4), dq("DO2", 2), di("DI8", 8), ai("AI1", 1), di("DI16", 16)];

  test("words first, bits packed", () => {
    const { inputs, outputs } = arranged(mixed, { order: "wordsFirst", packing: "bit" });
    expect(places(inputs)).toEqual(["AI2@0–3", "AI1@4–5", "DI2 6.0–6.1", "DI4 6.2–6.5", "DI8 6.6–7.5", "DI16 7.6–9.5"]);
    expect(inputs.byteLength).toBe(10);
    expect(places(outputs)).toEqual(["DO2 0.0–0.1"]);
    expect(outputs.byteLength).toBe(1);
  });

  test("slot order, every module on a whole byte", () => {
    const { inputs } = arranged(mixed);
    expect(places(inputs)).toEqual([
      "DI2 0.0–0.1",
      "AI2@1–4",
      "DI4 5.0–5.3",
      "DI8 6.0–6.7",
      "AI1@7–8",
      "DI16 9.0–10.7",
    ]);
    expect(inputs.byteLength).toBe(11);
  });

  test("a slot number moves a module; those of one slot keep the order of the list", () => {
    const { inputs } = arranged([
      { ...ai("late", 1), slot: 9 },
      { ...ai("first", 1), slot: 2 },
      { ...ai("second", 1), slot: 2 },
    ]);
    expect(places(inputs)).toEqual(["first@0–1", "second@2–3", "late@4–5"]);
  });

  test("bit-only is judged per direction, and not with a reserved size; group says otherwise", () => {
    const both: Module = { ...di("both", 1), outputs: [{ name: "bothWord", type: "int16" }] };
    const reserved: Module = { ...di("reserved", 1), inputBytes: 1 };
    const asWords: Module = { ...di("asWords", 1), group: "words" };
    const asBits: Module = { ...ai("asBits", 1), group: "bits" };
    const { inputs } = arranged([both, di("plain", 1), reserved, asBits, asWords, ai("word", 1)], {
      order: "wordsFirst",
    });
    expect(places(inputs)).toEqual(["reserved 0.0", "asWords 1.0", "word@2–3", "both 4.0", "plain 5.0", "asBits@6–7"]);
  });

  test("one number among its bits makes a module one of words", () => {
    const mixed: Module = { name: "mixed", inputs: [...bits("b", 1), { name: "n", type: "int8" }] };
    const { inputs } = arranged([di("bits", 1), mixed], { order: "wordsFirst" });
    expect(points(inputs)).toEqual(["b0 0.0", "n@1–1", "bits_0 2.0"]);
  });
});

describe("reserves and lengths", () => {
  test("a valve bank of 8 coils reserves 4 bytes", () => {
    const { outputs } = arranged([{ ...dq("valves", 8), outputBytes: 4 }, dq("DO8", 8)], { lengthMultiple: 2 });
    expect(places(outputs)).toEqual(["valves 0.0–0.7", "DO8 4.0–4.7"]);
    expect(outputs.gaps).toEqual([
      { byte: 1, bytes: 3, why: "reserve" },
      { byte: 5, bytes: 1, why: "length" },
    ]);
    expect(outputs.byteLength).toBe(6);
  });

  test("one byte of bits and two words, rounded up to even, is 6 bytes (common practice)", () => {
    const station = [di("bits", 8), ai("a", 1), ai("b", 1)];
    const { inputs } = arranged(station, { lengthMultiple: 2 });
    expect(places(inputs)).toEqual(["bits 0.0–0.7", "a@1–2", "b@3–4"]);
    expect(inputs.gaps).toEqual([{ byte: 5, bytes: 1, why: "length" }]);
    expect(inputs.byteLength).toBe(6);
    expect(arranged(station, { length: 9 }).inputs.byteLength).toBe(9);
    expect(arranged(station, { length: 5 }).inputs.byteLength).toBe(5);
  });

  test.each<[length: number, Placement, RegExp]>([
    [5, { lengthMultiple: 2 }, /is 5 bytes.* 6\b/],
    [7, { lengthMultiple: 2 }, /is 7 bytes.*multiple of 2/],
    [4, {}, /is 4 bytes.* 5\b/],
  ])("a configured length of %i with %j is an error", (length, rules, message) => {
    const { problems } = examined([di("bits", 8), ai("a", 1), ai("b", 1)], { ...rules, length });
    expect(problems).toEqual([
      { code: "placement.length", path: "placement.inputs.length", message: expect.stringMatching(message) },
    ]);
  });

  test("a direction without data has length 0, whatever the multiple", () => {
    expect(arranged([di("DI2", 2)], { lengthMultiple: 8 }).outputs.byteLength).toBe(0);
    expect(arranged([], { lengthMultiple: 8 }).inputs.byteLength).toBe(0);
  });

  test("a reserve smaller than its points is an error that says what they take", () => {
    const { problems } = examined([{ ...dq("valves", 9), outputBytes: 1 }]);
    expect(problems).toEqual([
      {
        code: "placement.reserve",
        path: "modules[0] valves › outputBytes",
        message: expect.stringMatching(/1 bytes.* points take 2\b/),
      },
    ]);
  });
});

describe("pins", () => {
  test("a pin goes forward, and the cursor stands at its end", () => {
    const { inputs } = arranged([ai("A", 1), { ...ai("B", 1), inputOffset: 10 }, ai("C", 1)]);
    expect(places(inputs)).toEqual(["A@0–1", "B@10–11", "C@12–13"]);
    expect(inputs.gaps).toEqual([{ byte: 2, bytes: 8, why: "pin" }]);
    expect(inputs.byteLength).toBe(14);
  });

  test("a pin goes backward too; the length is the end of the last byte used", () => {
    const { inputs } = arranged([{ ...ai("A", 1), inputOffset: 10 }, { ...ai("B", 1), inputOffset: 0 }, ai("C", 1)]);
    expect(places(inputs)).toEqual(["B@0–1", "C@2–3", "A@10–11"]);
    expect(inputs.gaps).toEqual([{ byte: 4, bytes: 6, why: "pin" }]);
    expect(inputs.byteLength).toBe(12);
  });

  test("a pin overrides the alignment and ends a run of packed bits", () => {
    const { inputs } = arranged([di("a", 3), { ...di("b", 3), inputOffset: 3 }, di("c", 3)], {
      packing: "bit",
      alignment: 2,
    });
    expect(places(inputs)).toEqual(["a 0.0–0.2", "b 3.0–3.2", "c 4.0–4.2"]);
  });

  test("overlapping pins are an error that names the other module and the bytes", () => {
    const { problems } = examined([ai("A", 2), { ...ai("B", 1), inputOffset: 3 }]);
    expect(problems).toEqual([
      {
        code: "placement.overlap",
        path: "modules[1] B",
        message: expect.stringMatching(/ 3\b.*module A\b.*pin it elsewhere/),
      },
    ]);
  });

  test("whatever lies within the reach of a longer module overlaps it, also behind a shorter one", () => {
    const { problems } = examined([
      { ...ai("long", 5), inputOffset: 0 },
      { ...ai("short", 1), inputOffset: 2 },
      { ...ai("late", 1), inputOffset: 6 },
      { ...ai("longer", 2), inputOffset: 8 },
      { ...ai("last", 1), inputOffset: 10 },
      { ...ai("free", 1), inputOffset: 12 },
    ]);
    expect(problems.map(({ path, message }) => [path, message.replace(" already; pin it elsewhere", "")])).toEqual([
      ["modules[1] short", "takes bytes 2 to 3, which module long has"],
      ["modules[2] late", "takes bytes 6 to 7, which module long has"],
      ["modules[3] longer", "takes bytes 8 to 9, which module long has"],
      ["modules[4] last", "takes bytes 10 to 11, which module longer has"],
    ]);
  });
});

describe("inside a module", () => {
  test("spare bytes start on the next whole byte, as does what follows", () => {
    const { inputs } = arranged([{ name: "m", inputs: [...bits("a", 3), { spare: 1 }, ...bits("b", 2)] }]);
    expect(points(inputs)).toEqual(["a0 0.0", "a1 0.1", "a2 0.2", "b0 2.0", "b1 2.1"]);
    expect(inputs.spares).toEqual([expect.objectContaining({ byte: 1, bit: null, bits: 8 })]);
    expect(byteMap(inputs).points.filter(({ type }) => type === "spare")).toEqual([
      {
        name: null,
        module: "m",
        slot: 0,
        type: "spare",
        byte: 1,
        bit: null,
        bits: 8,
        word: null,
        shift: null,
        address: null,
      },
    ]);
  });

  test("spare bits are counted among the bits", () => {
    const { inputs } = arranged([{ name: "m", inputs: [...bits("a", 1), { spareBits: 8 }, ...bits("b", 1)] }]);
    expect(points(inputs)).toEqual(["a0 0.0", "b0 1.1"]);
    expect(byteMap(inputs).points.map(({ name, byte, bit }) => [name, byte, bit])).toEqual([
      ["a0", 0, 0],
      [null, 0, 1],
      ["b0", 1, 1],
    ]);
    expect(inputs.spares).toEqual([expect.objectContaining({ byte: 0, bit: 1, bits: 8 })]);
  });

  test("most significant first: bit 7 down", () => {
    const { inputs } = arranged([di("DI10", 10)], { bitOrder: "msbFirst" });
    expect(points(inputs).map((place) => place.split(" ")[1])).toEqual(
      ["0.7", "0.6", "0.5", "0.4", "0.3", "0.2", "0.1", "0.0", "1.7", "1.6"].sort(byText),
    );
    expect(inputs.points.find(({ name }) => name === "DI10_0")).toMatchObject({ byte: 0, bit: 7 });
    expect(decode(inputs, fromHex("80 40"))).toMatchObject({
      DI10_0: true,
      DI10_1: false,
      DI10_8: false,
      DI10_9: true,
    });
  });
});

describe("alignment", () => {
  test("is where a module starts, never a point inside it, and adds nothing at the end", () => {
    const mixed: Module = { name: "mixed", inputs: [...bits("a", 4), { name: "n", type: "int16" }, ...bits("b", 2)] };
    const { inputs } = arranged([mixed, ai("AI1", 1)], { alignment: 2 });
    expect(points(inputs)).toEqual(["a0 0.0", "a1 0.1", "a2 0.2", "a3 0.3", "n@1–2", "b0 3.0", "b1 3.1", "AI1_0@4–5"]);
    expect(inputs.byteLength).toBe(6);
    expect(arranged([ai("a", 1), di("b", 1)], { alignment: 4 }).inputs.byteLength).toBe(5);
  });

  test("of a run of packed bits only the first module is aligned", () => {
    const { inputs } = arranged([ai("w", 1), di("a", 3), di("b", 6), ai("v", 1)], { alignment: 4, packing: "bit" });
    expect(places(inputs)).toEqual(["w@0–1", "a 4.0–4.2", "b 4.3–5.0", "v@8–9"]);
    expect(inputs.gaps).toEqual([
      { byte: 2, bytes: 2, why: "alignment" },
      { byte: 6, bytes: 2, why: "alignment" },
    ]);
  });
});

describe("packed bits", () => {
  test("a module without data in the direction separates nothing", () => {
    const { inputs } = arranged([di("a", 4), dq("feed", 2), { name: "power" }, di("b", 4)], { packing: "bit" });
    expect(places(inputs)).toEqual(["a 0.0–0.3", "b 0.4–0.7"]);
    expect(inputs.byteLength).toBe(1);
  });

  test("a module of words ends the run", () => {
    const { inputs } = arranged([di("a", 4), ai("w", 1), di("b", 4)], { packing: "bit" });
    expect(places(inputs)).toEqual(["a 0.0–0.3", "w@1–2", "b 3.0–3.3"]);
  });

  test("a reserved size starts on a whole byte and ends the run", () => {
    const { inputs } = arranged([di("a", 4), { ...di("r", 2), inputBytes: 2 }, di("b", 4)], { packing: "bit" });
    expect(places(inputs)).toEqual(["a 0.0–0.3", "r 1.0–1.1", "b 3.0–3.3"]);
    const asBits: Module = { ...di("r", 2), inputBytes: 2, group: "bits" };
    expect(places(arranged([di("a", 4), asBits, di("b", 4)], { packing: "bit" }).inputs)).toEqual(places(inputs));
  });

  test("modules that share a byte must agree on the bit order", () => {
    const msb: Module = { ...di("a", 12), bitOrder: "msbFirst" };
    const lsb: Module = { ...di("b", 4), bitOrder: "lsbFirst" };
    const { problems } = examined([msb, lsb], { packing: "bit" });
    expect(problems).toEqual([
      {
        code: "placement.bitOrder",
        path: "modules[1] b",
        message: expect.stringMatching(/shares byte 1 with module a\b.*one bitOrder/),
      },
    ]);
    // On whole bytes they need not.
    expect(places(arranged([{ ...msb, inputs: bits("a", 8) }, lsb], { packing: "bit" }).inputs)).toEqual([
      "a 0.0–0.7",
      "b 1.0–1.3",
    ]);
  });
});

describe("packed words", () => {
  test("12 bits left-justified beside status bits, in a big-endian word at byte 3", () => {
    const level: Module = {
      name: "level",
      inputs: [
        {
          word: 16,
          fields: [
            { name: "tank", bits: 12, shift: 4 },
            { name: "tankFault", bit: 0 },
            { name: "wire", bit: 1 },
          ],
        },
      ],
    };
    const { inputs } = arranged([{ name: "before", inputs: [{ spare: 3 }] }, level], {}, "big");
    // xx xx xx | AB C5    tank = ABCh = 2748 · status 5h
    expect(decode(inputs, fromHex("FF FF FF AB C5"))).toEqual({ tank: 2748, tankFault: true, wire: false });
    expect(inputs.points.map(({ name, byte, word, shift }) => [name, byte, word, shift])).toEqual([
      ["tankFault", 3, 16, 0],
      ["wire", 3, 16, 1],
      ["tank", 3, 16, 4],
    ]);
  });

  test("16 inputs that travel as one big-endian word have channel 0 in the second byte", () => {
    const fields = Array.from({ length: 16 }, (_, bit) => ({ name: `c${bit}`, bit }));
    const { inputs } = arranged([{ name: "di", inputs: [{ word: 16, fields }] }], {}, "big");
    expect(decode(inputs, fromHex("01 80"))).toMatchObject({ c0: false, c7: true, c8: true, c15: false });
    const address = (name: string) => pointAddress(inputs.points.find((point) => point.name === name)!, "inputs");
    expect([address("c0"), address("c7"), address("c8"), address("c15")]).toEqual([
      "%IX1.0",
      "%IX1.7",
      "%IX0.0",
      "%IX0.7",
    ]);
  });

  test("a signed field is two's complement in its own bits", () => {
    const fields = [
      { name: "n", bits: 4, shift: 4, signed: true },
      { name: "u", bits: 4, shift: 0 },
    ];
    const { inputs } = arranged([{ name: "m", inputs: [{ word: 8, fields }] }]);
    expect(decode(inputs, fromHex("9F"))).toEqual({ n: -7, u: 15 });
  });

  test("a field across 64 bits of a 72-bit word is a bigint beyond 53 bits", () => {
    const fields = [
      { name: "wide", bits: 64, shift: 4 },
      { name: "narrow", bits: 4, shift: 68 },
    ];
    const { inputs } = arranged([{ name: "m", inputs: [{ word: 72, fields }] }], {}, "big");
    expect(decode(inputs, fromHex("A1 23 45 67 89 AB CD EF 05"))).toEqual({ wide: 0x123456789abcdef0n, narrow: 0xa });
  });
});

describe("byte and word order in the image", () => {
  const orders = [
    ["big", "highFirst", "11 22 33 44", "11 22 33 44 55 66 77 88"],
    ["big", "lowFirst", "33 44 11 22", "77 88 55 66 33 44 11 22"],
    ["little", "lowFirst", "44 33 22 11", "88 77 66 55 44 33 22 11"],
    ["little", "highFirst", "22 11 44 33", "22 11 44 33 66 55 88 77"],
  ] as const;
  test.each(orders)("0x11223344 and its 64-bit like, %s, %s", (byteOrder, wordOrder, hex, wide) => {
    const { outputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder: byteOrder, wordOrder },
      modules: [
        {
          name: "m",
          outputs: [
            { name: "d", type: "uint32" },
            { name: "l", type: "uint64" },
          ],
        },
      ],
    });
    expect(toHex(encode(outputs, { d: 0x11223344, l: 0x1122334455667788n }))).toBe(`${hex} ${wide}`);
  });

  test.each(orders)("so has a packed word, %s, %s", (byteOrder, wordOrder, hex) => {
    const { outputs } = assemble({
      ...{ format: 1, name: "rig", byteOrder, wordOrder },
      modules: [
        {
          name: "m",
          outputs: [
            {
              word: 32,
              fields: [
                { name: "h", bits: 8, shift: 24 },
                { name: "l", bits: 24, shift: 0 },
              ],
            },
          ],
        },
      ],
    });
    expect(toHex(encode(outputs, { h: 0x11, l: 0x223344 }))).toBe(hex);
  });

  test("a network gives its default byte order", () => {
    const first = Object.fromEntries(
      (Object.keys(networks) as NetworkId[]).map((network) => {
        const { outputs } = assemble({
          ...{ format: 1, name: "rig", network },
          modules: [{ name: "m", outputs: [{ name: "w", type: "uint16" }] }],
        });
        return [network, toHex(encode(outputs, { w: 0x1234 }))];
      }),
    );
    // CIP little-endian, Modbus big-endian (V1.1b3, 4.2), the others from memory.
    expect(first).toEqual({
      "ethernet-ip": "34 12",
      profinet: "12 34",
      "profibus-dp": "12 34",
      "modbus-tcp": "12 34",
      ethercat: "34 12",
      canopen: "34 12",
      "io-link": "12 34",
    });
  });

  test("without network and byte order there is no order: an error, never the host's", () => {
    const { problems } = examine({ format: 1, name: "rig", modules: [] });
    expect(problems.map(({ code, path }) => [code, path])).toEqual([["byteOrder.missing", "byteOrder"]]);
  });

  test("the nearest order wins: point, module, station, network; each on its own", () => {
    const value = { type: "uint32" } as const;
    const { outputs } = assemble({
      ...{ format: 1, name: "rig", network: "ethernet-ip", byteOrder: "big" },
      modules: [
        { name: "m0", outputs: [{ name: "station", ...value }] },
        {
          ...{ name: "m1", byteOrder: "little", wordOrder: "highFirst" },
          outputs: [
            { name: "module", ...value },
            { name: "point", ...value, byteOrder: "big" },
            { name: "word", ...value, wordOrder: "lowFirst" },
            { name: "short", type: "uint16" },
            { name: "three", type: "uint24" },
          ],
        },
      ],
    });
    const bytes = encode(outputs, {
      station: 0x11223344,
      module: 0x11223344,
      point: 0x11223344,
      word: 0x11223344,
      short: 0x1234,
      three: 0x112233,
    });
    // The word order of the module stays where only the byte order is said nearer; on 16 and 24 bits it is ignored.
    expect(toHex(bytes)).toBe("11 22 33 44 22 11 44 33 11 22 33 44 44 33 22 11 34 12 33 22 11");
  });

  test.each([8, 16, 24])("a word order said on a value of %i bits is an error", (width) => {
    const { problems } = examined([
      { name: "m", inputs: [{ name: "n", type: `uint${width}` as NumberType, wordOrder: "lowFirst" }] },
    ]);
    expect(problems.map(({ code, path }) => [code, path])).toEqual([
      ["wordOrder.width", "modules[0] m › inputs[0] n › wordOrder"],
    ]);
  });
});

describe("limits of networks", () => {
  test.each([
    // CIP Vol. 1 (from memory): 511 less a 16-bit sequence count; out, less a 32-bit run/idle header too.
    ["ethernet-ip", 509, 505, "CIP Vol. 1 (from memory)", "CIP Vol. 1 (from memory)"],
    // Modbus Application Protocol V1.1b3, 6.3 and 6.12: 125 registers read, 123 written.
    ["modbus-tcp", 250, 246, "Modbus V1.1b3, 6.3", "Modbus V1.1b3, 6.12"],
    // From memory: PROFIBUS DP, PROFINET IO, EtherCAT, CiA 301, IEC 61131-9.
    ["profibus-dp", 244, 244, "PROFIBUS DP telegram (from memory)", "PROFIBUS DP telegram (from memory)"],
    [
      "profinet",
      1440,
      1440,
      "PROFINET IO frame, status bytes included (from memory)",
      "PROFINET IO frame, status bytes included (from memory)",
    ],
    ["ethercat", 1486, 1486, "EtherCAT datagram (from memory)", "EtherCAT datagram (from memory)"],
    ["canopen", 8, 8, "CiA 301 PDO (from memory)", "CiA 301 PDO (from memory)"],
    ["io-link", 32, 32, "IEC 61131-9 (from memory)", "IEC 61131-9 (from memory)"],
  ] as const)("%s: %i bytes in, %i out", (network, inputs, outputs, source, sourceOut) => {
    const sized = (i: number, o: number, limits?: Station["limits"]) =>
      examine({
        ...{ format: 1, name: "rig", network, ...(limits && { limits }) },
        modules: [{ name: "m", inputs: [{ spare: i }], outputs: [{ spare: o }] }],
      });
    expect(sized(inputs, outputs).problems).toEqual([]);
    const { problems } = sized(inputs + 1, outputs + 1);
    expect(problems.map(({ code, path }) => [code, path])).toEqual([
      ["network.limit", "inputs"],
      ["network.limit", "outputs"],
    ]);
    for (const [direction, limit, from] of [
      ["inputs", inputs, source],
      ["outputs", outputs, sourceOut],
    ] as const)
      expect(problems.find(({ path }) => path === direction)!.message).toContain(`at most ${limit} fit (${from})`);
    expect(sized(inputs + 1, outputs + 1, { inputs: inputs + 1, outputs: outputs + 1 }).problems).toEqual([]);
    expect(sized(2, 1, { inputs: 1 }).problems.map(({ code }) => code)).toEqual(["network.limit"]);
  });

  test("padding counts: the limit is checked on the result", () => {
    const padded = examine({
      ...{ format: 1, name: "rig", network: "canopen", placement: { inputs: { length: 9 } } },
      modules: [{ name: "m", inputs: [{ spare: 8 }] }],
    });
    expect(padded.problems.map(({ code }) => code)).toEqual(["network.limit"]);
  });

  test("the limit of a station names its source", () => {
    expect(imageLimit({}, "outputs")).toEqual({ bytes: 65535, source: "a length of 16 bits" });
    expect(imageLimit({ network: "canopen" }, "inputs")).toEqual({
      bytes: 8,
      source: expect.stringContaining("CiA 301"),
    });
    expect(imageLimit({ network: "canopen", limits: { inputs: 64 } }, "inputs")).toEqual({
      bytes: 64,
      source: "limits.inputs of the station",
    });
  });
});

function arranged(modules: readonly Module[], rules: Placement = {}, byteOrder: "big" | "little" = "little") {
  const station: Station = { format: 1, name: "rig", byteOrder, placement: { inputs: rules, outputs: rules }, modules };
  return assemble(station);
}

function examined(modules: readonly Module[], rules: Placement = {}) {
  return examine({ format: 1, name: "rig", byteOrder: "little", placement: { inputs: rules }, modules });
}

/** Digital inputs and outputs, analog inputs of 16 bits: points `name_0`, `name_1` … */
function di(name: string, channels: number): Module {
  return { name, inputs: bits(`${name}_`, channels) };
}

function dq(name: string, channels: number): Module {
  return { name, outputs: bits(`${name}_`, channels) };
}

function ai(name: string, channels: number): Module {
  return { name, inputs: Array.from({ length: channels }, (_, k): Entry => ({ name: `${name}_${k}`, type: "int16" })) };
}

function bits(prefix: string, count: number): Entry[] {
  return Array.from({ length: count }, (_, k) => ({ name: `${prefix}${k}`, type: "bit" }));
}

/** The place of every module, from its first point to its last, in image order. */
function places({ modules, points: all }: Pick<ImageLayout, "modules" | "points">): string[] {
  const rows = modules.map(({ name }) => {
    const own = all.filter(({ module }) => module === name);
    const [first, last] = [own[0]!, own[own.length - 1]!];
    if (first.bit === null) return { at: first.byte, text: `${name}@${first.byte}–${last.byte + last.bits / 8 - 1}` };
    const to = first === last ? "" : `–${last.byte}.${last.bit}`;
    return { at: first.byte + first.bit / 8, text: `${name} ${first.byte}.${first.bit}${to}` };
  });
  return rows.sort((a, b) => a.at - b.at).map(({ text }) => text);
}

/** The place of every point, in image order. */
function points({ points: all }: Pick<ImageLayout, "points">): string[] {
  return all.map(({ name, byte, bit, bits: size }) =>
    bit === null ? `${name}@${byte}–${byte + size / 8 - 1}` : `${name} ${byte}.${bit}`,
  );
}

function byText(a: string, b: string): number {
  return a < b ? -1 : 1;
}
