/** The annotated hex dump: byte, hex, point, value, one point a line; what one reads while debugging. */
import type { ImageLayout } from "../layout/layout.js";
import { toHex } from "./hex.js";
import { type Inspected, inspect } from "./inspect.js";

/**
 * Writes an image out with its points beside the bytes.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { hexdump } from "byterail/frames";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "sensors", inputs: [{ name: "low", type: "bit" }, { name: "flow", type: "int16", unit: "L/h" }] }],
 * });
 * hexdump(inputs, new Uint8Array([0x01, 0x02, 0x2b])); // → "0.0  01     low   true\n1    02 2B  flow  555 L/h"
 * ```
 * @throws `ByterailError` `image.length`
 */
export function hexdump(image: ImageLayout<unknown, unknown, unknown>, bytes: Uint8Array): string {
  const values = inspect(image, bytes);
  const row = (byte: number, bit: number | null, place: string, size: number, ...words: string[]) => ({
    order: byte + (bit ?? 0) / 256,
    cells: [byte + place, toHex(bytes.subarray(byte, byte + Math.min(size, 8))), ...words],
  });
  const bitOf = (bit: number | null) => (bit === null ? "" : `.${bit}`);
  const rows = [
    ...image.points.map(({ byte, bit, shift, bits, name, positions }, i) => {
      const field = shift === null ? "" : `:${shift}${bits > 1 ? `-${shift + bits - 1}` : ""}`;
      return row(byte, bit ?? shift, bitOf(bit) + field, positions.length, name, valueCell(values[i]!));
    }),
    ...image.spares.map(({ byte, bit, bits, bitOrder }) => {
      const before = bit === null ? 0 : bitOrder === "msbFirst" ? 7 - bit : bit;
      return row(byte, bit, bitOf(bit), Math.ceil((before + bits) / 8), "", "spare");
    }),
    ...image.gaps.map(({ byte, bytes: size, why }) => row(byte, 0, "", size, "", `unused, ${why}`)),
  ].sort((a, b) => a.order - b.order);
  const widths = [0, 1, 2].map((k) => Math.max(0, ...rows.map(({ cells }) => cells[k]!.length)));
  return rows.map(({ cells }) => cells.map((cell, k) => cell.padEnd(widths[k] ?? 0)).join("  ")).join("\n");
}

function valueCell({ value, unit, health }: Inspected): string {
  const known = health === "ok" || health === "none";
  return valueText(value) + (unit === null ? "" : ` ${unit}`) + (known ? "" : `  ${health}`);
}

/** A value as text, −0 told from 0. */
export function valueText(value: boolean | number | bigint | string): string {
  return Object.is(value, -0) ? "-0" : String(value);
}
