/** Names that a local of a generated function must not have. */

const words = `
  arguments await break case catch class const continue debugger default delete do else enum eval export extends false
  finally for function if implements import in instanceof interface let new null package private protected public return
  static super switch this throw true try typeof var void while with yield undefined globalThis NaN Infinity
  Array BigInt DataView ArrayBuffer Error Math Number Object String Uint8Array ProcessImageError Problem`;

/** Reserved words of ECMAScript modules, and the globals and top-level names that generated code uses. */
export const reserved: ReadonlySet<string> = new Set(words.trim().split(/\s+/));
