/** What is done to a frame before it is read, where the fault is in how it was captured and no description can say it. */
import { fromRegisters, toRegisters } from "byterail/frames";
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
    case "exchangeRegisterBytes": {
      // The last byte of an odd frame has no other to be exchanged with.
      const even = bytes.length - (bytes.length % 2);
      const exchanged = Uint8Array.from(bytes);
      exchanged.set(fromRegisters(toRegisters(bytes.subarray(0, even), "first"), "second"));
      return exchanged;
    }
  }
}

function reversed(byte: number): number {
  let turned = 0;
  for (let bit = 0; bit < 8; bit++) turned |= ((byte >> bit) & 1) << (7 - bit);
  return turned;
}
