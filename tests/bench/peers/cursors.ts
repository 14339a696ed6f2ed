/** Cursors: the user writes one call a value, by hand; scale and bits are the user's code too. */
import { compileFunction } from "node:vm";
import { IOBuffer } from "iobuffer";
import { SmartBuffer } from "smart-buffer";
import type { Value } from "../byHand.js";
import { type Peer, type Piece, piecesOf } from "./peer.js";

const lacks = "scale and bits (code by hand around it)";

export const smartBufferPeer: Peer = {
  ...{ package: "smart-buffer", kind: "cursor", lacks, gives: "values", bits: "named" },
  codec: (work) => {
    const methods = { uint8: "UInt8", uint16: "UInt16", int16: "Int16", uint32: "UInt32", float32: "Float" };
    const call = ({ type, order }: Piece) => methods[type] + (type === "uint8" ? "" : order === "big" ? "BE" : "LE");
    const pieces = piecesOf(work);
    const open = "const c = SmartBuffer.fromBuffer(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length));";
    return {
      decode: compiled("bytes", open, ...reading(pieces, (piece) => `c.read${call(piece)}()`)),
      encode: compiled(
        "values",
        `const c = SmartBuffer.fromSize(${work.inputs.byteLength});`,
        ...writing(pieces, (piece, text) => `c.write${call(piece)}(${text});`),
        "return c.toBuffer();",
      ),
    };
  },
};

export const ioBufferPeer: Peer = {
  ...{ package: "iobuffer", kind: "cursor", lacks, gives: "values", bits: "named" },
  codec: (work) => {
    const methods = { uint8: "Uint8", uint16: "Uint16", int16: "Int16", uint32: "Uint32", float32: "Float32" };
    const pieces = piecesOf(work);
    return {
      decode: compiled(
        "bytes",
        "const c = new IOBuffer(bytes);",
        ...reading(pieces, ({ type }) => `c.read${methods[type]}()`, turning(pieces)),
      ),
      encode: compiled(
        "values",
        `const c = new IOBuffer(${work.inputs.byteLength});`,
        ...writing(pieces, ({ type }, text) => `c.write${methods[type]}(${text});`, turning(pieces)),
        "return c.toArray();",
      ),
    };
  },
};

type Turn = (piece: Piece) => string;

// The cursor has one byte order at a time.
function turning(pieces: readonly Piece[]): Turn {
  let now = "";
  const turns = new Map(
    pieces.map((piece) => {
      if (piece.type === "uint8" || piece.order === now) return [piece, ""];
      now = piece.order;
      return [piece, `c.set${now === "big" ? "Big" : "Little"}Endian();`];
    }),
  );
  return (piece) => turns.get(piece)!;
}

function reading(pieces: readonly Piece[], read: (piece: Piece) => string, turn: Turn = () => ""): string[] {
  const entries = pieces.flatMap((piece) =>
    piece.parts.length > 0
      ? piece.parts.map((part) => `${part.name}: ${partText(part, piece.name)}`)
      : [`${piece.name}: ${scaled(piece, piece.name)}`],
  );
  return [
    ...pieces.map((piece) => `${turn(piece)} const ${piece.name} = ${read(piece)};`),
    `return { ${entries.join(", ")} };`,
  ];
}

function writing(
  pieces: readonly Piece[],
  write: (piece: Piece, text: string) => string,
  turn: Turn = () => "",
): string[] {
  return pieces.map((piece) => {
    const text = piece.parts.map((part) => `${unscaled(part, part.name)} << ${part.shift}`).join(" | ");
    return `${turn(piece)} ${write(piece, text || unscaled(piece, piece.name))}`;
  });
}

function partText(part: Value, word: string): string {
  if (part.kind === "boolean") return `(${word} & ${1 << part.shift}) !== 0`;
  return scaled(part, `(${word} >> ${part.shift} & ${2 ** part.bits - 1})`);
}

function scaled({ line }: Pick<Piece, "line">, counts: string): string {
  return line ? `(${line.a} * ${counts} + ${line.b}) / ${line.c}` : counts;
}

function unscaled({ line }: Pick<Piece, "line">, name: string): string {
  return line ? `Math.round((values.${name} * ${line.c} - ${line.b}) / ${line.a})` : `values.${name}`;
}

function compiled(parameter: string, ...lines: string[]): (given: unknown) => never {
  const text = `return function (${parameter}) {\n${lines.join("\n")}\n};`;
  return compileFunction(text, ["SmartBuffer", "IOBuffer"])(SmartBuffer, IOBuffer);
}
