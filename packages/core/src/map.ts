/**
 * The map on paper: byte maps as rows, the addresses of IEC 61131-3, and what one count of a point is worth.
 *
 * @packageDocumentation
 */
export {
  type Address,
  type AddressOptions,
  type AddressSize,
  formatAddress,
  parseAddress,
  pointAddress,
} from "./layout/address.js";
export { type ByteMap, byteMap, type MapRow } from "./layout/map.js";
export { converterResolution, type PointResolution, type Resolution, scaleResolution } from "./scale/resolution.js";
