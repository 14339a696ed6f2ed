/** The check of one digital point: what to actuate and what to see. */
import type { ImageLayout, PlacedPoint } from "byterail";
import { type AddressOptions, pointAddress } from "byterail/map";
import type { CheckedPoint } from "./checkedPoint.js";
import { type ByteRun, maskOf } from "./image.js";

/** One digital point. */
export interface Contact extends CheckedPoint {
  /** Byte of the image, and bit in it counted from the least significant. */
  readonly byte: number;
  readonly bit: number;
  /** The bit in its byte, as a mask. */
  readonly mask: readonly ByteRun[];
  readonly actuate: string;
  readonly see: string;
  /** Outputs: what it does when the network is lost; null where the description does not say. */
  readonly onNetworkLoss: string | null;
  /** Outputs that must be off while this one is on. */
  readonly exclusiveWith: readonly string[];
}

/** What the check of a digital point depends on beside the point. */
export interface ContactOptions {
  readonly addresses: AddressOptions;
  readonly onNetworkLoss: string | null;
  readonly exclusiveWith: readonly string[];
}

/** The check of a boolean point. */
export function contactOf({ direction }: ImageLayout, point: PlacedPoint, options: ContactOptions): Contact {
  const { name, module, slot, positions, low, description } = point;
  const [byte, bit] = [positions[low >> 3]!, low & 7];
  const title = description.title ?? null;
  const what = title ?? name;
  const others = options.exclusiveWith.join(", ");
  const texts =
    direction === "inputs"
      ? { actuate: `${what}: at the device, then back`, see: `bit ${bit} of byte ${byte}: 1, then 0` }
      : {
          actuate: `write 1, then 0${others ? ` (${others}: 0 all the while)` : ""}`,
          see: `${what}: on, then off, at the device`,
        };
  return {
    ...{ direction, name, title, module, slot, byte, bit },
    address: pointAddress(point, direction, options.addresses),
    mask: maskOf(point)!,
    ...texts,
    onNetworkLoss: options.onNetworkLoss,
    exclusiveWith: options.exclusiveWith,
  };
}
