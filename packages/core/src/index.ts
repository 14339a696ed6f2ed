/**
 * Byterail: one description of a field-bus station, everything else derived from it.
 *
 * @packageDocumentation
 */
export { ByterailError, type Problem } from "./problem.js";

export type * from "./station/description.js";
export type { BadPattern, Grouped, RawValues, Values } from "./station/values.js";
export * from "./station/builders.js";

export { type Code, codeOf, countsProblem } from "./number/code.js";
export { numberCodec, type NumberCodec, type NumberOf } from "./number/codec.js";
export { significance } from "./number/order.js";
export { pattern, type Pattern } from "./number/pattern.js";
export type { IntegerCode } from "./number/types.js";

export { characteristicOf, piecewiseScale, signalOf, squareRootScale } from "./scale/characteristic.js";
export {
  type Characteristic,
  type LinearScale,
  linearScale,
  type Ratio,
  ratioOf,
  roundTiesToEven,
} from "./scale/linear.js";
export { signalRanges, type SignalRange, type SignalRangeName, signalScale } from "./scale/ranges.js";

export { acceptedValues, codeOfPoint } from "./layout/accepted.js";
export { assemble } from "./layout/assemble.js";
export { isAtOddByte } from "./layout/boundaries.js";
export type { AnyValue, Gap, ImageLayout, Layout, ModuleExtent } from "./layout/layout.js";
export { imageLimit, type ImageLimit, type Network, networks } from "./layout/networks.js";
export { numberOf, type PlacedPoint, type PlacedSpare, type PointKind, touchedBytes, unitOf } from "./layout/point.js";

export type { OutOfRange, PointValue, RawValue } from "./image/access.js";
export { decode, decodeByModule, decodeRaw } from "./image/decode.js";
export { encode, encodeByModule, encodeInto, type EncodeOptions, encodeRaw, patch, patchRaw } from "./image/encode.js";
export { pointHandle, type PointHandle } from "./image/handle.js";
export { view, viewer } from "./image/view.js";
