/** What is done to a frame before it is read, where the fault is in how it was captured and no description can say it. */
import type { Frames } from "./base.js";
import type { FrameEdit } from "./hypothesis.js";

/** The frames of an observation after an edit. */
export function edited(frames: Frames, edit: FrameEdit): Frames {
  const bytes = frames[edit.direction];
  return bytes ? { ...frames, [edit.direction]: editedBytes(bytes, edit) } : frames;
}

/** The bytes of a frame after an edit. */
export function editedBytes(bytes: Uint8Array, { does, bytes: count }: FrameEdit): Uint8Array {
  switch (does) {
    case "lacksFirstBytes": {
      const whole = new Uint8Array(count + bytes.length);
      whole.set(bytes, count);
      return whole;
    }
    case "startsWithHeader":
      return bytes.subarray(count);
    case "reverseBits":
      return bytes.map(reversed);
    case "exchangeRegisterBytes":
      // The last byte of an odd frame has no other to be exchanged with.
      return bytes.map((byte, k) => bytes[k ^ 1] ?? byte);
  }
}

/** A bit of a frame, counted from the least significant of its byte, and how many bytes the frame has. */
export interface BitPlace {
  readonly byte: number;
  readonly bit: number;
  readonly length: number;
}

/** Where a bit of an edited frame stands in the frame as it was captured; before byte 0 where the frame lacks it. */
export function captured({ byte, bit, length }: BitPlace, { does, bytes: count }: FrameEdit): BitPlace {
  switch (does) {
    case "lacksFirstBytes":
      return { byte: byte - count, bit, length: length - count };
    case "startsWithHeader":
      return { byte: byte + count, bit, length: length + count };
    case "reverseBits":
      return { byte, bit: 7 - bit, length };
    case "exchangeRegisterBytes":
      return { byte: (byte ^ 1) < length ? byte ^ 1 : byte, bit, length };
  }
}

function reversed(byte: number): number {
  let turned = 0;
  for (let bit = 0; bit < 8; bit++) turned |= ((byte >> bit) & 1) << (7 - bit);
  return turned;
}
