// What holds for every station: properties over random valid ones, and over whatever somebody may take for one.

import { station } from "@byterail/testkit";
import { Ajv2020 } from "ajv/dist/2020.js";
import {
  acceptedValues,
  assemble,
  type ByteOrder,
  ByterailError,
  decode,
  decodeRaw,
  encode,
  encodeRaw,
  type ImageLayout,
  type Layout,
  networks,
  type NumberBase,
  type NumberPoint,
  type PlacedPoint,
  patch,
  patchRaw,
  type WordOrder,
} from "byterail";
import { byteMap, parseAddress, pointAddress } from "byterail/map";
import { examine, parseStation, parseStationText, stationSchema } from "byterail/schema";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mutated } from "../support/mutations.js";

/** A random valid station, assembled, with a random frame of each direction. */
const assembledStation = station().chain((description) => {
  const layout = assemble(description) as Layout;
  const frame = ({ byteLength }: ImageLayout) => fc.uint8Array({ minLength: byteLength, maxLength: byteLength });
  return fc
    .record({ inputs: frame(layout.inputs), outputs: frame(layout.outputs) })
    .map((frames) => ({ layout, frames }));
});

/** Its two images, each with a frame. */
const assembled = assembledStation.map(({ layout, frames }) => [
  { image: layout.inputs, frame: frames.inputs },
  { image: layout.outputs, frame: frames.outputs },
]);

/** Holds for both images of random stations. */
function holdsForImages(property: (image: ImageLayout, frame: Uint8Array) => void, numRuns = 50): void {
  fc.assert(
    fc.property(assembled, (both) => {
      for (const { image, frame } of both) property(image, frame);
    }),
    { numRuns },
  );
}

describe("lossless", () => {
  test("raw: every frame survives, spares aside", () => {
    holdsForImages((image, frame) => {
      const back = encodeRaw(image, decodeRaw(image, frame));
      expect(back).toEqual(onlyPoints(image, frame));
      expect(decodeRaw(image, back)).toEqual(decodeRaw(image, frame));
    });
  });

  test("values: every valid pattern in the allowed range survives", () => {
    const count = { kept: 0, refused: 0 };
    holdsForImages((image, frame) => {
      const values = decode(image, frame);
      for (const point of image.points) {
        const bytes = new Uint8Array(image.byteLength);
        try {
          patch(image, bytes, { [point.name]: values[point.name]! });
        } catch (error) {
          expect(error).toBeInstanceOf(ByterailError);
          expect([point, values[point.name]]).toSatisfy(() => mayBeRefused(point, image, values[point.name]!));
          count.refused++;
          continue;
        }
        if (isReal(point) && (point.description as NumberBase).scale) continue; // plain real arithmetic, not exact
        const raw = decodeRaw(image, frame)[point.name];
        if (hasTwoZeros(point) && Object.is(raw, -0)) continue; // what −0 and 0 stand for is one value
        expect(decodeRaw(image, bytes)[point.name]).toEqual(raw);
        count.kept++;
      }
    });
    expect(count.kept).toBeGreaterThan(100);
  });

  test("a whole frame of values, where no point refuses its own", () => {
    let kept = 0;
    holdsForImages((image, frame) => {
      const values = decode(image, frame);
      if (
        image.points.some(
          (point) => mayBeRefused(point, image, values[point.name]!) || hasTwoZeros(point) || isReal(point),
        )
      )
        return;
      expect(encode(image, values)).toEqual(onlyPoints(image, frame));
      kept++;
    });
    expect(kept).toBeGreaterThan(5);
  });
});

describe("bits", () => {
  test("changing one point changes only its own", () => {
    holdsForImages((image, frame) => {
      const inverse = frame.map((byte) => ~byte);
      const others = decodeRaw(image, inverse);
      for (const point of image.points) {
        const bytes = patchRaw(image, frame.slice(), { [point.name]: others[point.name]! });
        const expected = frame.slice();
        for (const [byte, bit] of bitsOf(point)) expected[byte]! ^= 1 << bit;
        expect(bytes).toEqual(expected);
      }
    }, 20);
  });

  test("no two points share one, and none leaves the image", () => {
    holdsForImages((image) => {
      const places = image.points.flatMap(bitsOf).map(([byte, bit]) => 8 * byte + bit);
      expect(new Set(places).size).toBe(places.length);
      expect(places.every((place) => place >= 0 && place < 8 * image.byteLength)).toBe(true);
    });
  });

  test("spares and gaps lie where no point does, inside the image", () => {
    holdsForImages((image) => {
      const used = new Set(image.points.flatMap((point) => bitsOf(point).map(([byte]) => byte)));
      const unused = image.gaps.map(({ byte, bytes }) => [byte, bytes] as const);
      for (const { byte, bit, bits } of image.spares) if (bit === null) unused.push([byte, bits / 8]);
      const bytes = unused.flatMap(([first, size]) => Array.from({ length: size }, (_, k) => first + k));
      expect(bytes.filter((byte) => used.has(byte) || byte >= image.byteLength)).toEqual([]);
    });
  });
});

