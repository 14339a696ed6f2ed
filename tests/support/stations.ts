// Random valid stations: every kind of entry, code, scale, order and placement rule that a description can have.
// Whatever comes out of `stations()` assembles without a problem.

import type {
  BitPoint,
  CountsCode,
  Direction,
  Entry,
  Field,
  Module,
  NumberBase,
  NumberField,
  NumberPoint,
  NumberType,
  PackedWord,
  Placement,
  Scale,
  Span,
  Station,
} from "byterail";
import fc from "fast-check";

const byteOrder = fc.constantFrom("big" as const, "little" as const);
const wordOrder = fc.constantFrom("highFirst" as const, "lowFirst" as const);
const bitOrder = fc.constantFrom("lsbFirst" as const, "msbFirst" as const);
const integerTypes = [8, 16, 24, 32, 64].flatMap((bits) => [`int${bits}`, `uint${bits}`]) as NumberType[];
const numberTypes: NumberType[] = [...integerTypes, "float32", "float64"];

/** No module is longer than this, in bytes, so that pins at multiples of it never overlap. */
const longestModule = 64;

/** A random valid station. */
export function stations(): fc.Arbitrary<Station> {
  const placement = some<NonNullable<Station["placement"]>>({ inputs: placements(), outputs: placements() });
  const plugged = fc.array(modules(), { maxLength: 6 });
  return some<Omit<Station, "modules"> & { modules: Nameless[] }>(
    { format: fc.constant(1), name: fc.constant("station"), byteOrder, wordOrder, placement, modules: plugged },
    ["format", "name", "byteOrder", "modules"],
  ).map((station) => ({ ...station, modules: fitted(named(station.modules), station.placement ?? {}) }));
}

function placements(): fc.Arbitrary<Placement> {
  return some<Placement>({
    order: fc.constantFrom("slot" as const, "wordsFirst" as const),
    packing: fc.constantFrom("byte" as const, "bit" as const),
    alignment: fc.constantFrom(1 as const, 2 as const, 4 as const),
    bitOrder,
    lengthMultiple: fc.constantFrom(1 as const, 2 as const, 4 as const, 8 as const),
  });
}

// Names are given afterwards, so an entry is made without one.
type Nameless = Omit<Module, "name">;

function modules(): fc.Arbitrary<Nameless> {
  return some<Nameless>({
    inputs: entries("inputs"),
    outputs: entries("outputs"),
    inputBytes: fc.constantFrom(48, 50, 55),
    outputBytes: fc.constantFrom(48, 49, 51),
    // Kept or dropped in `fitted`, by what the placement allows.
    inputOffset: fc.constant(0),
    outputOffset: fc.constant(0),
    bitOrder,
    byteOrder,
    wordOrder,
    group: fc.constantFrom("bits" as const, "words" as const),
  });
}

function entries(direction: Direction): fc.Arbitrary<Entry[]> {
  const bits = fc.array(fc.oneof({ weight: 6, arbitrary: bitPoints(direction) }, spareBits()), { maxLength: 20 });
  const numbers = fc.array(
    fc.oneof(
      bitPoints(direction),
      { weight: 4, arbitrary: numberPoints(direction) },
      { weight: 3, arbitrary: packedWords(direction, [8, 16, 24, 32, 40, 48, 64]) },
      spareBits(),
      spareBytes(),
    ),
    { maxLength: 5 },
  );
  const wide = packedWords(direction, [72, 128, 256]).map((word) => [word]);
  return fc.oneof(
    { weight: 3, arbitrary: bits },
    { weight: 5, arbitrary: numbers },
    { weight: 1, arbitrary: wide },
  ) as fc.Arbitrary<Entry[]>;
}

function spareBits() {
  return fc.record({ spareBits: fc.integer({ min: 1, max: 9 }) });
}

function spareBytes() {
  return fc.record({ spare: fc.integer({ min: 1, max: 3 }) });
}

function bitPoints(direction: Direction): fc.Arbitrary<BitPoint> {
  const lost = fc.constantFrom("off" as const, "hold" as const, true, false);
  const more = direction === "outputs" ? { onNetworkLoss: lost } : {};
  return some({ name: unnamed, type: fc.constant("bit"), ...more }, ["name", "type"]);
}

