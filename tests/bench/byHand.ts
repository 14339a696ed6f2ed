/**
 * The limit: the code that somebody who knows both the station and JavaScript well would write for it by hand. Byte shifts
 * on the `Uint8Array`, every offset and factor a literal, nothing looked up. 354 values are a lot of typing, so this script
 * writes the code out; what runs is its output, a plain unrolled module without a generic part (`.cache/bench/byHand*.mjs`,
 * worth a look). It places and scales on its own, from the description alone, so that equal results also mean something.
 */
import type { Entry, NumberField, NumberPoint, Scale, Station } from "byterail";

/** What the module of a workload exports. */
export interface ByHand {
  readonly decode: (bytes: Uint8Array) => Record<string, boolean | number>;
  readonly decodeByModule: (bytes: Uint8Array) => Record<string, Record<string, boolean | number>>;
  readonly encode: (values: object) => Uint8Array;
  readonly encodeInto: (bytes: Uint8Array, values: object) => Uint8Array;
  /** One pass over the frames that fills all columns; one pass for each column. */
  readonly columns: (frames: Uint8Array, count: number) => Record<string, ArrayLike<number>>;
  readonly columnsByPoint: (frames: Uint8Array, count: number) => Record<string, ArrayLike<number>>;
  readonly equal: (one: Uint8Array, other: Uint8Array) => boolean;
  /** Reads and writes one point, by name: `read.level(bytes)`. */
  readonly read: Readonly<Record<string, (bytes: Uint8Array) => boolean | number>>;
  readonly write: Readonly<Record<string, (bytes: Uint8Array, value: never) => void>>;
}

/** One value as its writer sees it in the manual of the module. */
export interface Value {
  readonly name: string;
  readonly module: string;
  readonly kind: "boolean" | "integer" | "real";
  /** Bytes that hold it, least significant first. */
  readonly run: readonly number[];
  readonly shift: number;
  readonly bits: number;
  readonly signed: boolean;
  /** value = (a·counts + b) / c, in lowest terms. */
  readonly line: { readonly a: number; readonly b: number; readonly c: number } | null;
}

/** The text of the module. */
export function byHandSource(station: Station): string {
  const values = valuesOf(station);
  const length = Math.max(...values.flatMap(({ run }) => run)) + 1;
  const names = values.map(({ name }) => name);
  const modules = [...new Set(values.map(({ module }) => module))];
  const inModule = (module: string) => values.filter((value) => value.module === module);
  const entries = (list: readonly Value[], pad: string) =>
    list.map((value) => `${pad}${value.name}: ${valueText(value, "bytes", "")},`);
  return [
    "const real = new Float32Array(1);",
    "const word = new Int32Array(real.buffer);",
    "function float32(bits) { word[0] = bits; return real[0]; }",
    "function bitsOf(value) { real[0] = value; return word[0]; }",
    "// Adding 1.5 · 2^52 leaves no room for a fraction: the sum is rounded, ties to even.",
    "function nearest(x) { return x + 6755399441055744 - 6755399441055744; }",
    "function refused(problems, name, value) {",
    "  const list = problems ?? [];",
    '  list.push(name + " must not be " + value);',
    "  return list;",
    "}",
    "",
    "export function decode(bytes) {",
    ...heads(values, "bytes", ""),
    ...["  return {", ...entries(values, "    "), "  };", "}", ""],
    "export function decodeByModule(bytes) {",
    ...heads(values, "bytes", ""),
    "  return {",
    ...modules.flatMap((module) => [`    ${module}: {`, ...entries(inModule(module), "      "), "    },"]),
    ...["  };", "}", ""],
    `export function encode(values) { return encodeInto(new Uint8Array(${length}), values); }`,
    "",
    "export function encodeInto(bytes, values) {",
    "  let problems = null;",
    ...values.flatMap((value) => checkText(value, `values.${value.name}`, value.name)),
    "  if (problems) throw new RangeError(problems.join());",
    ...writeText(values, length),
    ...["  return bytes;", "}", ""],
    "export function columns(frames, count) {",
    ...values.map((value) => `  const ${value.name} = new ${arrayOf(value)}(count);`),
    `  for (let k = 0, at = 0; k < count; k++, at += ${length}) {`,
    ...heads(values, "frames", "at + ").map((line) => `  ${line}`),
    ...values.map((value) => `    ${value.name}[k] = ${numberText(value, "frames", "at + ")};`),
    ...["  }", `  return { ${names.join(", ")} };`, "}", ""],
    "export function columnsByPoint(frames, count) {",
    ...values.flatMap((value) => [
      `  const ${value.name} = new ${arrayOf(value)}(count);`,
      `  for (let k = 0, at = 0; k < count; k++, at += ${length}) ${value.name}[k] = ${numberText(value, "frames", "at + ", false)};`,
    ]),
    ...[`  return { ${names.join(", ")} };`, "}", ""],
    "export function equal(one, other) {",
    `  for (let k = 0; k < ${length}; k++) if (one[k] !== other[k]) return false;`,
    ...["  return true;", "}", ""],
    "export const read = {",
    ...values.map((value) => `  ${value.name}(bytes) { return ${valueText(value, "bytes", "", false)}; },`),
    ...["};", "", "export const write = {"],
    ...values.flatMap((value) => [
      `  ${value.name}(bytes, value) {`,
      "    let problems = null;",
      ...checkText(value, "value", "value").map((line) => `  ${line}`),
      "    if (problems) throw new RangeError(problems.join());",
      ...patchText(value).map((line) => `    ${line}`),
      "  },",
    ]),
    "};",
    "",
  ].join("\n");
}

