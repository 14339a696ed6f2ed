// An image as elements and back, the way a controller exposes it: by DataView, apart from the bit copies of the library.

export type Order = "lowFirst" | "highFirst";

/** Elements of a frame; what lies beyond it in the last one is 0. */
export function elementsOf(frame: Uint8Array, bits: 8 | 16 | 32, order: Order): bigint[] {
  const bytes = bits / 8;
  const padded = new Uint8Array(Math.ceil(frame.length / bytes) * bytes);
  padded.set(frame);
  const view = new DataView(padded.buffer);
  const little = order === "lowFirst";
  return Array.from({ length: padded.length / bytes }, (_, k) =>
    BigInt(bits === 8 ? view.getUint8(k) : bits === 16 ? view.getUint16(2 * k, little) : view.getUint32(4 * k, little)),
  );
}

/** The frame of so many bytes that elements hold; the rest of the last element must be 0. */
export function frameFrom(
  elements: readonly bigint[],
  byteLength: number,
  bits: 8 | 16 | 32,
  order: Order,
): Uint8Array {
  const view = new DataView(new ArrayBuffer((elements.length * bits) / 8));
  const little = order === "lowFirst";
  for (const [k, element] of elements.entries()) {
    if (bits === 8) view.setUint8(k, Number(element));
    else if (bits === 16) view.setUint16(2 * k, Number(element), little);
    else view.setUint32(4 * k, Number(element), little);
  }
  const bytes = new Uint8Array(view.buffer);
  if (bytes.slice(byteLength).some((byte) => byte !== 0)) throw new Error("bits beyond the image are set");
  return bytes.slice(0, byteLength);
}