function numberPoints(direction: Direction): fc.Arbitrary<NumberPoint> {
  return fc.constantFrom(...numberTypes).chain((type) => {
    const bits = Number(/\d+/.exec(type)![0]);
    const real = type.startsWith("float");
    const codes: CountsCode[] = real ? [] : type.startsWith("u") ? ["bcd"] : ["offsetBinary", "signMagnitude"];
    const words = bits === 32 || bits === 64 ? { wordOrder } : {};
    return maybeCode(codes).chain((code) =>
      some<NumberPoint>(
        {
          name: unnamed,
          type: fc.constant(type),
          ...(code && { code: fc.constant(code) }),
          byteOrder,
          ...words,
          ...numberKeys(direction, real ? null : countsRange(code, type.startsWith("u"), bits), bits),
        },
        ["name", "type", ...(code ? ["code"] : [])],
      ),
    );
  });
}

// Fields are laid from bit 0 up with random gaps, so that none overlaps and all stay inside.
function packedWords(direction: Direction, widths: readonly number[]): fc.Arbitrary<PackedWord> {
  const part = fc.record({
    gap: fc.integer({ min: 0, max: 3 }),
    bits: fc.integer({ min: 1, max: 64 }),
    flag: fc.boolean(),
  });
  return fc
    .record({ word: fc.constantFrom(...widths), parts: fc.array(part, { maxLength: 8 }) })
    .chain(({ word, parts }) => {
      let next = 0;
      const fields = parts.flatMap(({ gap, bits: wanted, flag }) => {
        const shift = next + gap;
        const bits = flag ? 1 : Math.min(wanted, word - shift);
        if (bits < 1 || shift >= word) return [];
        next = shift + bits;
        return [flag ? flagFields(shift) : numberFields(direction, bits, shift)];
      });
      const orders = word >= 32 && word % 16 === 0 ? { byteOrder, wordOrder } : { byteOrder };
      return some<PackedWord>({ word: fc.constant(word), fields: fc.tuple(...fields), ...orders }, ["word", "fields"]);
    });
}

function flagFields(bit: number): fc.Arbitrary<Field> {
  return fc.constant({ name: "", bit });
}

function numberFields(direction: Direction, bits: number, shift: number): fc.Arbitrary<Field> {
  const plain = fc
    .constantFrom({}, { signed: false }, { signed: true })
    .map((sign: Pick<NumberField, "signed">) => ({ sign, range: countsRange(undefined, !sign.signed, bits) }));
  const coded = fc
    .constantFrom<CountsCode>("offsetBinary", "signMagnitude", "bcd")
    .map((code) => ({ sign: { code }, range: countsRange(code, true, bits) }));
  return fc
    .oneof({ weight: 3, arbitrary: plain }, coded)
    .chain(({ sign, range }) =>
      some<NumberBase>(numberKeys(direction, range, bits)).map((keys) => ({ ...keys, name: "", bits, shift, ...sign })),
    );
}

function maybeCode(codes: readonly CountsCode[]): fc.Arbitrary<CountsCode | undefined> {
  return codes.length === 0 ? fc.constant(undefined) : fc.constantFrom(undefined, undefined, ...codes);
}

// Keys of any number. Wide integers have neither scale nor limits here; a unit belongs to what has no scale.
function numberKeys(direction: Direction, counts: Span | null, bits: number): Keys {
  const lost = direction === "outputs" ? { onNetworkLoss: fc.constantFrom("off" as const, "hold" as const, 0) } : {};
  const deadband = fc.constantFrom(0, 0.5, 2);
  if (counts && bits <= 32 && counts[1] - counts[0] >= 4) return { ...lost, deadband, scale: scales(counts) };
  const limits = fc.constant<Span>([0, 1]);
  return { ...lost, deadband, unit: fc.constantFrom("L/h", "%"), ...(bits <= 32 && { limits }) };
}

/** The smallest and the largest counts of an integer. */
function countsRange(code: CountsCode | undefined, unsigned: boolean, bits: number): Span {
  if (code === "bcd") return [0, bits % 4 === 0 ? 10 ** (bits / 4) - 1 : 10 ** Math.floor(bits / 4) - 1];
  if (code === "signMagnitude") return [1 - 2 ** (bits - 1), 2 ** (bits - 1) - 1];
  if (unsigned && code === undefined) return [0, 2 ** bits - 1];
  return [-(2 ** (bits - 1)), 2 ** (bits - 1) - 1];
}

