// The image: what decode, encode and everything between them promise, on one station that has all kinds of points.

import {
  type AnyValue,
  assemble,
  ByterailError,
  decode,
  decodeByModule,
  decodeRaw,
  encode,
  encodeByModule,
  encodeInto,
  encodeRaw,
  patch,
  patchRaw,
  pointHandle,
  view,
} from "byterail";
import { inspect } from "byterail/map";
import { diff, fromHex, fromRegisters, hexdump, toHex, toRegisters } from "byterail/frames";
import { describe, expect, test } from "vitest";
import { codesOf, problemsOf } from "../support/problems.js";

const { inputs, outputs } = assemble({
  ...{ format: 1, name: "kegWasher", byteOrder: "little" },
  modules: [
    {
      name: "valves",
      outputs: [
        { name: "rinse", type: "bit" },
        { name: "steam", type: "bit" },
        { spareBits: 1 },
        { name: "drain", type: "bit" },
      ],
      outputBytes: 3,
    },
    {
      name: "drives",
      outputs: [
        { name: "speed", type: "int16", scale: { counts: [0, 1000], value: [0, 100], unit: "%" } },
        { name: "preset", type: "uint8", limits: [10, 20], unit: "L" },
        { name: "ratio", type: "float32" },
        { name: "total", type: "uint64" },
      ],
    },
    {
      name: "sensors",
      inputs: [
        {
          name: "causticTemp",
          title: "Caustic",
          type: "int16",
          deadband: 0.5,
          scale: { counts: [0, 1500], value: [0, 150], unit: "°C" },
        },
        {
          ...{ name: "supply", type: "uint16" },
          scale: { counts: [4000, 20000], signal: [4, 20], signalUnit: "mA", value: [0, 10], unit: "bar" },
          specialCounts: [{ counts: 32767, health: "failedHigh" }],
        },
        { spare: 2 },
      ],
    },
    {
      name: "level",
      inputs: [
        {
          word: 16,
          byteOrder: "big",
          fields: [
            { name: "tank", bits: 12, shift: 4 },
            { name: "fault", bit: 0 },
          ],
        },
      ],
    },
    {
      name: "clock",
      inputs: [
        { name: "ticks", type: "int64" },
        { name: "open", type: "bit" },
      ],
    },
  ],
});

// causticTemp 85.0 °C · supply 5 bar | spare | tank ABCh, fault | ticks −2 | open
const frame = fromHex("52 03 E0 2E | 00 00 | AB C5 | FE FF FF FF FF FF FF FF | 01");
const values = { causticTemp: 85, supply: 5, tank: 0xabc, fault: true, ticks: -2n, open: true };
const given = { rinse: true, steam: false, drain: true, speed: 50, preset: 12, ratio: 0.5, total: 1n };
const written = "09 00 00 F4 01 0C 00 00 00 3F 01 00 00 00 00 00 00 00";

describe("decode", () => {
  test("gives every point by name: bits as boolean, 64 bits as bigint, the rest as number", () => {
    expect(decode(inputs, frame)).toEqual(values);
  });

  test("lists them in image order, whatever their types", () => {
    expect(Object.keys(decode(inputs, frame))).toEqual(inputs.points.map(({ name }) => name));
  });

  test("of a part of a larger buffer, and of a Node Buffer", () => {
    const larger = new Uint8Array([0xff, 0xff, 0xff, ...frame, 0xff]);
    expect(decode(inputs, larger.subarray(3, 3 + frame.length))).toEqual(values);
    expect(decode(inputs, Buffer.from(larger).subarray(3, 3 + frame.length))).toEqual(values);
    expect(decode(inputs, Buffer.from(frame))).toEqual(values); // out of Node's pool, so at some offset of its memory
  });

  test("grouped by module", () => {
    expect(decodeByModule(inputs, frame)).toEqual({
      sensors: { causticTemp: 85, supply: 5 },
      level: { tank: 0xabc, fault: true },
      clock: { ticks: -2n, open: true },
    });
    expect(encodeByModule(inputs, decodeByModule(inputs, frame))).toEqual(masked(frame));
  });

  test("never rejects nor clamps: what the station sent is a fact", () => {
    expect(
      decode(
        inputs,
        frame.map(() => 0xff),
      ),
    ).toMatchObject({ causticTemp: -0.1, supply: 38.459375 });
  });

  test("raw: counts, and the bit pattern of a real", () => {
    expect(decodeRaw(inputs, frame)).toEqual({ ...values, causticTemp: 850, supply: 12000 });
    expect(decodeRaw(outputs, fromHex(written))).toEqual({ ...given, speed: 500, ratio: 0x3f000000 });
  });
});

