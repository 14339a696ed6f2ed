/** Libraries that compile a description with `eval`. */
import { Parser } from "binary-parser";
import {
  type NumberSchema,
  type Schema,
  bitfield,
  createConverter,
  float32be,
  float32le,
  int16be,
  int16le,
  struct,
  uint8,
  uint16be,
  uint16le,
  uint32be,
  uint32le,
} from "structly";
import { type Peer, type Piece, piecesOf, scaling } from "./peer.js";

export const binaryParserPeer: Peer = {
  ...{ package: "binary-parser", kind: "with eval", lacks: "encode; scale (formatters of our own)" },
  ...{ gives: "values", bits: "named" },
  codec: (work) => {
    const parser = piecesOf(work).reduce((so, piece) => chained(so, piece), new Parser());
    return { decode: (b) => parser.parse(b) };
  },
};

// Bits are taken from the most significant down.
function chained(parser: Parser, piece: Piece): Parser {
  const { name, type, order, parts } = piece;
  if (parts.length > 0)
    return [...parts].reverse().reduce((so, part) => {
      const { to } = scaling(part);
      const formatter = part.kind === "boolean" ? (bit: number) => bit === 1 : to;
      return (so as never as Record<string, (name: string, options: object) => Parser>)[`bit${part.bits}`]!(part.name, {
        formatter,
      });
    }, parser.endianness("big"));
  const method = { uint8: "uint8", uint16: "uint16", int16: "int16", uint32: "uint32", float32: "float" }[type];
  const suffix = order === "big" ? "be" : "le";
  const options = piece.line ? { formatter: scaling(piece).to } : {};
  return (parser as never as Record<string, (name: string, options: object) => Parser>)[`${method}${suffix}`]!(
    name,
    options,
  );
}

export const structlyPeer: Peer = {
  ...{
    package: "structly",
    kind: "with eval",
    lacks: "scale; bits in groups, as 0 and 1",
    gives: "counts",
    bits: "named",
  },
  codec: (work) => {
    const fields = piecesOf(work).map((piece) => [piece.name, structlyType(piece)]);
    const converter = createConverter(struct(Object.fromEntries(fields), { pack: 1 }));
    return {
      decode: (b) => converter.decode(b),
      encode: (values: object) => converter.encode(values) as Uint8Array,
    };
  },
};

const structlyBases: Readonly<Record<Piece["type"], Readonly<Record<Piece["order"], NumberSchema>>>> = {
  uint8: { big: uint8, little: uint8 },
  uint16: { big: uint16be, little: uint16le },
  int16: { big: int16be, little: int16le },
  uint32: { big: uint32be, little: uint32le },
  float32: { big: float32be, little: float32le },
};

function structlyType({ type, order, parts }: Piece): Schema {
  const base = structlyBases[type][order];
  return parts.length > 0 ? bitfield(Object.fromEntries(parts.map(({ name, bits }) => [name, bits])), base) : base;
}
