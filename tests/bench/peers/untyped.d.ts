// Libraries that carry no types: only what is measured.

declare module "python-struct" {
  export function pack(format: string, values: number[]): Buffer;
}

declare module "@aksel/structjs" {
  export default function struct(format: string): {
    unpack_from(buffer: ArrayBufferLike, offset: number): number[];
    pack(...values: number[]): ArrayBuffer;
  };
}

declare module "restructure" {
  interface Type {
    size(value?: unknown): number;
    decode(stream: unknown): never;
    encode(stream: unknown, value: unknown): void;
  }
  export class Struct {
    constructor(fields: Record<string, Type>);
    fromBuffer(bytes: Uint8Array): object;
    toBuffer(values: object): Uint8Array;
  }
  export class Bitfield implements Type {
    constructor(type: Type, names: string[]);
    size(): number;
    decode(stream: unknown): never;
    encode(stream: unknown, value: unknown): void;
  }
  export const uint8: Type;
  export const uint16be: Type;
  export const uint16le: Type;
  export const int16be: Type;
  export const int16le: Type;
  export const uint32be: Type;
  export const uint32le: Type;
  export const floatbe: Type;
  export const floatle: Type;
}