describe("bytes of a wrong length", () => {
  const message = (bytes: Uint8Array) => problemsOf(() => decode(inputs, bytes))[0]!;

  test("are an error that tells both lengths", () => {
    const { code, message: text } = message(new Uint8Array(14));
    expect(code).toBe("image.length");
    expect(text).toMatch(/17 bytes.* 14\b/);
    expect(text).not.toMatch(/module/);
  });

  test("that one module's size explains, name it", () => {
    expect(message(new Uint8Array(8)).message).toMatch(/module clock\b/);
    expect(message(new Uint8Array(17 + 6)).message).toMatch(/module sensors\b/);
  });

  test("are refused by everything that takes bytes", () => {
    const short = new Uint8Array(5);
    const calls: Record<string, () => unknown> = {
      decode: () => decode(inputs, short),
      decodeRaw: () => decodeRaw(inputs, short),
      decodeByModule: () => decodeByModule(inputs, short),
      encodeInto: () => encodeInto(inputs, short, values),
      patch: () => patch(inputs, short, {}),
      patchRaw: () => patchRaw(inputs, short, {}),
      inspect: () => inspect(inputs, short),
      hexdump: () => hexdump(inputs, short),
      view: () => view(inputs, short),
      "diff, first": () => diff(inputs, short, frame),
      "diff, second": () => diff(inputs, frame, short),
      "handle, read": () => pointHandle(inputs, "tank").read(short),
      "handle, write": () => pointHandle(inputs, "tank").write(short, 1),
    };
    for (const [name, call] of Object.entries(calls)) expect([name, ...codesOf(call)]).toEqual([name, "image.length"]);
  });

  test("what is no Uint8Array is refused as such", () => {
    expect(codesOf(() => decode(inputs, [...frame] as unknown as Uint8Array))).toEqual(["image.bytes"]);
    expect(codesOf(() => view(inputs, new Uint16Array(17) as unknown as Uint8Array))).toEqual(["image.bytes"]);
  });
});