test("a plain number is its bytes, put most significant first by the nearest order", () => {
  let read = 0;
  fc.assert(
    fc.property(assembledStation, ({ layout, frames }) => {
      for (const direction of ["inputs", "outputs"] as const) {
        const raw = decodeRaw(layout[direction], frames[direction]);
        for (const { name, module, type, byte, bits, description } of layout[direction].points) {
          if (type === "bit" || type === "field" || "code" in description) continue;
          const home = layout.station.modules.find((other) => other.name === module)!;
          const own = description as NumberPoint;
          const network = layout.station.network && networks[layout.station.network];
          const byteOrder = own.byteOrder ?? home.byteOrder ?? layout.station.byteOrder ?? network!.byteOrder;
          const wordOrder = own.wordOrder ?? home.wordOrder ?? layout.station.wordOrder;
          const bytes = mostSignificantFirst(frames[direction].subarray(byte, byte + bits / 8), byteOrder, wordOrder);
          const pattern = BigInt(`0x${Buffer.from(bytes).toString("hex")}`);
          expect(BigInt(raw[name]!)).toBe(type.startsWith("int") ? BigInt.asIntN(bits, pattern) : pattern);
          read++;
        }
      }
    }),
    { numRuns: 100 },
  );
  expect(read).toBeGreaterThan(40);
});

test("in slot order and without pins offsets rise with the slot", () => {
  const inSlotOrder = station({
    networks: [],
    placement: ["packing", "alignment", "lengthMultiple", "group", "reserve"],
  });
  const plain = inSlotOrder.map((description) => ({
    ...description,
    modules: description.modules.map((module, k) => ({ ...module, slot: (7 * k) % 5 })),
  }));
  fc.assert(
    fc.property(plain, (description) => {
      const { inputs, outputs } = assemble(description);
      for (const { modules } of [inputs, outputs])
        modules.slice(1).forEach(({ slot, byte }, k) => {
          const before = modules[k]!;
          expect(slot).toBeGreaterThanOrEqual(before.slot);
          expect(byte).toBeGreaterThanOrEqual(before.byte);
        });
    }),
  );
});

test("addresses lead back to the point, counted in bytes or in words, from any start", () => {
  const options = fc.record({
    counting: fc.constantFrom("bytes" as const, "words" as const),
    start: fc.nat(32).map((n) => 8 * n),
  });
  fc.assert(
    fc.property(assembled, options, (both, how) => {
      for (const { image } of both) {
        for (const point of image.points) {
          const text = pointAddress(point, image.direction, how);
          if (text === null) continue;
          const [byte, bit] = point.kind === "boolean" ? bitsOf(point)[0]! : [point.byte, null];
          expect(parseAddress(text, how)).toMatchObject({ direction: image.direction, byte, bit });
        }
        expect(
          byteMap(image, how)
            .points.filter(({ type }) => type !== "spare")
            .map(({ address }) => address),
        ).toEqual(image.points.map((point) => pointAddress(point, image.direction, how)));
      }
    }),
  );
});

describe("validation throws nothing but its own error", () => {
  const ownError = (action: () => unknown) => {
    try {
      action();
    } catch (error) {
      expect(error).toBeInstanceOf(ByterailError);
      const { problems, message } = error as ByterailError;
      expect(problems.length).toBeGreaterThan(0);
      const odd = problems.filter(
        ({ code, path, message: text }) => !/^[a-z]\w*\.[a-z]\w*$/i.test(code) || !isLine(path) || !isLine(text),
      );
      expect(odd).toEqual([]);
      expect(message).toContain(problems[0]!.message);
    }
  };

  test("on any value", () => {
    const anything = fc.anything({
      withBigInt: true,
      withDate: true,
      withMap: true,
      withNullPrototype: true,
      withObjectString: true,
      withSparseArray: true,
      withTypedArray: true,
    });
    fc.assert(
      fc.property(anything, (value) => {
        ownError(() => parseStation(value));
        expect(examine(value).layout).toBeNull();
      }),
      { numRuns: 200 },
    );
  });

  test("on valid stations that met with an accident", () => {
    const count = { sound: 0, broken: 0 };
    fc.assert(
      fc.property(mutated(station()), (data) => {
        ownError(() => parseStation(data));
        ownError(() => parseStationText(JSON.stringify(data)));
        const { layout, problems } = examine(data);
        expect(layout === null).toBe(problems.length > 0);
        count[layout ? "sound" : "broken"]++;
      }),
      { numRuns: 300 },
    );
    expect(count.broken).toBeGreaterThan(50);
    expect(count.sound).toBeGreaterThan(3);
  });

  test("on any text, JSON or not", () => {
    const anyText = fc.uint16Array().map((units) => String.fromCharCode(...units));
    const json = fc.json({ maxDepth: 3 });
    const text = fc.oneof(
      anyText,
      json,
      json.map((whole) => whole.slice(0, -1)),
    );
    fc.assert(
      fc.property(text, (any) => ownError(() => parseStationText(any))),
      { numRuns: 100 },
    );
  });
});

