/**
 * The target `structured-text`: IEC 61131-3 text with a STRUCT and a function block for each direction. Nothing is used but
 * elementary types and standard functions, and no conversion happens unsaid.
 */
import type { ImageLayout } from "byterail";
import { elementCount, type Elements, elementsOf } from "../bit-copies/copies.js";
import { indent, textOf } from "../snippet.js";
import type { Source, Target } from "../target.js";
import { type Channel, channelsOf } from "./channel.js";
import { comment, commentLines } from "./comment.js";
import { elementType } from "./elements.js";
import { healthLegend } from "./health.js";
import { helperLines } from "./helpers.js";
import { fileNames } from "./names.js";
import { packLines } from "./pack.js";
import { channelRemark, memberRemark } from "./remarks.js";
import { type Helper, newScope } from "./scope.js";
import { type BitString, patternLiteral } from "./types.js";
import { unpackLines } from "./unpack.js";

/** The target `structured-text`. */
export const structuredText: Target = {
  id: "structured-text",
  title: "Structured Text (IEC 61131-3): a STRUCT and a function block for each direction",
  generate: (source) => {
    const { layout, options } = source;
    const elements = elementsOf(options);
    const { prefix, notes } = fileNames(layout);
    const inputs = channelsOf(layout.inputs, elements, options);
    const outputs = channelsOf(layout.outputs, elements, options);
    const helpers = new Set<Helper>();
    const blocks = [
      ...imageParts(layout.inputs, inputs.channels, elements, prefix, helpers),
      ...imageParts(layout.outputs, outputs.channels, elements, prefix, helpers),
    ];
    const functions = [...helpers].sort().map((helper) => helperLines(helper, prefix));
    const parts = [headerLines(source, elements), ...functions, ...blocks];
    return {
      files: [
        {
          path: `${layout.station.name}.st`,
          text: textOf(parts.flatMap((part, k) => (k === 0 ? part : ["", ...part]))),
        },
      ],
      notes: [...notes, ...inputs.notes, ...outputs.notes],
    };
  },
};

function headerLines({ header, options }: Source, { bits, order }: Elements): string[] {
  const { arithmetic = "integer" } = options;
  const lowest = order === "lowFirst" ? "low" : "high";
  return commentLines([
    ...header,
    "The pack block drives outputs: check it against the station as built. It is no safety function; site procedure comes first.",
    `Elements of ${bits} bits${bits === 8 ? "" : `, the lower image byte in the ${lowest} byte`}. Where elements are integers, convert them bit by bit.`,
    ...accuracy[arithmetic],
    "What is written is limited to what the station accepts, then rounded, ties to even; a NaN is taken for 0 before. Counts that",
    "are a report are not written: their neighbours are. What is read is never limited to a range; its health says what it means.",
  ]);
}

const accuracy = {
  integer: [
    "Scaled values are whole numbers, the value times a power of ten: exact, rounded to the nearest, ties to even. A member that is",
    "LREAL all the same has no exact whole numbers (a square root, more than 64 bits); it is in its unit, not times a power of ten.",
  ],
  real: [
    "Scaled values are REAL. From counts on a line they are within 3 units in the last place, on a root within 2**-20 of the value plus",
    "twice the lower end of its span. Counts written may be off by 12 * 2**-24 of the largest term, beside the half that rounding takes.",
  ],
  lreal: ["Scaled values are LREAL, computed as (multiply * counts + add) / divide, each operation rounded once."],
} as const;

function imageParts(
  image: ImageLayout,
  channels: readonly Channel[],
  elements: Elements,
  prefix: string,
  helpers: Set<Helper>,
): string[][] {
  const { direction } = image;
  // A STRUCT has one member at least.
  if (channels.length === 0) return [[comment(`No ${direction}.`)]];
  return [structLines(channels, direction, prefix), blockLines(image, channels, elements, prefix, helpers)];
}

function structLines(channels: readonly Channel[], direction: "inputs" | "outputs", prefix: string): string[] {
  const members = channels.flatMap((channel) => {
    const remark = memberRemark(channel);
    return [
      `${channel.member} : ${channel.type};${remark === "" ? "" : ` ${comment(remark)}`}`,
      ...(channel.health ? [`${channel.health.member} : USINT;`] : []),
    ];
  });
  const legend = channels.some(({ health }) => health) ? [comment(healthLegend)] : [];
  return [
    ...legend,
    "TYPE",
    ...indent([`${typeName(prefix, direction)} : STRUCT`, ...indent(members), "END_STRUCT;"]),
    "END_TYPE",
  ];
}

function blockLines(
  image: ImageLayout,
  channels: readonly Channel[],
  elements: Elements,
  prefix: string,
  helpers: Set<Helper>,
): string[] {
  const scope = newScope(prefix, helpers);
  const { direction } = image;
  const reads = direction === "inputs";
  const snippets = channels.map((channel) => [
    comment(channelRemark(channel)),
    ...(reads ? unpackLines(channel, elements.bits, scope) : packLines(channel, elements.bits, scope)),
  ]);
  const last = elementCount(image, elements) - 1;
  const type = elementType(elements.bits);
  const imageVariable = `image : ARRAY[0..${last}] OF ${type};`;
  const dataVariable = `data : ${typeName(prefix, direction)};`;
  const cleared = reads ? [] : clearLines(scope.variable("index", "INT"), last, type);
  const locals = [...scope.variables].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, of]) => `${name} : ${of};`);
  return [
    `FUNCTION_BLOCK ${prefix}_${reads ? "Unpack" : "Pack"}`,
    ...section("VAR_INPUT", reads ? imageVariable : dataVariable),
    ...section("VAR_OUTPUT", reads ? dataVariable : imageVariable),
    ...(locals.length > 0 ? section("VAR", ...locals) : []),
    ...indent([...cleared, ...snippets.flatMap((lines, k) => (k === 0 && reads ? lines : ["", ...lines]))]),
    "END_FUNCTION_BLOCK",
  ];
}

function clearLines(index: string, last: number, type: BitString): string[] {
  return [`FOR ${index} := 0 TO ${last} DO`, `  image[${index}] := ${patternLiteral(0n, type)};`, "END_FOR;"];
}

function typeName(prefix: string, direction: "inputs" | "outputs"): string {
  return `${prefix}_${direction === "inputs" ? "Inputs" : "Outputs"}`;
}

function section(name: string, ...declarations: string[]): string[] {
  return [name, ...indent(declarations), "END_VAR"];
}