describe("encode", () => {
  test("writes every point, spares and gaps as 0", () => {
    expect(toHex(encode(outputs, given))).toBe(written);
    const dirty = new Uint8Array(outputs.byteLength).fill(0xff);
    expect(toHex(encodeInto(outputs, dirty, given))).toBe(written);
  });

  test("into a part of a larger buffer leaves the rest", () => {
    const larger = Buffer.alloc(outputs.byteLength + 4, 0xa5);
    encodeInto(outputs, larger.subarray(2, 2 + outputs.byteLength), given);
    expect(toHex(larger)).toBe(`A5 A5 ${written} A5 A5`);
  });

  test("reports every offending point at once and writes nothing", () => {
    const bytes = new Uint8Array(outputs.byteLength).fill(0x5a);
    const wrong = { rinse: 1, drain: true, speed: 101, preset: 9.5, ratio: Number.NaN, total: 7, speeed: 3 };
    const problems = problemsOf(() => encodeInto(outputs, bytes, wrong as unknown as typeof given));
    expect(problems.map(({ code, path }) => [path, code])).toEqual([
      ["speeed", "value.unknown"],
      ["rinse", "value.type"],
      ["steam", "value.missing"],
      ["speed", "value.limits"],
      ["preset", "value.limits"],
      ["ratio", "value.type"],
      ["total", "value.type"],
    ]);
    expect(bytes).toEqual(new Uint8Array(outputs.byteLength).fill(0x5a));
    expect(codesOf(() => patch(outputs, bytes, { rinse: true, speed: 101 }))).toEqual(["value.limits"]);
    expect(bytes).toEqual(new Uint8Array(outputs.byteLength).fill(0x5a));
  });

  test.each<[point: string, value: unknown, code: string]>([
    ["speed", Number.NaN, "value.type"],
    ["speed", Infinity, "value.type"],
    ["speed", -0.1, "value.limits"], // a scaled output without limits is limited to its value ends
    ["speed", "50", "value.type"],
    ["speed", null, "value.type"],
    ["speed", 50n, "value.type"],
    ["preset", 12.5, "value.range"],
    ["preset", 21, "value.limits"],
    ["preset", Number.NaN, "value.type"],
    ["ratio", Infinity, "value.type"],
    ["ratio", -Infinity, "value.type"],
    ["ratio", 3.5e38, "value.range"],
    ["ratio", 1n, "value.type"],
    ["total", 1, "value.type"],
    ["total", -1n, "value.range"],
    ["total", 1n << 64n, "value.range"],
    ["rinse", 0, "value.type"],
    ["rinse", "true", "value.type"],
  ])("%s does not accept %s", (point, value, code) => {
    const problems = problemsOf(() => encode(outputs, { ...given, [point]: value }));
    expect(problems.map((problem) => [problem.path, problem.code])).toEqual([[point, code]]);
  });

  test("an input is limited by its type alone: tests must be able to send over-range", () => {
    expect(decode(inputs, encode(inputs, { ...values, supply: 20, causticTemp: -20 }))).toMatchObject({
      supply: 20,
      causticTemp: -20,
    });
    expect(codesOf(() => encode(inputs, { ...values, supply: 1000 }))).toEqual(["value.range"]);
    expect(codesOf(() => encode(inputs, { ...values, tank: 4096 }))).toEqual(["value.range"]);
  });

  test("clamps only where asked by name, to the nearest accepted value; what is no number is refused all the same", () => {
    const clamp = { outOfRange: "clamp" } as const;
    const wild = { ...given, speed: 1e9, preset: 300 };
    expect(decode(outputs, encode(outputs, wild, clamp))).toMatchObject({ speed: 100, preset: 20 });
    expect(decode(inputs, encode(inputs, { ...values, supply: -1e9, tank: 1e9 }, clamp))).toMatchObject({
      supply: -2.5,
      tank: 4095,
    });
    expect(codesOf(() => encode(outputs, { ...given, speed: Number.NaN }, clamp))).toEqual(["value.type"]);
    expect(codesOf(() => encode(outputs, { ...given, preset: 12.5 }, clamp))).toEqual(["value.range"]);
  });

  test("counts that are a report are encoded only raw", () => {
    const bar = (32767 - 4000) / 1600;
    expect(codesOf(() => encode(inputs, { ...values, supply: bar }))).toEqual(["value.special"]);
    const bytes = encodeRaw(inputs, { ...decodeRaw(inputs, frame), supply: 32767 });
    expect(inspect(inputs, bytes).find(({ name }) => name === "supply")!.health).toBe("failedHigh");
  });

  test("raw checks the type only", () => {
    const raw = decodeRaw(outputs, fromHex(written));
    expect(toHex(encodeRaw(outputs, { ...raw, speed: -1, preset: 255, ratio: 0x7fc00000 }))).toBe(
      "09 00 00 FF FF FF 00 00 C0 7F 01 00 00 00 00 00 00 00",
    );
    expect(codesOf(() => encodeRaw(outputs, { ...raw, speed: 32768 }))).toEqual(["value.range"]);
    expect(codesOf(() => encodeRaw(outputs, { ...raw, preset: 1.5 }))).toEqual(["value.range"]);
    expect(codesOf(() => encodeRaw(outputs, { ...raw, ratio: 2 ** 32 }))).toEqual(["value.range"]);
  });

  test("a name in the wrong case is no name", () => {
    const [problem] = problemsOf(() => patch(outputs, new Uint8Array(outputs.byteLength), { Rinse: true } as object));
    expect(problem).toEqual({
      code: "value.unknown",
      path: "Rinse",
      message: expect.stringMatching(/no point of the outputs.*case/),
    });
  });

  test("grouped by module, a point under the wrong module and an unknown one are refused", () => {
    const groups = decodeByModule(inputs, frame);
    const level = (more: object) => ({
      ...groups,
      level: Object.defineProperties(
        { ...groups.level },
        Object.getOwnPropertyDescriptors(more),
      ) as typeof groups.level,
    });
    expect(codesOf(() => encodeByModule(inputs, level({ open: true })))).toContain("value.unknown");
    expect(codesOf(() => encodeByModule(inputs, level({ nothing: 1 })))).toEqual(["value.unknown"]);
    expect(codesOf(() => encodeByModule(inputs, level(JSON.parse('{ "__proto__": {} }'))))).toEqual(["value.unknown"]);
    expect(codesOf(() => encodeByModule(inputs, null as unknown as typeof groups))).not.toEqual([]);
  });
});

