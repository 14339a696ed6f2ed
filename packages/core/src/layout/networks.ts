/**
 * Networks: the default byte order and the largest image of each bus family, every limit with its source. A station may
 * override them (`byteOrder`, `limits`). Limits marked "from memory" were not read in the published text.
 */
import type { ByteOrder, Direction, NetworkId } from "../station/description.js";

/** The largest image in one direction. */
export interface ImageLimit {
  readonly bytes: number;
  /** Where the figure comes from. */
  readonly source: string;
}

/** A bus family. */
export interface Network {
  readonly byteOrder: ByteOrder;
  readonly inputs: ImageLimit;
  readonly outputs: ImageLimit;
}

const each = (byteOrder: ByteOrder, bytes: number, source: string): Network => ({
  byteOrder,
  inputs: { bytes, source },
  outputs: { bytes, source },
});

/**
 * The networks by id. "From memory" stands where the published text was not opened. CIP: a connection of 511 bytes, less a
 * sequence count of 2 and, for outputs, a run/idle header of 4. Modbus: 125 registers in one read (6.3), 123 in one write (6.12).
 */
export const networks: Readonly<Record<NetworkId, Network>> = {
  "ethernet-ip": {
    byteOrder: "little",
    inputs: { bytes: 509, source: "CIP Vol. 1 (from memory)" },
    outputs: { bytes: 505, source: "CIP Vol. 1 (from memory)" },
  },
  profinet: each("big", 1440, "PROFINET IO frame, status bytes included (from memory)"),
  "profibus-dp": each("big", 244, "PROFIBUS DP telegram (from memory)"),
  "modbus-tcp": {
    byteOrder: "big",
    inputs: { bytes: 250, source: "Modbus V1.1b3, 6.3" },
    outputs: { bytes: 246, source: "Modbus V1.1b3, 6.12" },
  },
  ethercat: each("little", 1486, "EtherCAT datagram (from memory)"),
  canopen: each("little", 8, "CiA 301 PDO (from memory)"),
  "io-link": each("big", 32, "IEC 61131-9 (from memory)"),
};

/** The limit of a station: its own, else that of its network, else what a 16-bit length can say. */
export function imageLimit(
  station: { readonly network?: NetworkId; readonly limits?: { readonly inputs?: number; readonly outputs?: number } },
  direction: Direction,
): ImageLimit {
  const own = station.limits?.[direction];
  if (own !== undefined) return { bytes: own, source: `limits.${direction} of the station` };
  if (station.network) return networks[station.network][direction];
  return { bytes: 65535, source: "a length of 16 bits" };
}
