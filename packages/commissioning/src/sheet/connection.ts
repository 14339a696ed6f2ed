/** The connection page: how long the images are, in the elements that controllers count, and what the network adds to them. */
import { type Direction, imageLimit, type Layout, type NetworkId } from "byterail";

/** One direction of the connection. */
export interface ImageSize {
  readonly bytes: number;
  /** Whole elements that hold the image; the last may be filled in part. */
  readonly elements16: number;
  readonly elements32: number;
  /** Bytes that an element holds beyond the end of the image. */
  readonly unused16: number;
  readonly unused32: number;
  /** The largest image, and where the figure comes from. */
  readonly limit: { readonly bytes: number; readonly source: string };
}

/** What a network puts around the image, and which is no part of it. */
export interface Overhead {
  readonly what: string;
  /** Bytes in either direction; null where the description does not tell. */
  readonly inputs: number | null;
  readonly outputs: number | null;
  readonly source: string;
}

/** Everything on the connection page that is a figure. */
export interface Connection {
  readonly network: NetworkId | null;
  readonly inputs: ImageSize;
  readonly outputs: ImageSize;
  readonly overhead: readonly Overhead[];
  /** Bytes with the overhead; null where a part of it is not known. */
  readonly onTheWire: { readonly inputs: number | null; readonly outputs: number | null };
}

/** The connection of a station. */
export function connectionOf(layout: Layout): Connection {
  const { station } = layout;
  const overhead = station.network ? overheads[station.network] : [];
  const [inputs, outputs] = [sizeOf(layout, "inputs"), sizeOf(layout, "outputs")];
  const total = (direction: Direction, bytes: number) =>
    overhead.reduce<number | null>(
      (sum, { [direction]: add }) => (sum === null || add === null ? null : sum + add),
      bytes,
    );
  return {
    network: station.network ?? null,
    inputs,
    outputs,
    overhead,
    onTheWire: { inputs: total("inputs", inputs.bytes), outputs: total("outputs", outputs.bytes) },
  };
}

function sizeOf(layout: Layout, direction: Direction): ImageSize {
  const bytes = layout[direction].byteLength;
  const [elements16, elements32] = [Math.ceil(bytes / 2), Math.ceil(bytes / 4)];
  return {
    bytes,
    elements16,
    elements32,
    unused16: 2 * elements16 - bytes,
    unused32: 4 * elements32 - bytes,
    limit: imageLimit(layout.station, direction),
  };
}

// Only what stands beside the image in the telegram that carries it; lower layers (Ethernet, IP, UDP) are left out.
const overheads: Readonly<Record<NetworkId, readonly Overhead[]>> = {
  "ethernet-ip": [
    { what: "sequence count", inputs: 2, outputs: 2, source: "CIP Vol. 1 (from memory)" },
    { what: "run/idle header", inputs: 0, outputs: 4, source: "CIP Vol. 1 (from memory)" },
  ],
  profinet: [
    {
      what: "provider and consumer status, by submodule",
      inputs: null,
      outputs: null,
      source: "PROFINET IO (from memory): counted within the 1440 bytes; how many, the device's description says",
    },
  ],
  "profibus-dp": [
    {
      what: "telegram with variable data length: 7 bytes before, 2 behind",
      inputs: 9,
      outputs: 9,
      source: "PROFIBUS DP (from memory)",
    },
  ],
  "modbus-tcp": [
    { what: "MBAP header", inputs: 7, outputs: 7, source: "Modbus Messaging on TCP/IP V1.0b" },
    {
      what: "function code and counts (read 03 or 04: response; write 16: request)",
      inputs: 2,
      outputs: 6,
      source: "Modbus V1.1b3, 6.3, 6.4, 6.12",
    },
  ],
  ethercat: [
    { what: "datagram header and working counter", inputs: 12, outputs: 12, source: "EtherCAT (from memory)" },
  ],
  canopen: [
    { what: "data field of the PDO: nothing beside the image", inputs: 0, outputs: 0, source: "CiA 301 (from memory)" },
  ],
  "io-link": [
    {
      what: "message octets (control, check, status), one M-sequence",
      inputs: 1,
      outputs: 2,
      source: "IEC 61131-9 (from memory)",
    },
  ],
};
