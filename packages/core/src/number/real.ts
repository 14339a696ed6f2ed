/** IEEE 754 binary32 and binary64 from and to their bit patterns. */

// One scratch view with a fixed order: right on any host, and no view is made per value.
const scratch: DataView = /* @__PURE__ */ new DataView(/* @__PURE__ */ new ArrayBuffer(8));

/** The value of a binary32 pattern (0 to 2^32 − 1). */
export function float32Of(pattern: number): number {
  scratch.setUint32(0, pattern);
  return scratch.getFloat32(0);
}

/** The binary32 pattern nearest to a value. */
export function patternOfFloat32(value: number): number {
  scratch.setFloat32(0, value);
  return scratch.getUint32(0);
}

/** The value of a binary64 pattern (0 to 2^64 − 1). */
export function float64Of(pattern: bigint): number {
  scratch.setBigUint64(0, pattern);
  return scratch.getFloat64(0);
}

/** The binary64 pattern of a value. */
export function patternOfFloat64(value: number): bigint {
  scratch.setFloat64(0, value);
  return scratch.getBigUint64(0);
}
