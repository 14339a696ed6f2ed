/**
 * Points as rows, on paper and on screens: byte maps, points inspected, the addresses of IEC 61131-3, health, and what one
 * count of a point is worth.
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
export { inspect, type Inspected } from "./image/inspect.js";
export { type ByteMap, byteMap, type MapRow } from "./layout/map.js";
export { converterResolution, type PointResolution, type Resolution, scaleResolution } from "./scale/resolution.js";
export { healthOf, type HealthOf, ne43 } from "./scale/health.js";
