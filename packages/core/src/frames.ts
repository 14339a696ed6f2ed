/**
 * Frames as they are carried and captured: hex text, registers, annotated dumps, differences.
 *
 * @packageDocumentation
 */
export { type Change, type DiffOptions, diff } from "./image/diff.js";
export { fromHex, toHex } from "./image/hex.js";
export { hexdump } from "./image/hexdump.js";
export { fromRegisters, type HighByte, toRegisters } from "./image/registers.js";
