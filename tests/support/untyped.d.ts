// Packages that carry no types, or none that NodeNext finds: only what the tests call.

declare module "python-struct" {
  /** Numbers, and objects of the package `long` for 64-bit integers. */
  export function unpack(format: string, bytes: Buffer): (number | { toString(): string })[];
}

declare module "binary-parser" {
  type Numbers = "int8" | "uint8" | "int16" | "uint16" | "int32" | "uint32" | "int64" | "floatle";
  export class Parser implements Record<Numbers, (name: string) => Parser> {
    endianness(order: "little" | "big"): Parser;
    int8(name: string): Parser;
    uint8(name: string): Parser;
    int16(name: string): Parser;
    uint16(name: string): Parser;
    int32(name: string): Parser;
    uint32(name: string): Parser;
    int64(name: string): Parser;
    floatle(name: string): Parser;
    parse(bytes: Uint8Array): Record<string, number | bigint>;
  }
}
