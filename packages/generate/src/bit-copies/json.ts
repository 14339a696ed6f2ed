/** The bit copies as JSON: for a program that writes controller code in a way of its own. */
import { jsonText, textOf } from "../snippet.js";
import type { Source } from "../target.js";
import type { Line } from "./arithmetic.js";
import { channelRows, copyPlans, type ChannelRow } from "./plan.js";

/** The file as text. Whole numbers beyond 2^53 are decimal text. */
export function copiesJson({ layout, options, header }: Source): string {
  const content = {
    generated: header,
    station: layout.station.name,
    elements: copyPlans(layout, options).map(({ elements, images }) => ({
      bits: elements.bits,
      order: elements.order,
      ...Object.fromEntries(
        images.map(({ image, count, points }) => [
          image.direction,
          {
            count,
            copies: points.flatMap(({ point, copies }) => copies.map((copy) => ({ point: point.name, ...copy }))),
          },
        ]),
      ),
    })),
    arithmetic: Object.fromEntries(
      [layout.inputs, layout.outputs].map((image) => [image.direction, channelRows(image, options).map(channelJson)]),
    ),
  };
  return textOf([jsonText(content, 2)]);
}

function channelJson({ point, unit, arithmetic, type }: ChannelRow) {
  const { decimals, pieces, from, to, largest } = arithmetic;
  return {
    point: point.name,
    unit,
    decimals,
    lines: pieces.map(({ border, line }) => ({
      while: border && { sign: border.sign, than: whole(border.at) },
      ...lineJson(line),
    })),
    from: from.map(whole),
    to: to.map(whole),
    largest: whole(largest),
    type,
  };
}

function lineJson({ multiply, add, divide }: Line) {
  return { multiply: whole(multiply), add: whole(add), divide: whole(divide) };
}

function whole(n: bigint): number | string {
  return Number.isSafeInteger(Number(n)) ? Number(n) : String(n);
}
