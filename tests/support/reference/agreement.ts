/** Whether the library and the reference say the same of a frame; the differences, as texts. */
import { assemble, decode, decodeRaw, encodeRaw, type ImageLayout, type Station } from "byterail";
import { isNearest } from "../rational.js";
import { referenceDecode, referenceLength, type ReferenceValue } from "./decode.js";

/** Differences between the library and the reference, over frames made for each image. */
export function differences(station: Station, framesOf: (image: ImageLayout) => readonly Uint8Array[]): string[] {
  const layout = assemble(station);
  return (["inputs", "outputs"] as const).flatMap((direction) => {
    const image = layout[direction] as ImageLayout;
    const length = referenceLength(station, direction);
    if (length !== image.byteLength) return [`${direction}: ${image.byteLength} bytes, by the rules ${length}`];
    return framesOf(image).flatMap((frame) => {
      const expected = referenceDecode(station, direction, frame);
      const [raw, values] = [decodeRaw(image, frame), decode(image, frame)] as Record<string, unknown>[];
      const extra =
        image.points.length === expected.length
          ? []
          : [`${direction}: ${image.points.length} points, by the rules ${expected.length}`];
      return [
        ...extra,
        ...expected.flatMap((each) => differencesOf(each, image, raw![each.name], values![each.name])),
        ...lossOf(image, frame),
      ];
    });
  });
}

function differencesOf(expected: ReferenceValue, image: ImageLayout, raw: unknown, value: unknown): string[] {
  const { name, byte, bit, bits } = expected;
  const point = image.points.find((each) => each.name === name);
  const place = `byte ${byte} bit ${bit} width ${bits}`;
  const got = point ? `byte ${point.byte} bit ${point.bit} width ${point.bits}` : "no place";
  return [
    ...(got === place ? [] : [`${name}: ${got}, by the rules ${place}`]),
    ...(sameRaw(raw, expected.raw) ? [] : [`${name}: raw ${String(raw)}, by the rules ${String(expected.raw)}`]),
    ...(sameValue(value, expected.value)
      ? []
      : [
          `${name}: ${String(value)}, by the rules ${JSON.stringify(expected.value, (_, x) => (typeof x === "bigint" ? `${x}` : x))}`,
        ]),
  ];
}

function sameRaw(raw: unknown, expected: ReferenceValue["raw"]): boolean {
  if (typeof expected === "boolean") return raw === expected;
  if (expected === "-0") return Object.is(raw, -0);
  if (typeof expected === "string") return raw === expected;
  return (typeof raw === "number" || typeof raw === "bigint") && !Object.is(raw, -0) && BigInt(raw) === expected;
}

function sameValue(value: unknown, expected: ReferenceValue["value"]): boolean {
  if (typeof expected === "boolean") return value === expected;
  if (typeof expected === "object") {
    if (typeof value === "bigint") return value * expected.over === expected.top;
    return typeof value === "number" && isNearest(value, expected);
  }
  if (typeof value !== "number") return false;
  // Roots, curves and scaled reals are plain arithmetic: the last digits depend on its order.
  return (
    Object.is(value, expected) || Math.abs(value - expected) <= 1e-9 * Math.max(1, Math.abs(value), Math.abs(expected))
  );
}

// Counts go back to the same bytes, spares aside.
function lossOf(image: ImageLayout, frame: Uint8Array): string[] {
  const once = encodeRaw(image, decodeRaw(image, frame));
  const twice = encodeRaw(image, decodeRaw(image, once));
  const lost = image.points.some(({ positions, low, bits }) =>
    Array.from({ length: bits }, (_, k) => low + k).some((place) => {
      const byte = positions[place >> 3]!;
      return ((frame[byte]! ^ once[byte]!) >> (place & 7)) & 1;
    }),
  );
  return lost || once.join() !== twice.join() ? [`${image.direction}: counts do not go back to their bytes`] : [];
}
