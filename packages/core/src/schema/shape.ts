/**
 * The shape of a station description as data: which keys there are, which are required, what each may hold.
 * The checker of unknown input walks it and the JSON Schema is made from it, so the two cannot disagree.
 * What needs more than one key to judge (overlaps, ranges of a type, spans) is not shape; see `layout/`.
 */

/** What a value in the description may be. */
export type Shape =
  | { readonly is: "text" | "name" | "boolean" }
  | { readonly is: "number"; readonly min: number }
  | { readonly is: "integer"; readonly key: string }
  | { readonly is: "oneOf"; readonly values: readonly (string | number)[] }
  | { readonly is: "list"; readonly of: Shape; readonly min: number; readonly max: number }
  | { readonly is: "record"; readonly required: Shapes; readonly optional: Shapes }
  /** The first record whose mark is a key of the value; the last when none is. */
  | { readonly is: "choice"; readonly of: readonly (readonly [mark: string, record: Shape])[] }
  /** A text of the list, a number or a boolean. */
  | { readonly is: "state"; readonly values: readonly string[] };

/** Shapes by key. */
export type Shapes = Readonly<Record<string, Shape>>;

/** More modules or entries than this is taken for a mistake: no image holds them. */
const many = 4096;

const text: Shape = { is: "text" };
const name: Shape = { is: "name" };
const number: Shape = { is: "number", min: -Infinity };
const positive: Shape = { is: "number", min: 0 };
const integer = (key: string): Shape => ({ is: "integer", key });
const integers = (...keys: string[]): Shapes => Object.fromEntries(keys.map((key) => [key, integer(key)]));
const oneOf = (...values: (string | number)[]): Shape => ({ is: "oneOf", values });
const list = (of: Shape, min = 0, max = many): Shape => ({ is: "list", of, min, max });
const record = (required: Shapes, optional: Shapes = {}): Shape => ({ is: "record", required, optional });

const span = list(number, 2, 2);
const size = integer("length");
const title = text;
const byteOrder = oneOf("big", "little");
const wordOrder = oneOf("highFirst", "lowFirst");
const bitOrder = oneOf("lsbFirst", "msbFirst");
const orders = { byteOrder, wordOrder };

const accuracy: Shape = {
  is: "choice",
  of: [
    ["percentOfSpan", record({ percentOfSpan: positive })],
    ["absolute", record({ absolute: positive })],
  ],
};

const scale = record(
  {},
  {
    counts: span,
    signal: span,
    signalUnit: oneOf("mA", "V"),
    value: span,
    unit: text,
    shape: oneOf("linear", "squareRoot"),
    points: list(span, 2),
    accuracy,
  },
);

const pointBase = { title, onNetworkLoss: { is: "state", values: ["off", "hold"] } as Shape };
const numberBase = {
  ...pointBase,
  scale,
  unit: text,
  code: oneOf("offsetBinary", "signMagnitude", "bcd"),
  limits: span,
  specialCounts: list(
    record({
      counts: number,
      health: oneOf("ok", "belowMeasuring", "aboveMeasuring", "failedLow", "failedHigh", "invalid"),
    }),
    1,
  ),
  deadband: positive,
};

const numberTypes = [8, 16, 24, 32, 64].flatMap((bits) => [`int${bits}`, `uint${bits}`]).concat("float32", "float64");

const field: Shape = {
  is: "choice",
  of: [
    ["bit", record({ name, bit: integer("bit") }, pointBase)],
    [
      "bits",
      record({ name, bits: integer("bits"), shift: integer("shift") }, { ...numberBase, signed: { is: "boolean" } }),
    ],
  ],
};

const bitPoint = record({ name, type: oneOf("bit") }, pointBase);
const numberPoint = record({ name, type: oneOf("bit", ...numberTypes) }, { ...numberBase, ...orders });

/** The shape of an entry of a module's `inputs` or `outputs`. */
export const entryShape: Shape = {
  is: "choice",
  of: [
    ["spare", record({ spare: integer("spare") }, { title })],
    ["spareBits", record({ spareBits: integer("spareBits") }, { title })],
    ["word", record({ word: integer("word"), fields: list(field) }, { title, ...orders })],
    ["type=bit", bitPoint],
    ["type", numberPoint],
  ],
};

const module = record(
  { name },
  {
    title,
    inputs: list(entryShape, 0, 524280),
    outputs: list(entryShape, 0, 524280),
    ...integers("slot", "inputBytes", "outputBytes", "inputOffset", "outputOffset"),
    group: oneOf("bits", "words"),
    bitOrder,
    ...orders,
    accuracy,
    exclusive: list(list(name, 2)),
  },
);

const placement = record(
  {},
  {
    order: oneOf("slot", "wordsFirst"),
    packing: oneOf("byte", "bit"),
    alignment: oneOf(1, 2, 4),
    bitOrder,
    lengthMultiple: oneOf(1, 2, 4, 8),
    length: size,
  },
);

/** The shape of a whole station description. */
export const stationShape: Shape = record(
  { format: oneOf(1), name, modules: list(module) },
  {
    title,
    network: oneOf("ethernet-ip", "profinet", "profibus-dp", "modbus-tcp", "ethercat", "canopen", "io-link"),
    ...orders,
    placement: record({}, { inputs: placement, outputs: placement }),
    limits: record({}, { inputs: size, outputs: size }),
  },
);

/** The record that a choice settles on for this value. A mark `key=value` also asks for the value. */
export function chosen(choice: Extract<Shape, { is: "choice" }>, value: object): Shape {
  const found = choice.of.find(([mark]) => {
    const [key, wanted] = mark.split("=") as [string, string?];
    return Object.hasOwn(value, key) && (wanted === undefined || (value as Record<string, unknown>)[key] === wanted);
  });
  return (found ?? choice.of[choice.of.length - 1]!)[1];
}
