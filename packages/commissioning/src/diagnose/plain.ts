/** A value as JSON can hold it. */
export function plain(value: boolean | number | bigint): boolean | number | string {
  // Integers beyond 53 bits and what is not finite become text.
  return typeof value === "bigint" || (typeof value === "number" && !Number.isFinite(value)) ? String(value) : value;
}
