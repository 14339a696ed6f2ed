/**
 * What one direction declares: a data type with the values of its points and, as variables of one list, the image as an
 * array of bytes, the counts of every point that has an address, and the values as the data type, for a program to fill.
 */
import { type Direction, type PlacedPoint, type Problem, unitOf } from "byterail";
import { type AddressOptions, formatAddress, pointAddress } from "byterail/map";
import type { Source } from "../target.js";
import { xmlClean } from "../xml.js";
import { identifiers } from "./identifiers.js";
import { locatedType, valueType } from "./types.js";

/** An element as the builder takes it: `@` begins an attribute, `#text` is the text, the order of the keys counts. */
export type Element = { readonly [key: string]: string | Element | readonly Element[] };

/** The declarations of one direction. */
export interface Declarations {
  readonly dataTypes: readonly Element[];
  readonly globals: Element;
  readonly notes: readonly Problem[];
}

/** Declares one direction that has data. */
export function declarationsOf({ layout, options }: Source, direction: Direction): Declarations {
  const { points, byteLength } = layout[direction];
  const addresses = options.addresses?.[direction] ?? {};
  const real = options.arithmetic === "lreal" ? "LREAL" : "REAL";
  const { name: station } = layout.station;
  const base = `${station}_${direction === "inputs" ? "Inputs" : "Outputs"}`;
  const [typeName, list, bytes, values] = ["", "_Image", "_Bytes", "_Values"].map((end) =>
    identifiers([base + end], "station").of(base + end),
  );
  const members = identifiers(
    points.map(({ name }) => name),
    direction,
  );
  // Inputs and outputs may share a name, and so may stations, but global variables are one scope. `_In_` is no `_Inputs_`.
  const prefix = `${station}_${direction === "inputs" ? "In" : "Out"}_`;
  const variables = identifiers(
    points.map(({ name }) => prefix + name),
    direction,
  );
  const located = points.flatMap((point) =>
    locatedVariable(variables.of(prefix + point.name), point, direction, addresses),
  );
  const member = (point: PlacedPoint) => ({
    "@name": members.of(point.name),
    type: { [valueType(point, real)]: {} },
    ...documentation(point, []),
  });
  const typed = { "@name": values!, type: { derived: { "@name": typeName! } } };
  return {
    // A structure without members is none.
    dataTypes:
      points.length === 0 ? [] : [{ "@name": typeName!, baseType: { struct: { variable: points.map(member) } } }],
    globals: {
      "@name": list!,
      variable: [image(bytes!, direction, byteLength, addresses), ...located, ...(points.length === 0 ? [] : [typed])],
    },
    notes: [...members.notes, ...variables.notes, ...withoutAddress(points.length - located.length, direction)],
  };
}

function image(name: string, direction: Direction, byteLength: number, addresses: AddressOptions): Element {
  const address = formatAddress({ direction, size: "B", byte: 0, bit: null }, addresses)!;
  const dimension = { "@lower": "0", "@upper": String(byteLength - 1) };
  return { "@name": name, "@address": address, type: { array: { dimension, baseType: { BYTE: {} } } } };
}

function locatedVariable(name: string, point: PlacedPoint, direction: Direction, addresses: AddressOptions): Element[] {
  const address = pointAddress(point, direction, addresses);
  if (address === null) return [];
  return [
    { "@name": name, "@address": address, type: { [locatedType(point)]: {} }, ...documentation(point, orderOf(point)) },
  ];
}

function documentation(point: PlacedPoint, more: readonly string[]): { documentation?: Element } {
  const { title } = point.description;
  const words = [...[title, unitOf(point)].map((text) => xmlClean(text ?? "")), ...more].filter(Boolean);
  return words.length === 0
    ? {}
    : { documentation: { p: { "@xmlns": "http://www.w3.org/1999/xhtml", "#text": words.join("; ") } } };
}

// The order in which the bytes travel, for whoever has to compare it with the controller's.
function orderOf({ positions, code, kind }: PlacedPoint): string[] {
  if (kind === "boolean") return [];
  const coded = code === null || code === "unsigned" || code === "twosComplement" ? [] : [`code ${code}`];
  return [
    ...coded,
    positions.length > 1 ? `counts, in bytes ${positions.join(", ")} from the least significant up` : "counts",
  ];
}

function withoutAddress(count: number, direction: Direction): Problem[] {
  if (count === 0) return [];
  const which = count === 1 ? "1 point has" : `${count} points have`;
  const message = `${which} no variable: no address can tell several bits of a word, 24 bits, or a place between two words`;
  return [{ code: "plcopen.noAddress", path: direction, message }];
}
