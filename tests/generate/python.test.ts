import { generate } from "@byterail/generate";
import {
  type AnyValue,
  assemble,
  decode,
  decodeRaw,
  encode,
  encodeRaw,
  type ImageLayout,
  type Layout,
  type Station,
} from "byterail";
import { inspect } from "byterail/map";
import { toHex } from "byterail/frames";
import { describe, expect } from "vitest";
import { stationsToCompare } from "../support/nightly.js";
import { problemsOf } from "../support/problems.js";
import { testWith } from "../support/tool.js";
import { hostileLayouts } from "./support/hostile.js";
import { chunks, inFolder, output, together } from "./support/programs.js";
import { frameOf, randomFrom, richLayouts, valuesOf } from "./support/stations.js";
import { hasRealValue, kindToken } from "./support/tokens.js";

const python = testWith("python3");

// Reads one case a line and prints one line for it; `struct` serves only to compare doubles bit by bit.
const driver = `
import importlib, json, math, struct, sys

def token(value):
    if isinstance(value, bool): return f"b:{int(value)}"
    if isinstance(value, str): return f"s:{value}"
    if isinstance(value, int): return f"i:{value}"
    return "f:nan" if math.isnan(value) else "f:" + struct.pack(">d", value).hex()

def value(token):
    kind, text = token.split(":", 1)
    if kind == "b": return text == "1"
    if kind == "i": return int(text)
    if kind == "f": return math.nan if text == "nan" else struct.unpack(">d", bytes.fromhex(text))[0]
    return text

def told(action):
    try:
        return action()
    except module.ImageError as error:
        return [f"{problem.code} {problem.path}" for problem in error.problems]

for line in sys.stdin:
    case = json.loads(line)
    module = importlib.import_module(case["module"])
    way = case["direction"]
    of = lambda name: getattr(module, name.replace("*", way))
    if "frame" in case:
        frame = bytes.fromhex(case["frame"])
        raw = of("decode_*_raw")(frame)
        print(json.dumps({
            "values": [token(item) for item in vars(of("decode_*")(frame)).values()],
            "raw": [token(item) for item in raw.values()],
            "health": list(of("*_health")(frame).values()),
            "back": of("encode_*_raw")(raw).hex(),
        }))
    else:
        values = [value(text) for text in case["values"]]
        print(json.dumps(told(lambda: of("encode_*")(of(way.capitalize())(*values)).hex())))
`;

const stationCount = stationsToCompare(200);
const stationsPerProgram = 100;
const framesEach = 4;
const encodesEach = 4;

interface Case {
  readonly image: ImageLayout;
  readonly line: string;
  readonly expected: unknown;
}

describe("Python agrees with the core", () => {
  python(
    `on ${2 * stationCount * framesEach} random frames of ${stationCount} random stations`,
    async ({ task }) => {
      const random = randomFrom(7);
      const layouts = richLayouts(stationCount, 7);
      const count = { refused: 0, accepted: 0 };
      await together(chunks(layouts, stationsPerProgram), 2, async (part) => {
        const files = part.flatMap((layout) => generate(layout, ["python"]).files);
        const cases = part.flatMap((layout) => casesOf(layout, random));
        const text = cases.map(({ line }) => `${line}\n`).join("");
        const lines = await inFolder([...files, { path: "driver.py", text: driver }], (folder) =>
          output(folder, "python3", ["-B", "-W", "error", "driver.py"], text),
        );
        const answers = lines.trimEnd().split("\n");
        expect(answers).toHaveLength(cases.length);
        for (const [k, { line, expected }] of cases.entries()) {
          expect({ line, answer: JSON.parse(answers[k]!) }).toEqual({ line, answer: expected });
          if (Array.isArray(expected)) count.refused++;
          else count.accepted++;
        }
      });
      task.meta.compared = { stations: stationCount, cases: count.refused + count.accepted };
      expect(count.refused).toBeGreaterThan(200);
      expect(count.accepted).toBeGreaterThan(2000);
    },
    500 * stationCount,
  );

  python("about values of every wrong kind", async () => {
    const { inputs } = assemble(meters);
    const kinds = [
      ["true", "value.type"],
      ["'5'", "value.type"],
      ["None", "value.type"],
      ["math.nan", "value.type"],
      ["math.inf", "value.type"],
      ["10 ** 400", "value.type"],
    ] as const;
    const good = { on: "True", flow: "5", level: "50.0", total: "7", torque: "1.0" };
    const cases = [
      ...kinds.flatMap(([value, code]) =>
        ["flow", "level", "torque"].map((name) => [name, value.replace("true", "True"), code]),
      ),
      ["on", "1", "value.type"],
      ["on", "None", "value.type"],
      ["flow", "1.5", "value.range"],
      ["flow", "65536", "value.range"],
      ["flow", "-1", "value.range"],
      ["flow", "5.0", "ok"],
      ["level", "6999", "value.range"],
      ["level", "50", "ok"],
      ["total", "7.0", "value.type"],
      ["total", "2 ** 64", "value.range"],
      ["total", "11", "ok"],
      ["torque", "3.5e38", "value.range"],
      ["torque", "True", "value.type"],
    ] as const;
    expect(inputs.points.map(({ name }) => name)).toEqual(Object.keys(good));
    const script = [
      "import math",
      "from meters import ImageError, Inputs, decode_inputs, encode_inputs, encode_inputs_raw, patch_inputs",
      "def code(action):",
      "    try: action()",
      "    except ImageError as error: return ' '.join(f'{p.code} {p.path}' for p in error.problems)",
      "    return 'ok'",
      ...cases.map(([name, value]) => {
        const values = Object.entries({ ...good, [name!]: value }).map(([key, text]) => `${key}=${text}`);
        return `print(code(lambda: encode_inputs(Inputs(${values.join(", ")}))))`;
      }),
      "image = bytearray(17)",
      "print(code(lambda: decode_inputs(image[1:])))",
      "print(code(lambda: patch_inputs(image, {'flow': 1, 'level': -1.0, 'flaw': 2, 'total': 1.5})), any(image))",
      "patch_inputs(image, {'flow': 258})",
      "print(image.hex())",
      "print(code(lambda: encode_inputs_raw({'flow': 1, 'x': 2})))",
    ].join("\n");
    const files = [...generate(assemble(meters), ["python"]).files, { path: "script.py", text: script }];
    const lines = await inFolder(files, (folder) => output(folder, "python3", ["-B", "-W", "error", "script.py"]));
    expect(lines.trimEnd().split("\n")).toEqual([
      ...cases.map(([name, , wanted]) => (wanted === "ok" ? "ok" : `${wanted} ${name}`)),
      "image.length image",
      "value.unknown 'flaw' value.limits level value.type total False",
      `000102${"00".repeat(14)}`,
      "value.unknown 'x' value.missing on value.missing level value.missing total value.missing torque",
    ]);
  });
});

