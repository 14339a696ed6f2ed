/** The bit copies as Markdown tables, for somebody who programs the controller by hand. */
import type { Direction } from "byterail";
import { type Column, markdownTable, markdownText } from "../markdownTable.js";
import { textOf } from "../snippet.js";
import type { Source } from "../target.js";
import { xmlComment } from "../xml.js";
import type { LinePiece } from "./arithmetic.js";
import type { BitCopy } from "./copies.js";
import { type ChannelRow, channelRows, type CopyPlan, copyPlans } from "./plan.js";

/** The file as text. */
export function copiesTable({ layout, options, header }: Source): string {
  const { name, title } = layout.station;
  return textOf([
    ...header.map(xmlComment),
    "",
    `# Bit copies: ${markdownText(title ?? "") || name}`,
    "",
    "Bits are counted from the least significant, bit 0; elements, and bytes of the image, from 0. A value is given as",
    "byte.bit of its own: byte 0 is its least significant. Copying to outputs drives them: check the table against the",
    "station as built; it is no safety function, and site procedure comes first.",
    ...copyPlans(layout, options).flatMap(planSection),
    ...[layout.inputs, layout.outputs].flatMap((image) =>
      arithmeticSection(image.direction, channelRows(image, options)),
    ),
  ]);
}

type CopyRow = BitCopy & { readonly name: string };

const copyColumns: readonly Column<CopyRow>[] = [
  ["Point", "left", ({ name }) => name],
  ["Element", "right", ({ element }) => String(element)],
  ["Bits of it", "right", ({ elementBit, bits }) => spanOf(elementBit, bits)],
  ["Image", "right", ({ imageByte, imageBit }) => `${imageByte}.${imageBit}`],
  ["Value", "right", ({ valueBit }) => `${valueBit >> 3}.${valueBit & 7}`],
  ["Bits", "right", ({ bits }) => String(bits)],
];

function planSection({ elements: { bits, order }, images }: CopyPlan): string[] {
  const which =
    bits === 8
      ? ""
      : order === "lowFirst"
        ? ", lower image byte in the low byte"
        : ", lower image byte in the high byte";
  return images.flatMap(({ image, count, points }) => {
    const rows = points.flatMap(({ point, copies }) => copies.map((copy) => ({ ...copy, name: point.name })));
    const way =
      image.direction === "inputs"
        ? "Inputs, from the elements to the values"
        : "Outputs, from the values to the elements";
    return [
      ...["", `## ${way}: ${count} of ${bits} bits${which}`, ""],
      ...(rows.length === 0 ? ["None."] : markdownTable(copyColumns, rows)),
    ];
  });
}

type LineRow = ChannelRow & { readonly piece: LinePiece };

const lineColumns: readonly Column<LineRow>[] = [
  ["Point", "left", ({ point }) => point.name],
  ["While x", "left", ({ piece: { border } }) => (border ? `\\${border.sign} ${border.at}` : "")],
  ["Multiply", "right", ({ piece }) => String(piece.line.multiply)],
  ["Add", "right", ({ piece }) => String(piece.line.add)],
  ["Divide", "right", ({ piece }) => String(piece.line.divide)],
  ["x", "right", ({ arithmetic: { from } }) => `${from[0]} … ${from[1]}`],
  ["Result", "right", ({ arithmetic: { to } }) => `${to[0]} … ${to[1]}`],
  ["Decimals", "right", ({ arithmetic }) => String(arithmetic.decimals)],
  ["Unit", "left", ({ unit }) => markdownText(unit ?? "")],
  ["Largest", "right", ({ arithmetic }) => String(arithmetic.largest)],
  ["Type", "left", ({ type }) => type ?? "over 64 bits"],
];

function arithmeticSection(direction: Direction, rows: readonly ChannelRow[]): string[] {
  if (rows.length === 0) return [];
  const [title, x, result] =
    direction === "inputs"
      ? ["Inputs, from counts to values", "counts", "value"]
      : ["Outputs, from values to counts", "value", "counts"];
  const lines = rows.flatMap((row) => row.arithmetic.pieces.map((piece) => ({ ...row, piece })));
  const inDecimals = "The value is a whole number: the value in its unit times 10 to the power of the decimals.";
  return [
    ...["", `## ${title}: the arithmetic`, ""],
    `x is the ${x}, the result the ${result}: (multiply · x + add) / divide, rounded to the nearest, ties to even. ${inDecimals}`,
    ...(direction === "outputs" ? ["Limit x to its range first, and the result to its own."] : []),
    ...["", ...markdownTable(lineColumns, lines)],
  ];
}

function spanOf(first: number, bits: number): string {
  return bits === 1 ? String(first) : `${first} … ${first + bits - 1}`;
}
