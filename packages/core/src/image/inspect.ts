/** What an HMI lists: every point of an image with its counts, signal, value and health. */
import type { ImageLayout } from "../layout/layout.js";
import { type PlacedPoint, numberOf, unitOf } from "../layout/point.js";
import { signalOf } from "../scale/characteristic.js";
import { type HealthOf, healthOf } from "../scale/health.js";
import type { Health, NumberBase } from "../station/description.js";
import type { Access, PointValue, RawValue } from "./access.js";
import { checkLength, planOf } from "./plan.js";

/** One point as it stands in an image. */
export interface Inspected {
  readonly name: string;
  readonly title: string | null;
  readonly module: string;
  readonly slot: number;
  /** First byte; for a field, of its word. */
  readonly byte: number;
  readonly bit: number | null;
  readonly raw: RawValue;
  /** In `signalUnit`, or null for a point without a signal. */
  readonly signal: number | null;
  readonly signalUnit: "mA" | "V" | null;
  readonly value: PointValue;
  readonly unit: string | null;
  readonly health: Health;
}

/**
 * Lists every point of an image, in image order.
 *
 * @example
 * ```ts
 * import { assemble, signalScale } from "byterail";
 * import { inspect } from "byterail/map";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "ai", inputs: [{ name: "supply", type: "uint16", scale: signalScale("4-20 mA", [4000, 20000], [0, 10], "bar") }] }],
 * });
 * const [supply] = inspect(inputs, new Uint8Array([0x0d, 0xac])); // 3500 counts: a broken wire
 * [supply!.raw, supply!.signal, supply!.health]; // → [3500, 3.5, "failedLow"]
 * ```
 * @throws `ByterailError` `image.length`
 */
export function inspect(image: ImageLayout<unknown, unknown, unknown>, bytes: Uint8Array): Inspected[] {
  checkLength(image, bytes);
  return planOf(image).accesses.map((access) => inspected(access, bytes));
}

function inspected({ point, bits, toCounts, toRaw, toValue }: Access, bytes: Uint8Array): Inspected {
  const { name, module, slot, byte, bit, description } = point;
  const pattern = bits.read(bytes, 0);
  const counts = toCounts(pattern);
  const { toSignal, toHealth } = judgementOf(point);
  return {
    ...{ name, title: description.title ?? null, module, slot, byte, bit },
    raw: toRaw(pattern),
    signal: toSignal?.(Number(counts)) ?? null,
    signalUnit: signalUnitOf(point),
    value: toValue(pattern),
    unit: unitOf(point),
    health: toHealth(counts),
  };
}

interface Judgement {
  readonly toHealth: HealthOf;
  /** Of a point that has a signal. */
  readonly toSignal: ((counts: number) => number) | undefined;
}

// Made once per point, like its access.
const judgements = new WeakMap<PlacedPoint, Judgement>();

function judgementOf(point: PlacedPoint): Judgement {
  let judgement = judgements.get(point);
  if (!judgement) {
    const number = numberOf(point);
    const { scale } = number ?? {};
    judgement = {
      toHealth: number ? healthOf(number) : () => "none",
      toSignal: scale && signalOf(scale)?.toValue,
    };
    judgements.set(point, judgement);
  }
  return judgement;
}

function signalUnitOf({ description }: PlacedPoint): "mA" | "V" | null {
  return (description as NumberBase).scale?.signalUnit ?? null;
}
