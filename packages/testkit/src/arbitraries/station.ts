/** Random valid stations, over everything that a description can say; they shrink to one module with one plain point. */
import type { Accuracy, BitOrder, ByteOrder, Entry, Module, NetworkId, Placement, Station, WordOrder } from "byterail";
import fc from "fast-check";
import { byteOrders, entries, wordOrders } from "./entries.js";
import { fitted, type Wishes } from "./fit.js";
import { named } from "./names.js";
import { titles } from "./numbers.js";
import { type Allowed, allowedBy, type StationOptions } from "./options.js";
import { oneOf, record, when } from "./pick.js";
import { accuracies } from "./scales.js";

/**
 * Random stations. Whatever comes out assembles without a problem. A failing station shrinks towards one module, one bit,
 * plain names, no scale and no rule of placement.
 *
 * @example
 * ```ts
 * import { assemble, decodeRaw, encodeRaw } from "byterail";
 * import { station } from "@byterail/testkit";
 * import fc from "fast-check";
 * const bits = station({ types: ["bit"], modules: [1, 3], entries: [1, 16], directions: ["inputs"] });
 * fc.assert(fc.property(bits, (description) => assemble(description).inputs.points.length > 0), { numRuns: 20 });
 * ```
 * @param options what may occur in them; by default everything
 */
export function station(options: StationOptions = {}): fc.Arbitrary<Station> {
  const allowed = allowedBy(options);
  const [minLength, maxLength] = allowed.modules;
  const rules = allowed.directions.map((direction) => [direction, placements(allowed)] as const);
  const optional = {
    ...(allowed.networks.length > 0 && { network: oneOf(...allowed.networks), ownByteOrder: fc.constant(true) }),
    ...(allowed.placement.length > 0 && { placement: record({}, Object.fromEntries(rules)) }),
    ...when(allowed.placement, { length: { length: record({}, { inputs: fc.nat(3), outputs: fc.nat(3) }) } }),
    ...when(allowed.extras, {
      orders: { wordOrder: wordOrders },
      title: { title: titles },
      awkwardNames: { names: oneOf("shared", "long") },
    }),
  };
  return record<StationSeed>(
    { byteOrder: byteOrders, modules: fc.array(moduleSeeds(allowed), { minLength, maxLength }) },
    optional,
  ).map(made);
}

interface StationSeed {
  readonly byteOrder: ByteOrder;
  readonly modules: readonly ModuleSeed[];
  readonly network?: NetworkId;
  readonly ownByteOrder?: true;
  readonly placement?: { readonly inputs?: Placement; readonly outputs?: Placement };
  readonly length?: { readonly inputs?: number; readonly outputs?: number };
  readonly wordOrder?: WordOrder;
  readonly title?: string;
  readonly names?: "shared" | "long";
}

interface ModuleSeed {
  readonly inputs?: Entry[];
  readonly outputs?: Entry[];
  readonly bitOrder?: BitOrder;
  readonly byteOrder?: ByteOrder;
  readonly wordOrder?: WordOrder;
  readonly group?: "bits" | "words";
  readonly slot?: number;
  readonly accuracy?: Accuracy;
  readonly title?: string;
  readonly exclusive?: true;
  /** Bytes to reserve beyond the points, and to leave before a pin. */
  readonly reserve?: { readonly inputs?: number; readonly outputs?: number };
  readonly pin?: { readonly inputs?: number; readonly outputs?: number };
}

function placements({ placement }: Allowed): fc.Arbitrary<Placement> {
  return record<Placement>(
    {},
    when(placement, {
      order: { order: oneOf("slot", "wordsFirst") },
      packing: { packing: oneOf("byte", "bit") },
      alignment: { alignment: oneOf(1, 2, 4) },
      bitOrder: { bitOrder: oneOf("lsbFirst", "msbFirst") },
      lengthMultiple: { lengthMultiple: oneOf(1, 2, 4, 8) },
    }),
  );
}

function moduleSeeds(allowed: Allowed): fc.Arbitrary<ModuleSeed> {
  const sides = record({}, { inputs: fc.nat(5), outputs: fc.nat(5) });
  const data = Object.fromEntries(allowed.directions.map((direction) => [direction, entries(allowed, direction)]));
  const optional = {
    ...when(allowed.placement, {
      bitOrder: { bitOrder: oneOf("lsbFirst", "msbFirst") },
      group: { group: oneOf("bits", "words") },
      slot: { slot: fc.nat(9) },
      reserve: { reserve: sides },
      pin: { pin: sides },
    }),
    ...when(allowed.extras, {
      orders: { byteOrder: byteOrders, wordOrder: wordOrders },
      accuracy: { accuracy: accuracies },
      title: { title: titles },
      exclusive: { exclusive: fc.constant(true) },
    }),
  };
  return allowed.entries[0] > 0 ? record(data, optional) : record({}, optional, data);
}

function made({
  byteOrder,
  modules,
  network,
  ownByteOrder,
  placement,
  length,
  wordOrder,
  title,
  names,
}: StationSeed): Station {
  const wishes: Wishes = {
    reserves: modules.map(({ reserve }) => reserve ?? {}),
    pins: modules.map(({ pin }) => pin ?? {}),
    lengths: length ?? {},
    network: network ?? null,
    byteOrder: ownByteOrder ? "own" : "ofNetwork",
  };
  const plain = named(modules.map(plugged), names ?? "plain");
  return fitted(
    {
      format: 1,
      name: "station",
      ...(title !== undefined && { title }),
      byteOrder,
      ...(wordOrder && { wordOrder }),
      ...(placement && { placement }),
      modules: plain,
    },
    wishes,
  );
}

/** A module without what is fitted afterwards; `exclusive` groups the first two boolean outputs, once they have names. */
function plugged({ reserve: _, pin: __, exclusive, ...module }: ModuleSeed): Omit<Module, "name" | "exclusive"> & {
  readonly groups: boolean;
} {
  return { ...module, groups: exclusive === true };
}
