/**
 * The station description: what was assembled, in order, and what each point is. Plain readonly data, the same
 * whether it was written as a TypeScript literal, made by the builders or read from `station.json`.
 */

/** Order of the bytes of a 16-bit word, and of the words of a wider value where no word order is given. */
export type ByteOrder = "big" | "little";
/** Which 16-bit word of a wider value comes first. */
export type WordOrder = "highFirst" | "lowFirst";
/** Where the first bit of a list goes: bit 0 (least significant) or bit 7 of its byte. */
export type BitOrder = "lsbFirst" | "msbFirst";
/** `inputs` travel from the station to the controller, `outputs` from the controller to the station. */
export type Direction = "inputs" | "outputs";
/** Integer types, by width in bits. */
export type IntegerType =
  | "int8"
  | "uint8"
  | "int16"
  | "uint16"
  | "int24"
  | "uint24"
  | "int32"
  | "uint32"
  | "int64"
  | "uint64";
/** IEEE 754 binary32 and binary64. */
export type RealType = "float32" | "float64";
/** Every type but `bit`. */
export type NumberType = IntegerType | RealType;
/** How the bits of an integer stand for counts, where it is not plain binary or two's complement. */
export type CountsCode = "offsetBinary" | "signMagnitude" | "bcd";
/** The bus families with a profile. */
export type NetworkId = "ethernet-ip" | "profinet" | "profibus-dp" | "modbus-tcp" | "ethercat" | "canopen" | "io-link";
/** What the counts of a point say about it. `none`: the description gives nothing to judge by. */
export type Health = "ok" | "belowMeasuring" | "aboveMeasuring" | "failedLow" | "failedHigh" | "invalid" | "none";

/** Two ends of a span: lower and upper range value (ISA-51.1). A reversed span is allowed, a zero span is not. */
export type Span = readonly [lower: number, upper: number];

/** Keys that begin `x-` are free for the user, at every level. */
export interface Free {
  readonly [key: `x-${string}`]: unknown;
}

/** Error of an instrument or a channel: in percent of span, or in engineering units. */
export type Accuracy = { readonly percentOfSpan: number } | { readonly absolute: number };

/** What counts stand for. */
export interface Scale extends Free {
  /** Counts at the two ends; integers, except on a real. */
  readonly counts?: Span;
  /** The electrical signal at the two ends, in `signalUnit`. */
  readonly signal?: Span;
  /** Unit of the signal. */
  readonly signalUnit?: "mA" | "V";
  /** The value in engineering units at the two ends; left out, the signal is the value. */
  readonly value?: Span;
  /** Engineering unit of the value. */
  readonly unit?: string;
  /** `linear` (default), or `squareRoot`: the value rises with the root of the counts (flow from differential pressure). */
  readonly shape?: "linear" | "squareRoot";
  /** Piecewise linear characteristic: `[counts, value]`, both strictly monotone. Takes the place of `value`. */
  readonly points?: readonly Span[];
  /** Error of the instrument behind the signal. */
  readonly accuracy?: Accuracy;
}

/** Keys shared by everything with a name that stands for one value. */
export interface PointBase extends Free {
  readonly name: string;
  readonly title?: string;
  /** Outputs only: what the station does with the output when the network is lost. */
  readonly onNetworkLoss?: "off" | "hold" | number | boolean;
}

/** Keys of every number, whether it stands alone or is a field of a word. */
export interface NumberBase extends PointBase {
  readonly scale?: Scale;
  /** Engineering unit of a number without a scale. */
  readonly unit?: string;
  readonly code?: CountsCode;
  /** What encode accepts, in value units. */
  readonly limits?: Span;
  /** Counts that are a report and no measurement. */
  readonly specialCounts?: readonly { readonly counts: number; readonly health: Exclude<Health, "none"> }[];
  /** A change of this size or less is no change, in value units. */
  readonly deadband?: number;
}