describe("the JSON Schema (2020-12) says what the shape check says", () => {
  const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, strictTypes: false, strictRequired: false });
  const validate = ajv.compile(stationSchema);
  const isShape = (code: string) =>
    code.startsWith("type.") || code.startsWith("key.") || code === "name.illegal" || code === "format.newer";

  test("of valid stations: all pass", () => {
    fc.assert(
      fc.property(station(), (description) => {
        expect(validate(JSON.parse(JSON.stringify(description)))).toBe(true);
      }),
    );
  });

  test("of stations that met with an accident: schema and check agree", () => {
    const count = { valid: 0, invalid: 0 };
    fc.assert(
      fc.property(mutated(station()), (data) => {
        const { problems } = examine(data);
        const shape = problems.filter(({ code }) => isShape(code));
        // The schema also sees that an output of an exclusive group has no name; the check says that there is none such.
        const refused = shape.length > 0 || problems.some(({ code }) => code === "exclusive.unknown");
        const valid = validate(data) as boolean;
        if (shape.length > 0) expect([valid, shape]).toEqual([false, shape]);
        else if (!refused) expect([valid, problems]).toEqual([true, problems]);
        count[shape.length === 0 ? "valid" : "invalid"]++;
      }),
      { numRuns: 300 },
    );
    expect(count.valid).toBeGreaterThan(5);
    expect(count.invalid).toBeGreaterThan(100);
  });
});

/** The bytes of a number most significant first, by the definition of the two orders. */
function mostSignificantFirst(bytes: Uint8Array, byteOrder: ByteOrder, wordOrder: WordOrder | undefined): number[] {
  const pairs = bytes.length >= 4;
  const size = pairs ? 2 : bytes.length;
  const words = Array.from({ length: bytes.length / size }, (_, k) => [...bytes.subarray(size * k, size * (k + 1))]);
  if (byteOrder === "little") for (const word of words) word.reverse();
  if (pairs && (wordOrder ?? (byteOrder === "big" ? "highFirst" : "lowFirst")) === "lowFirst") words.reverse();
  return words.flat();
}

/** Image byte and bit of every bit of a point, lowest first. */
function bitsOf({ positions, low, bits }: PlacedPoint): (readonly [byte: number, bit: number])[] {
  return Array.from({ length: bits }, (_, k) => [positions[(low + k) >> 3]!, (low + k) & 7] as const);
}

/** Whether a text of a problem fits in one line and says something. */
function isLine(text: unknown): boolean {
  return typeof text === "string" && text !== "" && ![...text].some((character) => character < " ");
}

function onlyPoints(image: ImageLayout, frame: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(image.byteLength);
  for (const point of image.points) for (const [byte, bit] of bitsOf(point)) bytes[byte]! |= frame[byte]! & (1 << bit);
  return bytes;
}

/** Whether encode has a reason to refuse what decode gave: no number, a report, or beyond the limits. */
function mayBeRefused(point: PlacedPoint, { direction }: ImageLayout, value: boolean | number | bigint): boolean {
  if (typeof value === "boolean") return false;
  if (typeof value === "number" && !Number.isFinite(value)) return true;
  const { specialCounts } = point.description as NumberBase;
  const limits = acceptedValues(point, direction);
  return specialCounts !== undefined || (limits !== null && (value < limits[0] || value > limits[1]));
}

function isReal({ kind }: PlacedPoint): boolean {
  return kind === "real";
}

function hasTwoZeros({ code, description }: PlacedPoint): boolean {
  return code === "signMagnitude" && (description as NumberBase).scale !== undefined;
}
