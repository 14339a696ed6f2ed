/**
 * The loop-check sheet as plain data: what to drive, what to see, how far off it may be. `sheetHtml`, `sheetMarkdown` and
 * `sheetCsv` print it.
 */
import { ByterailError, type Direction, type Layout, type PlacedPoint, unitOf } from "byterail";
import { type AddressOptions, pointAddress } from "byterail/map";
import { cautions } from "../cautions.js";
import { type Combination, type Method, methodOf } from "./band.js";
import type { CheckedPoint } from "./checkedPoint.js";
import { type Connection, connectionOf } from "./connection.js";
import { type Contact, contactOf } from "./contact.js";
import { type ByteRun, maskOf } from "./image.js";
import { type Loop, loopOf } from "./loop.js";

/** What the user may choose. */
export interface SheetOptions {
  /** Points of the span, in percent, upward; driven down again in reverse. Default 0, 25, 50, 75, 100. */
  readonly steps?: readonly number[];
  /** How the errors of instrument, channel and rounding combine. Default `rootSumOfSquares`. */
  readonly combination?: Combination;
  /** How addresses are written. */
  readonly addresses?: { readonly inputs?: AddressOptions; readonly outputs?: AddressOptions };
  /** The byte map of each direction as SVG, in one picture or in parts for paper; shown as images, so no script in one runs. */
  readonly picture?: { readonly inputs: string | readonly string[]; readonly outputs: string | readonly string[] };
  /** Digest of the description: tells which revision the sheet is for. */
  readonly digest?: string;
}

/** A number that has no span to drive through: a counter, a mode, a text of bits. */
export interface PlainNumber extends CheckedPoint {
  readonly type: PlacedPoint["type"];
  readonly bits: number;
  /** First byte of the point, and of a field the lowest bit in its word. */
  readonly byte: number;
  readonly shift: number | null;
  readonly mask: readonly ByteRun[] | null;
  readonly unit: string | null;
  readonly onNetworkLoss: string | null;
}

/** A loop-check sheet. */
export interface Sheet {
  readonly station: { readonly name: string; readonly title: string | null };
  readonly digest: string | null;
  readonly cautions: readonly string[];
  readonly method: Method;
  readonly connection: Connection;
  readonly picture: { readonly inputs: readonly string[]; readonly outputs: readonly string[] } | null;
  readonly loops: readonly Loop[];
  readonly contacts: readonly Contact[];
  readonly numbers: readonly PlainNumber[];
}

/**
 * Makes the loop-check sheet of a station. Driving outputs moves machines: the sheet prints the cautions first.
 *
 * @example
 * ```ts
 * import { assemble, signalScale } from "byterail";
 * import { sheet } from "@byterail/commissioning";
 * const layout = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "ai", inputs: [{ name: "supply", type: "uint16", scale: signalScale("4-20 mA", [0, 4095], [0, 10], "bar") }] }],
 * });
 * const [loop] = sheet(layout).loops;
 * const quarter = loop!.rows[1]!; // 25 % of 0 to 4095 is no count
 * [quarter.counts, quarter.bytes[0]!.hex]; // → [1024, "04 00"]
 * ```
 * @throws `ByterailError` `sheet.steps` for steps that are no rising list of percentages
 */
export function sheet(layout: Layout, options: SheetOptions = {}): Sheet {
  const { steps = [0, 25, 50, 75, 100], combination = "rootSumOfSquares", picture } = options;
  checkSteps(steps);
  const { station } = layout;
  const checks = [
    ...checksOf(layout, "inputs", steps, combination, options),
    ...checksOf(layout, "outputs", steps, combination, options),
  ];
  return {
    station: { name: station.name, title: station.title ?? null },
    digest: options.digest ?? null,
    cautions,
    method: methodOf(combination),
    connection: connectionOf(layout),
    picture: picture ? { inputs: [picture.inputs].flat(), outputs: [picture.outputs].flat() } : null,
    loops: checks.flatMap(({ loop }) => loop ?? []),
    contacts: checks.flatMap(({ contact }) => contact ?? []),
    numbers: checks.flatMap(({ number }) => number ?? []),
  };
}

interface Check {
  readonly loop?: Loop;
  readonly contact?: Contact;
  readonly number?: PlainNumber;
}

function checksOf(
  layout: Layout,
  direction: Direction,
  steps: readonly number[],
  combination: Combination,
  options: SheetOptions,
): Check[] {
  const image = layout[direction];
  const modules = new Map(layout.station.modules.map((module) => [module.name, module]));
  const addresses = options.addresses?.[direction] ?? {};
  return image.points.map((point): Check => {
    const module = modules.get(point.module)!;
    const onNetworkLoss = lossOf(point, direction);
    if (point.kind === "boolean") {
      const groups = direction === "outputs" ? (module.exclusive ?? []) : [];
      const exclusiveWith = groups
        .filter((group) => group.includes(point.name))
        .flatMap((group) => group.filter((name) => name !== point.name));
      return { contact: contactOf(image, point, { addresses, onNetworkLoss, exclusiveWith }) };
    }
    const loop = loopOf(image, point, { steps, combination, addresses, channel: module.accuracy, onNetworkLoss });
    return loop ? { loop } : { number: plainNumberOf(point, direction, addresses, onNetworkLoss) };
  });
}

function plainNumberOf(
  point: PlacedPoint,
  direction: Direction,
  addresses: AddressOptions,
  onNetworkLoss: string | null,
): PlainNumber {
  const { name, module, slot, type, bits, byte, shift, description } = point;
  const address = pointAddress(point, direction, addresses);
  return {
    ...{ direction, name, title: description.title ?? null, module, slot, address, type, bits, byte, shift },
    mask: maskOf(point),
    unit: unitOf(point),
    onNetworkLoss,
  };
}

function lossOf(point: PlacedPoint, direction: Direction): string | null {
  const loss = direction === "outputs" ? point.description.onNetworkLoss : undefined;
  if (loss === undefined) return null;
  if (loss === "off" || loss === false) return "goes off";
  if (loss === "hold") return "holds its last state";
  const unit = unitOf(point);
  return loss === true ? "goes on" : `goes to ${loss}${unit ? ` ${unit}` : ""}`;
}

function checkSteps(steps: readonly number[]): void {
  const rising = steps.every((step, k) => Number.isFinite(step) && (k === 0 || step > steps[k - 1]!));
  if (!rising || steps.length === 0 || steps.length > 101) {
    const message = "must be 1 to 101 percentages that rise, such as 0, 25, 50, 75, 100";
    throw new ByterailError([{ code: "sheet.steps", path: "steps", message }]);
  }
}
