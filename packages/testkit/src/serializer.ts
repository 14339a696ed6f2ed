/** Frames in snapshots: the annotated dump in place of a list of numbers. */
import type { ImageLayout } from "byterail";
import { hexdump } from "byterail/frames";

/** A serializer of snapshots, as `expect.addSnapshotSerializer` of vitest and jest takes it. */
export interface FrameSerializer {
  /** Whether it prints a value: a `Uint8Array` of the length of the image. */
  readonly test: (value: unknown) => boolean;
  /** Prints it; within an object, `indentation` stands before each line but the first. */
  readonly serialize: (value: Uint8Array, config?: unknown, indentation?: string) => string;
}

/**
 * A serializer that prints a frame as its annotated dump. Frames of another length print as they always do.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { frameSerializer } from "@byterail/testkit";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "meter", inputs: [{ name: "flow", type: "uint16", unit: "L/h" }, { name: "low", type: "bit" }] }],
 * });
 * const { serialize } = frameSerializer(inputs); // expect.addSnapshotSerializer(frameSerializer(inputs))
 * serialize(new Uint8Array([0x02, 0x2b, 1])); // → "0    02 2B  flow  555 L/h\n2.0  01     low   true"
 * ```
 * @param image `layout.inputs` or `layout.outputs`
 */
export function frameSerializer(image: ImageLayout<unknown, unknown, unknown>): FrameSerializer {
  return {
    test: (value) => value instanceof Uint8Array && value.length === image.byteLength && image.byteLength > 0,
    serialize: (value, _config, indentation = "") => hexdump(image, value).replaceAll("\n", `\n${indentation}`),
  };
}
