/** Keys of a description: which there are, and what the whole numbers among them may be. */

/** Keys that hold whole numbers, with the least and the most that each may be. */
export const wholeNumbers: Readonly<Record<string, readonly [min: number, max: number]>> = {
  spare: [1, 65535],
  spareBits: [1, 524280],
  word: [8, 256],
  bits: [1, 64],
  shift: [0, 255],
  bit: [0, 255],
  slot: [0, 65535],
  inputBytes: [0, 65535],
  outputBytes: [0, 65535],
  inputOffset: [0, 65535],
  outputOffset: [0, 65535],
  length: [0, 65535],
};

/** What is wrong with the whole number of a key, or null. The width of a word is a multiple of 8. */
export function wholeProblem(key: string, value: unknown): string | null {
  const [min, max] = wholeNumbers[key]!;
  const fits = Number.isInteger(value) && (value as number) >= min && (value as number) <= max;
  const eights = key === "word" ? ", a multiple of 8" : "";
  return fits && (!eights || (value as number) % 8 === 0)
    ? null
    : `must be a whole number from ${min} to ${max}${eights}`;
}

// A literal is held to its shape by its types, but a generic parameter gets no excess-key check from the compiler, and a
// mistyped `limts` would be a limit lost in silence. So that every key is at least one of these is checked here.
const others = new Set(
  (
    "$schema format name title network byteOrder wordOrder placement limits modules inputs outputs group bitOrder accuracy " +
    "exclusive order packing alignment lengthMultiple type scale unit code specialCounts deadband onNetworkLoss signed fields " +
    "counts signal signalUnit value shape points"
  ).split(" "),
);

/** Whether a key is one of a description, at any level; keys that begin `x-` are free. */
export function isKey(key: string): boolean {
  return others.has(key) || key in wholeNumbers || key.startsWith("x-");
}