// A byte of eight bits and a packed word are read once, into a variable.
function heads(values: readonly Value[], bytes: string, at: string): string[] {
  const lines = values
    .filter(({ kind, shift, bits, run }) => kind === "boolean" || shift > 0 || bits < 8 * run.length)
    .map(({ run }) => `  const ${headName(run)} = ${wordText(run, bytes, at)};`);
  return [...new Set(lines)];
}

function headName(run: readonly number[]): string {
  return `at${Math.min(...run)}`;
}

function wordText(run: readonly number[], bytes: string, at: string): string {
  return run
    .map((position, k) => `${bytes}[${at}${position}]${k ? ` << ${8 * k}` : ""}`)
    .reverse()
    .join(" | ");
}

function countsText({ kind, run, shift, bits, signed }: Value, bytes: string, at: string, named: boolean): string {
  const part = kind === "boolean" || shift > 0 || bits < 8 * run.length;
  const text = part && named ? headName(run) : `(${wordText(run, bytes, at)})`;
  if (kind === "boolean") return `(${text} & ${2 ** shift})`;
  if (part) return `(${text} >> ${shift} & ${2 ** bits - 1})`;
  if (bits === 32) return signed ? text : `(${text} >>> 0)`;
  return signed ? `(${text} << ${32 - bits} >> ${32 - bits})` : text;
}

/** Value in engineering units. */
function valueText(value: Value, bytes: string, at: string, named = true): string {
  const counts = countsText(value, bytes, at, named);
  if (value.kind === "boolean") return `${counts} !== 0`;
  if (value.kind === "real") return `float32${counts}`;
  if (!value.line) return counts;
  const { a, b, c } = value.line;
  const sum = `${a === 1 ? "" : `${a} * `}${counts}${b === 0 ? "" : ` + ${b}`}`;
  return c === 1 ? sum : `(${sum}) / ${c}`;
}

function numberText(value: Value, bytes: string, at: string, named = true): string {
  if (value.kind !== "boolean") return valueText(value, bytes, at, named);
  return `${named ? headName(value.run) : `${bytes}[${at}${value.run[0]}]`} >> ${value.shift} & 1`;
}

// The checks that encode owes its caller: the type, the range after scaling; every offending value is reported.
function checkText({ name, kind, bits, signed, line }: Value, given: string, local: string): string[] {
  const bad = (condition: string) => `  if (${condition}) problems = refused(problems, "${name}", ${given});`;
  if (kind === "boolean") {
    const start = local === given ? [] : [`  const ${local} = ${given};`];
    return [...start, bad(`typeof ${local} !== "boolean"`)];
  }
  if (kind === "real")
    return [
      ...(local === given ? [] : [`  const ${local} = ${given};`]),
      bad(`typeof ${local} !== "number" || !(Math.abs(Math.fround(${local})) < Infinity)`),
    ];
  const { a, b, c } = line ?? { a: 1, b: 0, c: 1 };
  const product = `${given}${c === 1 ? "" : ` * ${c}`}`;
  const sum = b === 0 ? product : `(${product} - ${b})`;
  const [min, max] = signed ? [-(2 ** (bits - 1)), 2 ** (bits - 1) - 1] : [0, 2 ** bits - 1];
  const counts = `${local}Counts`;
  return [
    `  const ${counts} = nearest(${sum}${a === 1 ? "" : ` / ${a}`});`,
    bad(`typeof ${given} !== "number" || !(${counts} >= ${min} && ${counts} <= ${max})`),
  ];
}

