/** Random entries of a module: bits, numbers, packed words, spares. Names are given afterwards, when all are known. */
import {
  type BitPoint,
  type ByteOrder,
  codeOf,
  type CountsCode,
  type Direction,
  type Entry,
  type Field,
  type NumberField,
  type NumberPoint,
  type NumberType,
  type PackedWord,
  type WordOrder,
} from "byterail";
import fc from "fast-check";
import { type NumberSeed, numberKeys, numberSeeds, titles } from "./numbers.js";
import type { Allowed } from "./options.js";
import { oneOf, record, when } from "./pick.js";

export const byteOrders: fc.Arbitrary<ByteOrder> = oneOf("big", "little");
export const wordOrders: fc.Arbitrary<WordOrder> = oneOf("highFirst", "lowFirst");

/** The entries of a module in one direction. */
export function entries(allowed: Allowed, direction: Direction): fc.Arbitrary<Entry[]> {
  const [minLength, maxLength] = allowed.entries;
  const has = (...types: readonly string[]) => allowed.types.some((type) => types.includes(type));
  const numberTypes = allowed.types.filter((type): type is NumberType => /^(u?int|float)/.test(type));
  const ofBits: fc.Arbitrary<Entry>[] = [
    ...(has("bit") ? [bitPoints(allowed, direction)] : []),
    ...(has("spareBits") ? [record<Entry>({ spareBits: fc.integer({ min: 1, max: 9 }) })] : []),
  ];
  const all = [
    ...ofBits.slice(0, 1),
    ...(numberTypes.length > 0 ? [numberPoints(allowed, direction, numberTypes)] : []),
    ...(has("word") ? [packedWords(allowed, direction)] : []),
    ...ofBits.slice(1),
    ...(has("spare") ? [record<Entry>({ spare: fc.integer({ min: 1, max: 3 }) })] : []),
  ];
  if (all.length === 0) return fc.constant([]);
  const list = (kinds: readonly fc.Arbitrary<Entry>[]) =>
    fc.array(fc.oneof({ withCrossShrink: true }, ...kinds), { minLength, maxLength });
  // Modules of bits alone are packed in their own way, and so must come often enough.
  return ofBits.length > 0 && all.length > ofBits.length ? fc.oneof(list(all), list(ofBits)) : list(all);
}

function bitPoints({ extras }: Allowed, direction: Direction): fc.Arbitrary<BitPoint> {
  const lost = { onNetworkLoss: { onNetworkLoss: oneOf<"off" | "hold" | boolean>("off", "hold", true, false) } };
  return record<BitPoint>(
    { name: fc.constant(""), type: fc.constant("bit") },
    { ...when(extras, { title: { title: titles } }), ...(direction === "outputs" && when(extras, lost)) },
  );
}

function numberPoints(allowed: Allowed, direction: Direction, types: readonly NumberType[]): fc.Arbitrary<NumberPoint> {
  const seeds = record<{ type: NumberType; seed: NumberSeed; byteOrder?: ByteOrder; wordOrder?: WordOrder }>(
    { type: oneOf(...types), seed: numberSeeds(allowed, direction) },
    when(allowed.extras, { orders: { byteOrder: byteOrders, wordOrder: wordOrders } }),
  );
  return seeds.map(({ type, seed, byteOrder, wordOrder }) => {
    const bits = Number(/\d+/.exec(type)![0]);
    const code = seed.code && suits(seed.code, type) ? seed.code : undefined;
    const plain = type.startsWith("u") ? "unsigned" : "twosComplement";
    const counting = type.startsWith("float") ? null : codeOf(code ?? plain, bits);
    return {
      name: "",
      type,
      ...(code && { code }),
      ...(byteOrder && { byteOrder }),
      ...(wordOrder && bits >= 32 && { wordOrder }),
      ...numberKeys(seed, counting),
    };
  });
}

function suits(code: CountsCode, type: NumberType): boolean {
  return type.startsWith(code === "bcd" ? "uint" : "int");
}

interface FieldSeed {
  readonly gap: number;
  readonly bits: number;
  readonly number?: NumberSeed;
  readonly signed?: boolean;
  readonly title?: string;
}

// Fields are laid from bit 0 up with gaps, so that none overlaps; what does not fit in the word is left out.
function packedWords(allowed: Allowed, direction: Direction): fc.Arbitrary<PackedWord> {
  const field = record<FieldSeed>(
    {
      gap: fc.integer({ min: 0, max: 3 }),
      bits: fc.oneof(fc.integer({ min: 1, max: 16 }), fc.integer({ min: 1, max: 64 })),
    },
    {
      number: numberSeeds(allowed, direction),
      signed: fc.boolean(),
      ...when(allowed.extras, { title: { title: titles } }),
    },
  );
  const seeds = record<{ word: number; fields: FieldSeed[]; byteOrder?: ByteOrder; wordOrder?: WordOrder }>(
    {
      word: oneOf(16, 8, 24, 32, 40, 48, 64, 72, 128, 256),
      fields: fc.array(field, { minLength: Math.min(1, allowed.entries[0]), maxLength: 8 }),
    },
    when(allowed.extras, { orders: { byteOrder: byteOrders, wordOrder: wordOrders } }),
  );
  return seeds.map(({ word, fields, byteOrder, wordOrder }) => ({
    word,
    fields: laid(fields, word),
    ...(byteOrder && { byteOrder }),
    ...(wordOrder && word >= 32 && word % 16 === 0 && { wordOrder }),
  }));
}

function laid(seeds: readonly FieldSeed[], word: number): Field[] {
  let next = 0;
  return seeds.flatMap((seed): Field[] => {
    const shift = Math.min(next + seed.gap, word);
    const bits = seed.number ? Math.min(seed.bits, word - shift) : 1;
    if (shift + bits > word || bits < 1) return [];
    next = shift + bits;
    return [seed.number ? numberField(seed, seed.number, bits, shift) : { name: "", bit: shift, ...titled(seed) }];
  });
}

function numberField({ signed }: FieldSeed, seed: NumberSeed, bits: number, shift: number): NumberField {
  const { code } = seed;
  const sign = code ? { code } : signed === undefined ? {} : { signed };
  const counting = codeOf(code ?? (signed ? "twosComplement" : "unsigned"), bits);
  return { name: "", bits, shift, ...sign, ...numberKeys(seed, counting) };
}

function titled({ title }: { readonly title?: string }): { readonly title?: string } {
  return title === undefined ? {} : { title };
}