describe("changing single points", () => {
  test("patch changes the named ones and no other bit", () => {
    const bytes = new Uint8Array(outputs.byteLength).fill(0xff);
    expect(patch(outputs, bytes, { steam: false, preset: 10 })).toBe(bytes);
    expect(toHex(bytes)).toBe("FD FF FF FF FF 0A FF FF FF FF FF FF FF FF FF FF FF FF");
    patchRaw(outputs, bytes, { speed: 0 });
    expect(toHex(bytes)).toBe("FD FF FF 00 00 0A FF FF FF FF FF FF FF FF FF FF FF FF");
  });

  test("a view reads and writes the bytes that are there", () => {
    const bytes = new Uint8Array(outputs.byteLength);
    const live = view(outputs, bytes);
    live.steam = true;
    live.speed = 25;
    expect(toHex(bytes.subarray(0, 5))).toBe("02 00 00 FA 00");
    bytes[0] = 0x09;
    expect([live.rinse, live.steam, live.drain]).toEqual([true, false, true]);
    expect(() => {
      live.speed = 200;
    }).toThrow(ByterailError);
    expect(live.speed).toBe(25);
  });

  test("patch leaves a point as it is whose value is undefined", () => {
    const bytes = fromHex(written);
    patch(outputs, bytes, { preset: 11, steam: undefined, total: undefined } as object);
    expect(toHex(bytes)).toBe(written.replace("0C", "0B"));
    patch(outputs, bytes, { preset: undefined } as object);
    expect(toHex(bytes)).toBe(written.replace("0C", "0B"));
  });

  test("a view lists its points, in image order", () => {
    const live = view(outputs, fromHex(written));
    const seen: [string, AnyValue][] = [];
    for (const name in live) seen.push([name, live[name as keyof typeof live]]);
    expect(seen).toEqual(Object.entries(given));
  });

  test("views of one layout keep to their own bytes, at any offset", () => {
    const memory = new Uint8Array(2 * outputs.byteLength + 1);
    const [one, other] = [1, 1 + outputs.byteLength].map((start) =>
      view(outputs, memory.subarray(start, start + outputs.byteLength)),
    );
    one!.preset = 11;
    other!.preset = 19;
    expect([one!.preset, other!.preset, memory[0], memory[6], memory[6 + outputs.byteLength]]).toEqual([
      11, 19, 0, 11, 19,
    ]);
  });

  test("a handle reads and writes one point", () => {
    const bytes = frame.slice();
    const tank = pointHandle(inputs, "tank");
    expect(tank.read(bytes)).toBe(0xabc);
    tank.write(bytes, 0x123);
    expect(toHex(bytes.subarray(6, 8))).toBe("12 35");
    expect(codesOf(() => tank.write(bytes, 4096))).toEqual(["value.range"]);
    expect(codesOf(() => pointHandle(inputs, "nothing" as "tank"))).toEqual(["value.unknown"]);
  });
});

