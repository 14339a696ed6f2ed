/**
 * The JSON Schema (2020-12) of `station.json`, made from the same shape that the checker walks.
 */
import { namePattern } from "../station/names.js";
import { wholeNumbers } from "../station/keys.js";
import { type Shape, type Shapes, stationShape } from "./shape.js";

/** A JSON Schema. */
export type JsonSchema = { readonly [key: string]: unknown };

/** The JSON Schema of a station description. It holds what one value can show; `assemble` also judges values together. */
export const stationSchema: JsonSchema = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  title: "Field-bus station",
  ...schemaOf(stationShape),
};

function schemaOf(shape: Shape): JsonSchema {
  switch (shape.is) {
    case "text":
      return { type: "string" };
    case "boolean":
      return { type: "boolean" };
    case "name":
      return {
        type: "string",
        pattern: namePattern.source,
        not: { enum: Object.getOwnPropertyNames(Object.prototype) },
      };
    case "number":
      return { type: "number", ...(shape.min === 0 && { minimum: 0 }) };
    case "integer": {
      const [minimum, maximum] = wholeNumbers[shape.key]!;
      return { type: "integer", minimum, maximum, ...(shape.key === "word" && { multipleOf: 8 }) };
    }
    case "oneOf":
      return { enum: shape.values };
    case "state":
      return { anyOf: [{ enum: shape.values }, { type: ["number", "boolean"] }] };
    case "list":
      return { type: "array", items: schemaOf(shape.of), minItems: shape.min, maxItems: shape.max };
    case "record":
      return {
        type: "object",
        required: Object.keys(shape.required),
        properties: schemasOf({ ...shape.required, ...shape.optional }),
        patternProperties: { "^x-": true, "^\\$schema$": true },
        additionalProperties: false,
      };
    case "choice":
      // The first whose mark is there, the last otherwise: the very rule of the checker.
      return {
        type: "object",
        ...shape.of.reduceRight<JsonSchema>((otherwise, [mark, record]) => {
          if (Object.keys(otherwise).length === 0) return schemaOf(record);
          const [key, wanted] = mark.split("=") as [string, string?];
          const marked = { required: [key], ...(wanted !== undefined && { properties: { [key]: { const: wanted } } }) };
          // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
          return { if: marked, then: schemaOf(record), else: otherwise };
        }, {}),
      };
  }
}

function schemasOf(shapes: Shapes): JsonSchema {
  return Object.fromEntries(Object.entries(shapes).map(([key, shape]) => [key, schemaOf(shape)]));
}
