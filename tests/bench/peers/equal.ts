/** Before a library is measured: what it decodes is what stands in the frame, and what it encodes is the frame again. */
import type { ByHand } from "../byHand.js";
import type { Workload } from "../workloads.js";
import { type Peer, type PeerCodec, type Piece, piecesOf } from "./peer.js";

/** Throws for the first difference. */
export function checkPeer({ decode, encode }: PeerCodec, peer: Peer, work: Workload, hand: ByHand): void {
  const pieces = piecesOf(work);
  for (const frame of work.frames) {
    const decoded = decode(frame);
    const wanted = peer.gives === "values" ? hand.decode(frame) : countsOf(pieces, frame, peer);
    if (Array.isArray(decoded)) compareArrays(decoded, pieces, wanted);
    else compare(flat(decoded as object), wanted);
    const again = encode?.(decoded as never);
    if (again && Buffer.compare(again, frame) !== 0) throw new Error(`encodes ${again}, not ${frame}`);
  }
}

function countsOf(pieces: readonly Piece[], frame: Uint8Array, { bits, only }: Peer): Record<string, number> {
  const view = new DataView(frame.buffer, frame.byteOffset, frame.length);
  const read = ({ type, order, byte }: Piece) => {
    const little = (only ?? order) === "little";
    if (type === "uint8") return view.getUint8(byte);
    if (type === "float32") return view.getFloat32(byte, little);
    if (type === "uint32") return view.getUint32(byte, little);
    return type === "int16" ? view.getInt16(byte, little) : view.getUint16(byte, little);
  };
  const entries = pieces.flatMap((piece): [string, number][] => {
    const word = read(piece);
    if (bits === "words" || piece.parts.length === 0) return [[piece.name, word]];
    return piece.parts.map(({ name, shift, bits }) => [name, (word >> shift) & (2 ** bits - 1)]);
  });
  return Object.fromEntries(entries);
}

// One array per byte order, each with its numbers in the order of the bytes.
function compareArrays(arrays: number[][], pieces: readonly Piece[], wanted: Record<string, boolean | number>): void {
  const orders = [...new Set(pieces.filter(({ type }) => type !== "uint8").map(({ order }) => order))];
  const got = orders.flatMap((order, k) =>
    pieces
      .filter((piece) => piece.order === order || (k === 0 && piece.type === "uint8"))
      .filter((piece) => k === 0 || piece.type !== "uint8")
      .map(({ name }, index) => [name, arrays[k]![index]!] as const),
  );
  compare(Object.fromEntries(got), wanted);
}

function compare(got: Record<string, unknown>, wanted: Record<string, boolean | number>): void {
  const names = Object.keys(wanted);
  if (Object.keys(got).length !== names.length)
    throw new Error(`${Object.keys(got).length} values, not ${names.length}`);
  for (const name of names)
    if (Number(got[name]) !== Number(wanted[name])) throw new Error(`${name} is ${got[name]}, not ${wanted[name]}`);
}

// Groups of bits laid flat.
function flat(values: object): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(values).flatMap(([name, value]) =>
      typeof value === "object" && value !== null ? Object.entries(value) : [[name, value]],
    ),
  );
}