describe("diff", () => {
  const changed = (change: Partial<typeof values>) => patch(inputs, frame.slice(), change);

  test("of equal frames is empty", () => expect(diff(inputs, frame, frame.slice())).toEqual([]));

  test("lists what changed in image order, with both values", () => {
    expect(diff(inputs, frame, changed({ open: false, supply: 6 }))).toEqual([
      { name: "supply", module: "sensors", before: 5, after: 6 },
      { name: "open", module: "clock", before: true, after: false },
    ]);
  });

  test("a change of the deadband or less is none; the caller may say another", () => {
    expect(diff(inputs, frame, changed({ causticTemp: 85.5 }))).toEqual([]);
    expect(diff(inputs, frame, changed({ causticTemp: 85.6 }))).toHaveLength(1);
    expect(diff(inputs, frame, changed({ causticTemp: 85.1 }), { deadband: { causticTemp: 0 } })).toHaveLength(1);
    expect(diff(inputs, frame, changed({ supply: 5.5 }), { deadband: { supply: 1 } })).toEqual([]);
  });

  test("any change of bits counts where no deadband is: −0 is not 0", () => {
    const meter = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "meter", inputs: [{ name: "flow", type: "float32" }] }],
    }).inputs;
    const [zero, minusZero] = [fromHex("00 00 00 00"), fromHex("80 00 00 00")];
    const change = [{ name: "flow", module: "meter", before: 0, after: -0 }];
    expect(diff(meter, zero, minusZero)).toEqual(change);
    expect(diff(meter, zero, minusZero, { deadband: { flow: 0 } })).toEqual(change);
    expect(diff(meter, zero, minusZero, { deadband: { flow: 0.1 } })).toEqual([]);
  });

  test.each([
    ["the first byte", [0]],
    ["the last byte", [16]],
    ["every byte", frame.map((_, k) => k)],
  ])("of frames that differ in %s", (_, bytes) => {
    const other = frame.slice();
    for (const k of bytes) other[k]! ^= 0xff;
    const [before, after] = [decodeRaw(inputs, frame), decodeRaw(inputs, other)] as Record<string, unknown>[];
    const changes = diff(inputs, frame, other).map(({ name }) => name);
    expect(changes).toEqual(Object.keys(before!).filter((name) => before![name] !== after![name]));
    expect(changes).not.toEqual([]);
  });

  test("spare bytes are no change", () => {
    const noisy = frame.slice();
    noisy[4] = 0xff;
    expect(diff(inputs, frame, noisy)).toEqual([]);
  });
});