// Every byte is put together from what it holds and written once.
function writeText(values: readonly Value[], length: number): string[] {
  const realBits = values
    .filter(({ kind }) => kind === "real")
    .map(({ name }) => `  const ${name}Bits = bitsOf(${name});`);
  const bytes = Array.from({ length }, (_, byte) => {
    const parts = values.flatMap((value) => {
      const k = value.run.indexOf(byte);
      if (k < 0) return [];
      if (value.kind === "boolean")
        return 8 * k === (value.shift & ~7) ? [`(${value.name} ? ${1 << (value.shift & 7)} : 0)`] : [];
      const by = 8 * k - value.shift;
      const pattern = value.kind === "real" ? `${value.name}Bits` : `${value.name}Counts`;
      return [by > 0 ? `${pattern} >> ${by}` : by < 0 ? `${pattern} << ${-by}` : pattern];
    });
    return `  bytes[${byte}] = ${parts.join(" | ")};`;
  });
  return [...realBits, ...bytes];
}

function patchText({ kind, run, shift, bits }: Value): string[] {
  if (kind === "boolean") {
    const byte = run[shift >> 3];
    const mask = 1 << (shift & 7);
    return [`if (value) bytes[${byte}] |= ${mask};`, `else bytes[${byte}] &= ${~mask & 255};`];
  }
  const pattern = kind === "real" ? "bits" : "valueCounts";
  const first = kind === "real" ? ["const bits = bitsOf(value);"] : [];
  return [
    ...first,
    ...run.map((position, k) => {
      const by = 8 * k - shift;
      const part = by > 0 ? `${pattern} >> ${by}` : by < 0 ? `${pattern} << ${-by}` : pattern;
      const mask = (((2 ** bits - 1) * 2 ** shift) / 2 ** (8 * k)) & 255;
      return `bytes[${position}] = ${mask === 255 ? part : `bytes[${position}] & ${~mask & 255} | ${part}`};`;
    }),
  ];
}

function arrayOf({ kind }: Value): string {
  return { boolean: "Uint8Array", real: "Float32Array", integer: "Float64Array" }[kind];
}

/** The values of a station of the simple kind that is measured here: no spares, pins or other rules of placement. */
export function valuesOf({ modules, byteOrder }: Station): Value[] {
  let bit = 0;
  const values = modules.flatMap((module) => {
    bit = 8 * Math.ceil(bit / 8);
    return (module.inputs ?? []).flatMap((entry): Value[] => {
      const order = ("byteOrder" in entry && entry.byteOrder) || byteOrder;
      const size = sizeOf(entry);
      if (size > 1) bit = 8 * Math.ceil(bit / 8);
      const start = bit >> 3;
      const run = Array.from({ length: Math.ceil(size / 8) }, (_, k) => start + k);
      if (order === "big") run.reverse();
      const shift = bit & 7;
      bit += size;
      const common = { module: module.name, run };
      if ("fields" in entry)
        return entry.fields.map((field) =>
          "bit" in field
            ? { ...common, name: field.name, kind: "boolean", shift: field.bit, bits: 1, signed: false, line: null }
            : { ...common, ...numeric(field), bits: field.bits, shift: field.shift, signed: false },
        );
      if (!("type" in entry)) throw new Error("a workload has no spares");
      if (entry.type === "bit")
        return [{ ...common, name: entry.name, kind: "boolean", shift, bits: 1, signed: false, line: null }];
      return [{ ...common, ...numeric(entry), bits: size, shift: 0, signed: entry.type.startsWith("i") }];
    });
  });
  return values;
}

function numeric(point: NumberPoint | NumberField): Pick<Value, "name" | "kind" | "line"> {
  const kind = "type" in point && point.type.startsWith("float") ? "real" : "integer";
  return { name: point.name, kind, line: point.scale ? lineOf(point.scale) : null };
}

function sizeOf(entry: Entry): number {
  if ("word" in entry) return entry.word;
  if (!("type" in entry)) return 0;
  return entry.type === "bit" ? 1 : Number(/\d+$/.exec(entry.type)?.[0]);
}

// The ends of the spans are whole numbers, so the slope is a fraction that can be shortened.
function lineOf({ counts = [0, 1], value = [0, 1] }: Scale): NonNullable<Value["line"]> {
  const run = counts[1] - counts[0];
  const rise = value[1] - value[0];
  const b = value[0] * run - rise * counts[0];
  const by = gcd(gcd(rise, b), run);
  return { a: rise / by, b: b / by, c: run / by };
}

function gcd(a: number, b: number): number {
  return b === 0 ? Math.abs(a) : gcd(b, a % b);
}