/** A random scale over counts inside a range: linear, square root or piecewise, rising or falling. */
export function scales([min, max]: Span): fc.Arbitrary<Scale> {
  const counts = fc.uniqueArray(fc.integer({ min, max }), {
    minLength: 2,
    maxLength: 2,
  }) as unknown as fc.Arbitrary<Span>;
  const signal = fc.constantFrom<Pick<Scale, "signal" | "signalUnit">>(
    {},
    { signal: [4, 20], signalUnit: "mA" },
    { signal: [10, 0], signalUnit: "V" },
  );
  const line = fc.record({ counts, value: valueSpans(), unit: fc.constantFrom("bar", "°C") });
  const linear = fc.tuple(line, signal).map(([ends, more]) => ({ ...ends, ...more }));
  const root = line.map((ends) => ({ ...ends, shape: "squareRoot" as const }));
  return fc.oneof({ weight: 4, arbitrary: linear }, root, curves([min, max]));
}

/** Two different values with at most three decimals. */
export function valueSpans(): fc.Arbitrary<Span> {
  return fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: -10_000, max: 10_000 }), { minLength: 2, maxLength: 2 }),
      fc.integer({ min: 0, max: 3 }),
    )
    .map(([ends, decimals]) => ends.map((n) => Number(`${n}e-${decimals}`)) as unknown as Span);
}

/** Points of a piecewise linear characteristic, rising or falling. */
export function curves([min, max]: Span): fc.Arbitrary<{ readonly points: readonly Span[] }> {
  const axis = (from: number, to: number, size: number) =>
    fc
      .uniqueArray(fc.integer({ min: from, max: to }), { minLength: size, maxLength: size })
      .map((list) => list.sort((a, b) => a - b));
  return fc.integer({ min: 2, max: 4 }).chain((size) =>
    fc.tuple(axis(min, max, size), axis(-1000, 1000, size), fc.boolean()).map(([counts, values, falls]) => {
      const ordered = falls ? [...values].reverse() : values;
      return { points: counts.map((n, k): Span => [n, ordered[k]!]) };
    }),
  );
}

const unnamed = fc.constant("");

type Keys = Readonly<Record<string, fc.Arbitrary<unknown>>>;

// A record that has the required keys and any of the others; T tells its type.
function some<T>(keys: Keys, required: readonly string[] = []): fc.Arbitrary<T> {
  return fc.record(keys, { requiredKeys: [...required] }) as fc.Arbitrary<T>;
}

// Names m0, m1 … for modules; i0, i1 … and o0, o1 … for points.
function named(plugged: readonly Nameless[]): Module[] {
  const next = { inputs: 0, outputs: 0 };
  const rename = (entry: Entry, direction: Direction): Entry => {
    const name = () => `${direction[0]}${next[direction]++}`;
    if ("fields" in entry) return { ...entry, fields: entry.fields.map((field) => ({ ...field, name: name() })) };
    return "name" in entry ? { ...entry, name: name() } : entry;
  };
  return plugged.map((module, k) => ({
    ...module,
    name: `m${k}`,
    ...(module.inputs && { inputs: module.inputs.map((entry) => rename(entry, "inputs")) }),
    ...(module.outputs && { outputs: module.outputs.map((entry) => rename(entry, "outputs")) }),
  }));
}

// Takes away what the placement would refuse: bit orders that meet in one byte, pins and reserves that do not fit.
function fitted(plugged: readonly Module[], rules: NonNullable<Station["placement"]>): Module[] {
  return plugged.map((module, k) => {
    const { bitOrder: own, inputOffset, outputOffset, ...rest } = module;
    const pin = k * longestModule;
    return {
      ...rest,
      ...(own && rules.inputs?.packing !== "bit" && rules.outputs?.packing !== "bit" && { bitOrder: own }),
      ...(inputOffset !== undefined && rules.inputs?.order !== "wordsFirst" && { inputOffset: pin }),
      ...(outputOffset !== undefined && rules.outputs?.order !== "wordsFirst" && { outputOffset: pin }),
    };
  });
}
