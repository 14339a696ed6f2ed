/** What the comments say of a channel: what it is, in which unit and range, and how sure the arithmetic is. */
import { acceptedValues, numberOf, unitOf } from "byterail";
import { oneLine } from "../snippet.js";
import type { Channel } from "./channel.js";

/** Beside a member: its title, unit, decimals and limits. */
export function memberRemark({ point, form, direction }: Channel): string {
  const unit = oneLine(unitOf(point) ?? "");
  const limits = direction === "outputs" && numberOf(point) ? acceptedValues(point, direction) : null;
  return [
    oneLine(point.description.title ?? ""),
    form.kind === "fixed" && form.arithmetic.decimals > 0 ? `${unit} * ${10 ** form.arithmetic.decimals}`.trim() : unit,
    limits ? `${limits[0]} to ${limits[1]}` : "",
    form.kind === "counts" && numberOf(point)?.scale ? "counts, not scaled" : "",
  ]
    .filter((part) => part !== "")
    .join("; ");
}

/** Above the statements of a channel: where it comes from or goes to, and what its arithmetic rests on. */
export function channelRemark({ point, copies, form }: Channel): string {
  const [first, last] = [
    Math.min(...copies.map(({ imageByte }) => imageByte)),
    Math.max(...copies.map(({ imageByte }) => imageByte)),
  ];
  const crossed = new Set(copies.map(({ element }) => element)).size;
  const bytes =
    form.kind === "boolean"
      ? `byte ${first} bit ${copies[0]!.imageBit}`
      : first === last
        ? `byte ${first}`
        : `from byte ${first}`;
  return [
    `${point.name}: ${bytes}${crossed > 1 ? `, across ${crossed} elements` : ""}`,
    ...(form.kind === "fixed"
      ? [`largest number on the way ${form.arithmetic.largest}, so ${form.type} cannot overflow`]
      : []),
    ...(form.kind === "scaled" && form.numerator ? [`the numerator is exact in ${form.numerator}`] : []),
  ].join("; ");
}
