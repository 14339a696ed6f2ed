/**
 * Files from one description of a station: code, controller arithmetic, tables, drawings.
 *
 * @packageDocumentation
 */
export { descriptionDigest } from "./digest.js";
export { generate } from "./generate.js";
export type { Generated, GeneratedFile, GenerateOptions, Source, Target } from "./target.js";
export { targets } from "./targets.js";
export { type ByteMapOptions, byteMapParts, byteMapStyle, byteMapSvg } from "./svg/byteMapSvg.js";
export type { RowUnit } from "./svg/grid.js";