/** One bit. */
export interface BitPoint extends PointBase {
  readonly type: "bit";
}

/** One number in whole bytes. */
export interface NumberPoint extends NumberBase {
  readonly type: NumberType;
  readonly byteOrder?: ByteOrder;
  readonly wordOrder?: WordOrder;
}

/** One bit of a packed word, counted from the least significant. */
export interface FlagField extends PointBase {
  readonly bit: number;
}

/** Several bits of a packed word: `(word >> shift) & (2^bits − 1)`. */
export interface NumberField extends NumberBase {
  readonly bits: number;
  readonly shift: number;
  /** Two's complement in its own bits. */
  readonly signed?: boolean;
}

/** A field of a packed word. */
export type Field = FlagField | NumberField;

/** Fields packed in one word, which is read in its order as one unsigned integer. */
export interface PackedWord extends Free {
  /** Width in bits: a multiple of 8, up to 256. */
  readonly word: number;
  readonly fields: readonly Field[];
  readonly title?: string;
  readonly byteOrder?: ByteOrder;
  readonly wordOrder?: WordOrder;
}

/** Unused bytes. */
export interface SpareBytes extends Free {
  readonly spare: number;
  readonly title?: string;
}

/** Unused bits. */
export interface SpareBits extends Free {
  readonly spareBits: number;
  readonly title?: string;
}

/** An entry of a module's `inputs` or `outputs`. */
export type Entry = BitPoint | NumberPoint | PackedWord | SpareBytes | SpareBits;

/** A block in a slot; contributes input data, output data, both or nothing. */
export interface Module extends Free {
  readonly name: string;
  readonly title?: string;
  /** Its place in the station; by default its index in the list. Parts of one block may share a slot. */
  readonly slot?: number;
  readonly inputs?: readonly Entry[];
  readonly outputs?: readonly Entry[];
  /** Reserved size in bytes, at least that of its points. */
  readonly inputBytes?: number;
  readonly outputBytes?: number;
  /** Pins the module to this byte of the image. */
  readonly inputOffset?: number;
  readonly outputOffset?: number;
  /** Overrides the judgement whether the module counts as bit-only. */
  readonly group?: "bits" | "words";
  readonly bitOrder?: BitOrder;
  readonly byteOrder?: ByteOrder;
  readonly wordOrder?: WordOrder;
  /** Error of the channels of the module. */
  readonly accuracy?: Accuracy;
  /** Boolean outputs of which at most one may be on, e.g. the two coils of a double-solenoid valve. */
  readonly exclusive?: readonly (readonly string[])[];
}

/** The rules by which modules get their bytes, for one direction. */
export interface Placement extends Free {
  /** `slot` (default), or `wordsFirst`: modules with words in slot order, then those of bits only. */
  readonly order?: "slot" | "wordsFirst";
  /** `byte` (default): every module starts on a whole byte; `bit`: bit-only modules go on at the very bit. */
  readonly packing?: "byte" | "bit";
  /** Where a module starts, in bytes. */
  readonly alignment?: 1 | 2 | 4;
  readonly bitOrder?: BitOrder;
  /** The length is rounded up to a multiple of this many bytes. */
  readonly lengthMultiple?: 1 | 2 | 4 | 8;
  /** The length as configured in the scanner or controller, in bytes. */
  readonly length?: number;
}

/** One bus interface and the modules plugged beside it, in order of assembly. */
export interface Station extends Free {
  readonly $schema?: string;
  readonly format: 1;
  readonly name: string;
  readonly title?: string;
  readonly network?: NetworkId;
  /** Required where no network gives it; never that of the host. */
  readonly byteOrder?: ByteOrder;
  readonly wordOrder?: WordOrder;
  readonly placement?: { readonly inputs?: Placement; readonly outputs?: Placement };
  /** Largest image in bytes, in place of the limit of the network. */
  readonly limits?: { readonly inputs?: number; readonly outputs?: number };
  readonly modules: readonly Module[];
}