python("a value is a float wherever there is a scale, also where it is the counts as they stand", async () => {
  const scales = {
    volts: { counts: [0, 10], signal: [0, 10], signalUnit: "V" },
    curve: {
      points: [
        [0, 0],
        [10, 10],
        [20, 30],
      ],
    },
    root: { counts: [0, 1], value: [0, 1], shape: "squareRoot" },
  };
  const station = {
    format: 1,
    name: "rig",
    byteOrder: "big",
    modules: [{ name: "m", inputs: Object.entries(scales).map(([name, scale]) => ({ name, type: "uint8", scale })) }],
  } as unknown as Station;
  const script = 'from rig import decode_inputs\nprint(decode_inputs(b"\\x04\\x04\\x04"))';
  const files = [...generate(assemble(station), ["python"]).files, { path: "script.py", text: script }];
  const line = await inFolder(files, (folder) => output(folder, "python3", ["-B", "-W", "error", "script.py"]));
  expect(line).toBe("Inputs(volts=4.0, curve=4.0, root=2.0)\n");
});

describe("hostile descriptions", () => {
  python("compile and import without a warning, run nothing, and tell which names they changed", async () => {
    const layouts = hostileLayouts();
    const made = layouts.map((layout) => generate(layout, ["python"]));
    const files = made.flatMap(({ files }) => files);
    const names = files.map(({ path }) => path);
    const imports = names.map((name) => `import ${name.replace(/\.py$/, "")}`);
    await inFolder(
      [...files, { path: "driver.py", text: `${imports.join("\n")}\nprint("done")\n` }],
      async (folder) => {
        await output(folder, "python3", ["-W", "error", "-m", "py_compile", ...names]);
        expect(await output(folder, "python3", ["-B", "-W", "error", "driver.py"])).toBe("done\n");
      },
    );
    const changed = made.flatMap(({ notes }) => notes.map(({ path, message }) => `${path} ${message}`));
    expect(changed).toContain("inputs › class is called class_ in Python");
    expect(changed).toContain("station › string is called string_station in Python");
    expect(changed).not.toContain("inputs › Volatile is called Volatile_ in Python");
  });
});

function casesOf(layout: Layout, random: () => number): Case[] {
  return [layout.inputs, layout.outputs].flatMap((image) => [
    ...Array.from({ length: framesEach }, () => decodeCase(layout, image, frameOf(image, random))),
    ...Array.from({ length: encodesEach }, () => encodeCase(layout, image, valuesOf(image, random))),
  ]);
}

function decodeCase({ station }: Layout, image: ImageLayout, frame: Uint8Array): Case {
  const { direction, points } = image;
  const values = decode(image, frame);
  const raw = decodeRaw(image, frame);
  return {
    image,
    line: JSON.stringify({ module: station.name, direction, frame: Buffer.from(frame).toString("hex") }),
    expected: {
      values: points.map((point) => kindToken(values[point.name]!, hasRealValue(point))),
      raw: points.map(({ name }) => kindToken(raw[name]!, false)),
      health: inspect(image, frame).map(({ health }) => health),
      back: hex(encodeRaw(image, raw)),
    },
  };
}

function encodeCase({ station }: Layout, image: ImageLayout, values: Record<string, AnyValue>): Case {
  const { direction, points } = image;
  const problems = problemsOf(() => encode(image, values));
  const tokens = points.map((point) => kindToken(values[point.name]!, hasRealValue(point)));
  return {
    image,
    line: JSON.stringify({ module: station.name, direction, values: tokens }),
    expected: problems.length > 0 ? problems.map(({ code, path }) => `${code} ${path}`) : hex(encode(image, values)),
  };
}

function hex(bytes: Uint8Array): string {
  return toHex(bytes).replaceAll(" ", "").toLowerCase();
}

const meters: Station = {
  format: 1,
  name: "meters",
  byteOrder: "big",
  modules: [
    {
      name: "meters",
      inputs: [
        { name: "on", type: "bit" },
        { name: "flow", type: "uint16" },
        { name: "level", type: "uint16", scale: { counts: [0, 1000], value: [0, 100] }, limits: [0, 7000] },
        { name: "total", type: "uint64" },
        { name: "torque", type: "float32" },
      ],
    },
  ],
};
