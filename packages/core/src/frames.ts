/**
 * Frames as they are carried and captured: hex text, registers, annotated dumps, differences, columns of a capture.
 *
 * @packageDocumentation
 */
export { type Column, type Columns, type ColumnsOptions, columns } from "./image/columns.js";
export { type Change, type DiffOptions, diff } from "./image/diff.js";
export { fromHex, toHex } from "./image/hex.js";
export { hexdump } from "./image/hexdump.js";
export { fromRegisters, type HighByte, toRegisters } from "./image/registers.js";
