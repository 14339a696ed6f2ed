/** One direction of the image: structures of values, health and statuses, and the functions that fill and read them. */
import type { Direction } from "byterail";
import { indent } from "../snippet.js";
import { readText } from "./point.js";
import type { Shape } from "./shape.js";

/** One direction. */
export interface Image {
  readonly direction: Direction;
  readonly byteLength: number;
  readonly shapes: readonly Shape[];
}

/** Types and prototypes of a direction that has points. */
export function imageHeader(image: Image, station: string): string[] {
  const { prefix, way, values, judged, length } = partsOf(image, station);
  return [
    `/* Values of the ${image.direction}. */`,
    ...structure(
      values.map(({ valueType, name }) => `${valueType} ${name};`),
      `${prefix}_values`,
    ),
    ...(judged.length === 0
      ? []
      : [
          `/* What the counts say beside the value. */`,
          ...structure(
            judged.map(({ name }) => `${station}_health ${name};`),
            `${prefix}_healths`,
          ),
        ]),
    "/* What became of each value. */",
    ...structure(
      values.map(({ name }) => `${station}_status ${name};`),
      `${prefix}_statuses`,
    ),
    `/* Decodes an image of ${length} bytes. Nothing is rejected or clamped by range. */`,
    `${prototypes(prefix, station).decode};`,
    "",
    ...(judged.length === 0 ? [] : [`${prototypes(prefix, station).health};`, ""]),
    "/*",
    ` * Encodes all values into an image of ${length} bytes, or none: the first status that is not OK is`,
    " * returned, and the image is then as it was. Spare bits become 0. `each` gets the status of every value; it may be NULL.",
    ...(way === "out" ? [" * Writing outputs moves machines: see the caution at the top."] : []),
    " */",
    `${prototypes(prefix, station).encode};`,
    "",
  ];
}

/** The bodies of those functions. */
export function imageSource(image: Image, station: string): string[] {
  const { prefix, way, values, judged, length } = partsOf(image, station);
  const macros = station.toUpperCase();
  const wrongLength = [`if (length != ${length}) {`, `    return ${macros}_WRONG_LENGTH;`, "}"];
  const define = (prototype: string, body: readonly string[]) => [prototype, "{", ...indent(body, "    "), "}", ""];
  return [
    ...define(prototypes(prefix, station).decode, [
      ...wrongLength,
      ...values.map((shape) => `values->${shape.name} = ${readText(shape)};`),
      `return ${macros}_OK;`,
    ]),
    ...(judged.length === 0
      ? []
      : define(prototypes(prefix, station).health, [
          ...wrongLength,
          ...judged.map(({ name }) => `healths->${name} = ${prefix}_health_${name}(image);`),
          `return ${macros}_OK;`,
        ])),
    ...define(prototypes(prefix, station).encode, [
      ...(values.some(({ point, room }) => point.kind !== "boolean" && room === 32) ? ["uint32_t bits;"] : []),
      ...(values.some(({ point, room }) => point.kind !== "boolean" && room === 64) ? ["uint64_t wide;"] : []),
      `${prefix}_statuses all;`,
      `${station}_status first = ${macros}_OK;`,
      "",
      ...wrongLength,
      ...values.flatMap(({ point, name, room }) =>
        point.kind === "boolean"
          ? [`all.${name} = ${macros}_OK;`]
          : [
              `all.${name} = ${way}_check_${name}(values->${name}, &${room === 32 ? "bits" : "wide"});`,
              `first = first == ${macros}_OK ? all.${name} : first;`,
            ],
      ),
      "if (each != NULL) {",
      "    *each = all;",
      "}",
      `if (first != ${macros}_OK) {`,
      "    return first;",
      "}",
      "memset(image, 0, length);",
      ...values.map(({ point, name }) => {
        const call = `${prefix}_${point.kind === "boolean" ? "setraw" : "setvalue"}_${name}(image, values->${name});`;
        return point.kind === "boolean" ? call : `(void)${call}`;
      }),
      `return ${macros}_OK;`,
    ]),
  ];
}

function partsOf({ direction, shapes }: Image, station: string) {
  const way = direction === "inputs" ? "in" : "out";
  const length = `${station.toUpperCase()}_${way.toUpperCase()}_LENGTH`;
  return {
    prefix: `${station}_${way}`,
    way,
    values: shapes,
    judged: shapes.filter(({ judgement }) => judgement),
    length,
  };
}

function prototypes(prefix: string, station: string) {
  const status = `${station}_status ${prefix}`;
  return {
    decode: `${status}_decode(const uint8_t *image, size_t length, ${prefix}_values *values)`,
    health: `${status}_health(const uint8_t *image, size_t length, ${prefix}_healths *healths)`,
    encode: [
      `${status}_encode(`,
      "    uint8_t *image,",
      "    size_t length,",
      `    const ${prefix}_values *values,`,
      `    ${prefix}_statuses *each)`,
    ].join("\n"),
  };
}

function structure(members: readonly string[], name: string): string[] {
  return ["typedef struct {", ...indent(members, "    "), `} ${name};`, ""];
}
