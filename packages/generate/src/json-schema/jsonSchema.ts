/**
 * JSON Schemas (2020-12) of the values of a station, as the command line prints them: `byterail decode … --json`. One file
 * for each direction. What a frame can hold is what the schema allows: the limits that encode applies are told in the
 * description of a point, as decode does not clamp.
 */
import {
  acceptedValues,
  characteristicOf,
  codeOfPoint,
  type Direction,
  type ImageLayout,
  numberOf,
  type PlacedPoint,
  unitOf,
} from "byterail";
import { oneLine } from "../snippet.js";
import type { GeneratedFile, Source, Target } from "../target.js";

/** A schema of one value, as plain data. */
type Schema = Readonly<Record<string, unknown>>;

/** The target `json-schema`. */
export const jsonSchema: Target = {
  id: "json-schema",
  title: "JSON Schema 2020-12 of the decoded inputs and outputs",
  generate: (source) => ({
    files: [fileOf(source, source.layout.inputs), fileOf(source, source.layout.outputs)],
    notes: [],
  }),
};

function fileOf({ layout, header }: Source, image: ImageLayout): GeneratedFile {
  const { name } = layout.station;
  const { direction, points } = image;
  const schema = {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    // JSON has no comments; this keyword is meant for them.
    $comment: [...header, ...caution].join(" "),
    title: `${name} ${direction}`,
    type: "object",
    properties: Object.fromEntries(points.map((point) => [point.name, valueSchema(point, direction)])),
    required: points.map((point) => point.name),
    additionalProperties: false,
  };
  return { path: `${name}.${direction}.schema.json`, text: `${JSON.stringify(schema, null, 2)}\n` };
}

const caution = [
  "Caution: a value that this schema allows may still move a machine; follow the site's procedure.",
  "It is no safety function.",
];

function valueSchema(point: PlacedPoint, direction: Direction): Schema {
  const about = descriptionOf(point, direction);
  const { title } = point.description;
  const texts = { ...(title && { title: oneLine(title) }), ...(about && { description: about }) };
  return { ...texts, ...formOf(point) };
}

// The form that a value has in JSON; special forms are texts.
function formOf(point: PlacedPoint): Schema {
  const number = numberOf(point);
  if (!number) return { type: "boolean" };
  const code = codeOfPoint(point);
  if (!code) return either({ type: "number", ...realRange(point) }, ["NaN", "Infinity", "-Infinity"]);
  const invalid = code.name === "bcd" ? ["NaN"] : [];
  if (typeof code.max === "bigint") {
    const texts = decimalText(code.min, code.max, code.name === "signMagnitude");
    return invalid.length === 0 ? texts : { anyOf: [texts, { enum: invalid }] };
  }
  const characteristic = number.scale && characteristicOf(number.scale);
  if (!characteristic) return either({ type: "integer", minimum: code.min, maximum: code.max }, invalid);
  // Every characteristic is monotone, so the ends of the counts give the ends of the value, too.
  const ends = [code.min, code.max].map((counts) => characteristic.toValue(Number(counts)));
  return either({ type: "number", minimum: Math.min(...ends), maximum: Math.max(...ends) }, invalid);
}

function either(number: Schema, texts: readonly string[]): Schema {
  return texts.length === 0 ? number : { anyOf: [number, { enum: texts }] };
}

// An integer of more than 53 bits as decimal text. Its range is told in the description: a pattern that held it would be
// unreadable.
function decimalText(min: number | bigint, max: bigint, negativeZero: boolean): Schema {
  const digits = `${min < 0n ? "-?" : ""}[1-9][0-9]*`;
  const maxLength = Math.max(String(min).length, String(max).length);
  return { type: "string", pattern: `^(${negativeZero ? "-?0" : "0"}|${digits})$`, maxLength };
}

function realRange({ bits, description }: PlacedPoint): Schema {
  if (bits === 64 || "scale" in description) return {};
  const most = (2 - 2 ** -23) * 2 ** 127;
  return { minimum: -most, maximum: most };
}

function descriptionOf(point: PlacedPoint, direction: Direction): string {
  const unit = unitOf(point);
  const code = codeOfPoint(point);
  const limits = acceptedValues(point, direction);
  return [
    ...(unit ? [`In ${oneLine(unit)}.`] : []),
    ...(typeof code?.max === "bigint" ? [`Decimal text, ${code.min} to ${code.max}.`] : []),
    ...(limits ? [`Encode accepts ${limits[0]} to ${limits[1]}.`] : []),
  ].join(" ");
}
