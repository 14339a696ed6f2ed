/** Libraries that interpret a description, without `eval`. */
import structjs from "@aksel/structjs";
import { deserialize, serialize } from "binary-layout";
import pythonStruct from "python-struct";
import {
  Bitfield,
  Struct,
  floatbe,
  floatle,
  int16be,
  int16le,
  uint8,
  uint16be,
  uint16le,
  uint32be,
  uint32le,
} from "restructure";
import { View } from "structurae";
import { parting, type Peer, type Piece, piecesOf, scaling } from "./peer.js";

const { pack, unpack } = pythonStruct;

const letters = { uint8: "B", uint16: "H", int16: "h", uint32: "I", float32: "f" };
const sizes = { uint8: 1, uint16: 2, int16: 2, uint32: 4, float32: 4 };

// A format has one byte order; where a station has two, each gets a format of its own that skips the other's bytes.
function formatsOf(pieces: readonly Piece[]): { format: string; members: readonly number[] }[] {
  const orders = [...new Set(pieces.filter(({ type }) => type !== "uint8").map(({ order }) => order))];
  return orders.map((order, k) => {
    const isOwn = (piece: Piece) => piece.order === order || (k === 0 && piece.type === "uint8");
    const members = pieces.flatMap((piece, index) => (isOwn(piece) ? [index] : []));
    const text = pieces.map((piece) => (isOwn(piece) ? letters[piece.type] : `${sizes[piece.type]}x`)).join("");
    return { format: (order === "big" ? ">" : "<") + text, members };
  });
}

const arrays = "names, bits, scale; an array per byte order";

export const structjsPeer: Peer = {
  ...{ package: "@aksel/structjs", kind: "without eval", lacks: arrays, gives: "counts", bits: "words" },
  codec: (work) => {
    const structs = formatsOf(piecesOf(work)).map(({ format }) => structjs(format));
    const [first, second] = structs;
    if (second)
      return {
        decode: (b) => [first!.unpack_from(b.buffer, b.byteOffset), second.unpack_from(b.buffer, b.byteOffset)],
      };
    return {
      decode: (b) => [first!.unpack_from(b.buffer, b.byteOffset)],
      encode: ([values]: number[][]) => new Uint8Array(first!.pack(...values!)),
    };
  },
};

export const pythonStructPeer: Peer = {
  ...{ package: "python-struct", kind: "without eval", lacks: arrays, gives: "counts", bits: "words" },
  codec: (work) => {
    const formats = formatsOf(piecesOf(work)).map(({ format }) => format);
    const [first, second] = formats as [string, string | undefined];
    const buffer = ({ buffer, byteOffset, length }: Uint8Array) => Buffer.from(buffer, byteOffset, length);
    if (second) return { decode: (b) => [unpack(first, buffer(b)), unpack(second, buffer(b))] };
    return { decode: (b) => [unpack(first, buffer(b))], encode: ([values]: number[][]) => pack(first, values!) };
  },
};

export const structuraePeer: Peer = {
  ...{ package: "structurae", kind: "without eval", lacks: "big-endian, bits, scale" },
  ...{ gives: "counts", bits: "words", only: "little" },
  codec: (work) => {
    const properties = Object.fromEntries(
      piecesOf(work).map(({ name, type }) => [name, { type: "number", btype: type }]),
    );
    // Left to itself it compiles the constructor of its results with `new Function`.
    function Plain() {}
    const ObjectView = new View().create(
      { $id: work.id, type: "object", properties } as never,
      Plain as never,
    ) as never as {
      new (buffer: ArrayBufferLike, offset: number, length: number): { toJSON(): object };
      from(values: object): DataView;
    };
    return {
      decode: (b) => new ObjectView(b.buffer, b.byteOffset, b.length).toJSON(),
      encode: (values: object) => new Uint8Array(ObjectView.from(values).buffer),
    };
  },
};

export const restructurePeer: Peer = {
  ...{
    package: "restructure",
    kind: "without eval",
    lacks: "scale and packed words (types of our own); bits in groups",
  },
  ...{ gives: "values", bits: "named" },
  codec: (work) => {
    const fields = piecesOf(work).map((piece) => [piece.name, restructureType(piece)]);
    const struct = new Struct(Object.fromEntries(fields));
    return { decode: (b) => struct.fromBuffer(b), encode: (values: object) => struct.toBuffer(values) };
  },
};

const restructureBases = {
  uint8: { big: uint8, little: uint8 },
  uint16: { big: uint16be, little: uint16le },
  int16: { big: int16be, little: int16le },
  uint32: { big: uint32be, little: uint32le },
  float32: { big: floatbe, little: floatle },
};

function restructureType(piece: Piece) {
  const { type, order, parts } = piece;
  const base = restructureBases[type][order];
  if (type === "uint8")
    return new Bitfield(
      base,
      parts.map(({ name }) => name),
    );
  if (type === "float32") return base;
  const { to, from } = parts.length > 0 ? parting(piece) : scaling(piece);
  return {
    size: () => base.size(),
    decode: (stream: unknown) => to(base.decode(stream)),
    encode: (stream: unknown, value: never) => base.encode(stream, from(value)),
  };
}

export const binaryLayoutPeer: Peer = {
  ...{
    package: "binary-layout",
    kind: "without eval",
    lacks: "scale, bits, reals (conversions of our own); bits in groups",
  },
  ...{ gives: "values", bits: "named" },
  codec: (work) => {
    const layout = piecesOf(work).map(layoutItem) as never;
    return { decode: (b) => deserialize(layout, b as never), encode: (values) => serialize(layout, values) as never };
  },
};

function layoutItem(piece: Piece) {
  const { name, type, order, parts } = piece;
  const size = sizes[type];
  if (type === "float32") {
    const word = new Uint32Array(1);
    const real = new Float32Array(word.buffer);
    const custom = {
      to: (bits: number) => {
        word[0] = bits;
        return real[0];
      },
      from: (value: number) => {
        real[0] = value;
        return word[0];
      },
    };
    return { name, binary: "uint", size, endianness: order, custom };
  }
  const custom = parts.length > 0 ? parting(piece) : scaling(piece);
  return { name, binary: type === "int16" ? "int" : "uint", size, endianness: order, custom };
}
