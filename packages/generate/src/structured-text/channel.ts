/** A channel: a point with its member of the STRUCT, and how the one becomes the other. Decided once, for both blocks. */
import { codeOfPoint, type Direction, type ImageLayout, type PlacedPoint, type Problem } from "byterail";
import { type ChannelArithmetic, channelArithmetic } from "../bit-copies/arithmetic.js";
import { type BitCopy, derive, type Elements } from "../bit-copies/copies.js";
import { decimalsFor, integerTypeFor } from "../bit-copies/plan.js";
import { curveOf } from "../point/curve.js";
import { type Judgement, judgementOf } from "../point/judgement.js";
import type { GenerateOptions } from "../target.js";
import { memberNames } from "./names.js";
import { type RealScaling, realScaling } from "./realScaling.js";
import { type BitString, bitStringFor, type Elementary, type Integer, integerAs, type Real } from "./types.js";

/** How the bits of a channel become its member. */
export type Form =
  | { readonly kind: "boolean" }
  /** Counts as they are. */
  | { readonly kind: "counts" }
  /** A scaled integer in whole numbers: the member is the value times 10^decimals. */
  | { readonly kind: "fixed"; readonly arithmetic: ChannelArithmetic; readonly type: "DINT" | "LINT" }
  /** A scaled integer in REAL or LREAL. `numerator` is the type in which multiply · counts + add is exact, where REAL needs it. */
  | { readonly kind: "scaled"; readonly scaling: RealScaling; readonly numerator: "DINT" | "LINT" | null }
  /** A real on the wire, scaled or not. */
  | { readonly kind: "real"; readonly wire: Real; readonly scaling: RealScaling | null };

/** A point and its member. */
export interface Channel {
  readonly point: PlacedPoint;
  readonly direction: Direction;
  readonly copies: readonly BitCopy[];
  readonly member: string;
  readonly type: Elementary;
  /** Of its pattern, and of its counts where it is an integer. */
  readonly pattern: BitString;
  readonly counts: Integer;
  readonly form: Form;
  /** The member for its health, and how counts are judged; null where nothing is known of it. */
  readonly health: { readonly member: string; readonly judgement: Judgement } | null;
}

/** The channels of an image and what the user should know about them. */
export interface Channels {
  readonly channels: readonly Channel[];
  readonly notes: readonly Problem[];
}

/** Decides on every point of an image. */
export function channelsOf(image: ImageLayout, elements: Elements, options: GenerateOptions): Channels {
  const { direction } = image;
  const judged = direction === "inputs" ? image.points.filter((point) => hasHealth(point)) : [];
  const names = memberNames(image, judged);
  const notes: Problem[] = [...names.notes];
  const channels = derive(image, elements).map(({ point, copies }): Channel => {
    const { form, note } = formOf(point, direction, options);
    if (note) notes.push({ code: note[0], path: `${direction} › ${point.name}`, message: note[1] });
    const pattern = bitStringFor(point.bits);
    const counts = integerAs(pattern, point.code === "unsigned" || point.code === "bcd" ? "unsigned" : "signed");
    const health = judged.includes(point)
      ? { member: names.healthOf(point), judgement: judgementOf(point) ?? unjudged }
      : null;
    return {
      point,
      direction,
      copies,
      member: names.of(point),
      type: memberType(form, counts, direction),
      pattern,
      counts,
      form,
      health,
    };
  });
  return { channels, notes };
}

const unjudged: Judgement = { special: [], bands: [{ upTo: null, health: "none" }] };

function hasHealth(point: PlacedPoint): boolean {
  return point.kind === "real" || point.code === "bcd" || judgementOf(point) !== null;
}

function memberType(form: Form, counts: Integer, direction: Direction): Elementary {
  if (form.kind === "boolean") return "BOOL";
  if (form.kind === "counts") return counts;
  if (form.kind !== "fixed") return form.scaling ? form.scaling.type : form.kind === "real" ? form.wire : counts;
  return fixedType(form, direction);
}

// The value may need less room than what turns up on the way to it.
function fixedType(
  { arithmetic: { from, to }, type }: Form & { kind: "fixed" },
  direction: Direction,
): "DINT" | "LINT" {
  const [low, high] = direction === "outputs" ? from : to;
  return low >= -(2n ** 31n) && high < 2n ** 31n ? "DINT" : type;
}

type Decision = { readonly form: Form; readonly note?: readonly [code: string, message: string] };

function formOf(point: PlacedPoint, direction: Direction, options: GenerateOptions): Decision {
  if (point.kind === "boolean") return { form: { kind: "boolean" } };
  const curve = curveOf(point);
  if (point.kind === "real") {
    const wire = point.bits === 32 ? "REAL" : "LREAL";
    if (!curve) return { form: { kind: "real", wire, scaling: null } };
    const wanted =
      wire === "REAL" && options.arithmetic === "real" ? (["REAL", "LREAL"] as const) : (["LREAL"] as const);
    for (const type of wanted) {
      const scaling = realScaling(point, direction, type);
      if (scaling) return { form: { kind: "real", wire, scaling } };
    }
    return { form: { kind: "real", wire, scaling: null }, note: unscaled };
  }
  if (!curve) return { form: { kind: "counts" } };
  const { arithmetic = "integer" } = options;
  if (arithmetic === "integer") {
    const fixed = channelArithmetic(point, direction, decimalsFor(point, options));
    const type = fixed && integerTypeFor(fixed);
    if (type) return { form: { kind: "fixed", arithmetic: fixed, type } };
  }
  if (arithmetic === "real") {
    const numerator = numeratorType(point);
    const scaling = numerator && realScaling(point, direction, "REAL");
    if (scaling) return { form: { kind: "scaled", scaling, numerator } };
  }
  const scaling = realScaling(point, direction, "LREAL");
  if (!scaling) return { form: { kind: "counts" }, note: unscaled };
  const form: Form = { kind: "scaled", scaling, numerator: null };
  if (arithmetic === "lreal") return { form };
  const why =
    curve.shape === "squareRoot"
      ? "a square root is no whole number"
      : "its whole numbers do not fit 64 bits, or its limits";
  return {
    form,
    note: [
      "scale.lreal",
      arithmetic === "integer" ? `is computed in LREAL: ${why}` : "is computed in LREAL: its numbers do not fit REAL",
    ],
  };
}

const unscaled = ["scale.range", "is left unscaled: the numbers of its scale do not fit LREAL"] as const;

// In REAL a difference of large products would lose digits, so multiply · counts + add is computed in whole numbers first.
function numeratorType(point: PlacedPoint): "DINT" | "LINT" | null {
  const curve = curveOf(point)!;
  if (curve.shape === "squareRoot") return Number(codeOfPoint(point)!.max) < 2 ** 29 ? "DINT" : "LINT";
  const exact = channelArithmetic(point, "inputs", 0);
  return exact && integerTypeFor(exact);
}
