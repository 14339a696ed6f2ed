import { fromHex, toHex } from "byterail/frames";
import { describe, expect, test } from "vitest";
import { captured, edited, editedBytes } from "../../../../packages/commissioning/src/diagnose/frames.js";
import type { FrameEdit } from "../../../../packages/commissioning/src/diagnose/hypothesis.js";

const edit = (does: FrameEdit["does"], bytes = 0): FrameEdit => ({ direction: "inputs", does, bytes });

describe("the bytes of a frame after an edit", () => {
  test.each<[string, FrameEdit, string, string]>([
    ["bytes that it lacks are put first, as zeros", edit("lacksFirstBytes", 2), "0A 0B", "00 00 0A 0B"],
    ["a frame that lacks all", edit("lacksFirstBytes", 1), "", "00"],
    ["a header is left out", edit("startsWithHeader", 2), "A5 01 0A 0B 0C", "0A 0B 0C"],
    ["a header of the length of the frame", edit("startsWithHeader", 3), "A5 01 0A", ""],
    ["a header longer than the frame", edit("startsWithHeader", 4), "A5 01 0A", ""],
    // 01h = 0000 0001b; 0Bh = 0000 1011b; 6Eh = 0110 1110b.
    ["bits of every byte are turned round", edit("reverseBits"), "01 80 0B 6E FF 00", "80 01 D0 76 FF 00"],
    ["bytes of every register are exchanged", edit("exchangeRegisterBytes"), "01 02 03 04", "02 01 04 03"],
    ["the last byte of an odd frame stays", edit("exchangeRegisterBytes"), "01 02 03", "02 01 03"],
    ["a single byte stays", edit("exchangeRegisterBytes"), "01", "01"],
    ["no byte is none", edit("exchangeRegisterBytes"), "", ""],
  ])("%s", (_, change, before, after) => {
    const bytes = fromHex(before);
    expect(toHex(editedBytes(bytes, change))).toBe(after);
    expect(toHex(bytes), "the frame as it was captured").toBe(before);
  });

  test.each(["reverseBits", "exchangeRegisterBytes"] as const)("%s twice gives the frame as captured", (does) => {
    const all = Uint8Array.from({ length: 256 }, (_, k) => k);
    expect(editedBytes(editedBytes(all, edit(does)), edit(does))).toEqual(all);
  });
});

describe("the frames of an observation", () => {
  const frames = { inputs: fromHex("A5 0A"), outputs: fromHex("A5 0B") };

  test("only that of the direction is edited", () => {
    expect(edited(frames, edit("startsWithHeader", 1))).toEqual({ inputs: fromHex("0A"), outputs: fromHex("A5 0B") });
    expect(frames.inputs).toEqual(fromHex("A5 0A"));
  });

  test("where there is none of the direction, they stay as they are", () => {
    const outputs = { outputs: frames.outputs };
    expect(edited(outputs, edit("lacksFirstBytes", 1))).toBe(outputs);
  });
});

describe("where a bit of an edited frame stands in the frame as captured", () => {
  // Byte, bit and length of the frame: after the edit, and as captured.
  type Row = [string, FrameEdit, [number, number, number], [number, number, number]];
  test.each<Row>([
    ["behind two bytes that it lacks", edit("lacksFirstBytes", 2), [5, 3, 8], [3, 3, 6]],
    ["in a byte that it lacks", edit("lacksFirstBytes", 2), [1, 0, 8], [-1, 0, 6]],
    ["behind a header of two bytes", edit("startsWithHeader", 2), [5, 3, 8], [7, 3, 10]],
    ["in a byte turned round, the least significant", edit("reverseBits"), [5, 0, 8], [5, 7, 8]],
    ["in a byte turned round, bit 5", edit("reverseBits"), [5, 5, 8], [5, 2, 8]],
    ["in the first byte of a register", edit("exchangeRegisterBytes"), [4, 6, 6], [5, 6, 6]],
    ["in the second byte of a register", edit("exchangeRegisterBytes"), [5, 6, 6], [4, 6, 6]],
    ["in the last byte of an odd frame", edit("exchangeRegisterBytes"), [4, 6, 5], [4, 6, 5]],
  ])("%s", (_, change, [byte, bit, length], [capturedByte, capturedBit, capturedLength]) => {
    const place = { byte: capturedByte, bit: capturedBit, length: capturedLength };
    expect(captured({ byte, bit, length }, change)).toEqual(place);
  });

  // One bit is set in the frame; after the edit it stands where it is said to come from.
  test.each([
    edit("lacksFirstBytes", 1),
    edit("startsWithHeader", 2),
    edit("reverseBits"),
    edit("exchangeRegisterBytes"),
  ])("$does: every bit is found again, in even frames and odd ones", (change) => {
    for (const length of [4, 5])
      for (let k = 0; k < 8 * length; k++) {
        const bytes = new Uint8Array(length);
        bytes[k >> 3] = 1 << (k & 7);
        const after = editedBytes(bytes, change);
        after.forEach((byte, at) => {
          for (let bit = 0; bit < 8; bit++)
            if ((byte >> bit) & 1)
              expect(captured({ byte: at, bit, length: after.length }, change)).toEqual({
                byte: k >> 3,
                bit: k & 7,
                length,
              });
        });
      }
  });
});