describe("inspect", () => {
  test("lists counts, signal, value, unit and health of every point", () => {
    const [causticTemp, supply] = inspect(inputs, frame);
    expect(causticTemp).toEqual({
      ...{ name: "causticTemp", title: "Caustic", module: "sensors", slot: 2, byte: 0, bit: null },
      ...{ raw: 850, signal: null, signalUnit: null, value: 85, unit: "°C", health: "none" },
    });
    expect(supply).toMatchObject({ raw: 12000, signal: 12, signalUnit: "mA", value: 5, unit: "bar", health: "ok" });
    expect(inspect(inputs, frame).map(({ name }) => name)).toEqual([
      "causticTemp",
      "supply",
      "fault",
      "tank",
      "ticks",
      "open",
    ]);
  });

  test("a BCD pattern that is no number is invalid, and its raw text is kept", () => {
    const wheel = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "wheel", inputs: [{ name: "preset", type: "uint8", code: "bcd" }] }],
    }).inputs;
    expect(inspect(wheel, fromHex("1A"))[0]).toMatchObject({ raw: "16#1A", value: Number.NaN, health: "invalid" });
    expect(inspect(wheel, fromHex("19"))[0]).toMatchObject({ raw: 19, value: 19, health: "ok" });
  });

  test("a real that is no number is invalid", () => {
    const meter = assemble({
      ...{ format: 1, name: "rig", byteOrder: "big" },
      modules: [{ name: "meter", inputs: [{ name: "flow", type: "float32" }] }],
    }).inputs;
    expect(inspect(meter, fromHex("7F C0 00 00"))[0]!.health).toBe("invalid");
  });
});

describe("text", () => {
  test("a hex dump shows every byte with what it says", () => {
    expect(hexdump(inputs, frame).split("\n")).toEqual([
      "0       52 03                    causticTemp  85 °C",
      "2       E0 2E                    supply       5 bar",
      "4       00 00                                 spare",
      "6:0     AB C5                    fault        true",
      "6:4-15  AB C5                    tank         2748",
      "8       FE FF FF FF FF FF FF FF  ticks        -2",
      "16.0    01                       open         true",
    ]);
    expect(hexdump(outputs, fromHex(written))).toMatch(/^1 +00 00 +unused, reserve$/m);
  });

  test("a hex dump marks a point that is not well", () => {
    const broken = patchRaw(inputs, frame.slice(), { supply: 3500 });
    expect(hexdump(inputs, broken)).toMatch(/supply +-0\.3125 bar +failedLow/);
  });

  test("hex is read with any white space and bars, in either case, and written one way", () => {
    expect(toHex(fromHex(" 01f4|00\n0A\t"))).toBe("01 F4 00 0A");
    expect(fromHex("")).toEqual(new Uint8Array());
    for (const text of ["0", "01 F", "0x01", "G0", "01,02"])
      expect([text, ...codesOf(() => fromHex(text))]).toEqual([text, "hex.syntax"]);
  });
});

describe("registers", () => {
  test.each([[-1], [65536], [1.5], [Number.NaN]])("%f is no register", (word) =>
    expect(codesOf(() => fromRegisters([0, word]))).toEqual(["register.range"]),
  );

  test("all bad registers are reported at once", () => {
    expect(problemsOf(() => fromRegisters([-1, 0, 70000])).map(({ path }) => path)).toEqual([
      "registers[0]",
      "registers[2]",
    ]);
  });

  test("a wrong number of them is an error", () => {
    expect(codesOf(() => fromRegisters([1, 2], "first", 5))).toEqual(["register.count"]);
    expect(codesOf(() => fromRegisters([1, 2, 3], "first", 4))).toEqual(["register.count"]);
  });

  test("there and back", () => expect(fromRegisters(toRegisters(frame), "first", frame.length)).toEqual(frame));
});

describe("a station read from a file", () => {
  test("has values by any name", () => {
    const read: Record<string, AnyValue> = decode(
      assemble(JSON.parse(JSON.stringify({ format: 1, name: "rig", byteOrder: "big", modules: [] }))).inputs,
      new Uint8Array(),
    );
    expect(read).toEqual({});
  });

  test("a layout survives structured cloning and JSON as plain data", () => {
    expect(decode(structuredClone(inputs), frame)).toEqual(values);
    expect(decode(JSON.parse(JSON.stringify(inputs)) as typeof inputs, frame)).toEqual(values);
  });
});

/** The frame with its spare bits 0: bits 1–3 of the level's status are declared nowhere. */
function masked(bytes: Uint8Array): Uint8Array {
  const copy = bytes.slice();
  copy[7]! &= 0xf1;
  return copy;
}
