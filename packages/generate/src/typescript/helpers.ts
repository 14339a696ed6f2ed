/** Functions that a module carries when it uses them. Each is a text; the ones it calls itself are found in the same way. */

/** A function, constant, class or interface of the module. */
interface Helper {
  readonly name: string;
  readonly text: string;
  /** What its use looks like; by default that of a call. */
  readonly use?: RegExp;
}

/** The helpers that a text uses, in the order of the list, each as lines. */
export function helpersFor(text: string): string[][] {
  const used = new Set<Helper>();
  const follow = (from: string): void => {
    const code = from.replace(textOrComment, "");
    for (const helper of helpers)
      if (!used.has(helper) && (helper.use ?? new RegExp(`\\b${helper.name}\\(`)).test(code)) {
        used.add(helper);
        follow(helper.text);
      }
  };
  follow(text);
  return helpers.filter((helper) => used.has(helper)).map((helper) => helper.text.trim().split("\n"));
}

// What a description says in them is no use of a helper. No string stretches over lines, and no comment but that before
// a declaration.
const textOrComment = /"(?:[^"\\\n]|\\.)*"|\/\*[\s\S]*?\*\/|\/\/.*/g;

/** Names that a helper may take at the top of a module. */
export function helperNames(): readonly string[] {
  return helpers.map(({ name }) => name);
}

const helpers: readonly Helper[] = [
  {
    name: "tie",
    use: /\+ tie - tie/,
    text: `
// 2^52 + 2^51: added and taken away again, it rounds to a whole number; of two as near, to the even one.
const tie = 6755399441055744;`,
  },
  {
    name: "scratch",
    use: /\bscratch\.set/,
    text: `
// One view with a fixed order: right on any host, and none is made per value.
const scratch: DataView = new DataView(new ArrayBuffer(8));`,
  },
  {
    name: "float32",
    text: `
function float32(pattern: number): number {
  scratch.setInt32(0, pattern);
  return scratch.getFloat32(0);
}`,
  },
  {
    name: "float64",
    text: `
function float64(high: number, low: number): number {
  scratch.setInt32(0, high);
  scratch.setInt32(4, low);
  return scratch.getFloat64(0);
}`,
  },
  {
    name: "int64",
    text: `
function int64(high: number, low: number): bigint {
  scratch.setInt32(0, high);
  scratch.setInt32(4, low);
  return scratch.getBigInt64(0);
}`,
  },
  {
    name: "uint64",
    text: `
function uint64(high: number, low: number): bigint {
  scratch.setInt32(0, high);
  scratch.setInt32(4, low);
  return scratch.getBigUint64(0);
}`,
  },
  {
    name: "fromSignMagnitude",
    text: `
// The sign alone is −0.
function fromSignMagnitude(pattern: number, half: number): number {
  return pattern < half ? pattern : pattern === half ? -0 : half - pattern;
}`,
  },
  {
    name: "toSignMagnitude",
    text: `
function toSignMagnitude(counts: number, half: number): number {
  return Object.is(counts, -0) ? half : counts < 0 ? half - counts : counts;
}`,
  },
  {
    name: "fromSignMagnitude64",
    text: `
// The sign alone is −0, which is a number, as no bigint can say it.
function fromSignMagnitude64(pattern: bigint, half: bigint): bigint | number {
  return pattern < half ? pattern : pattern === half ? -0 : half - pattern;
}`,
  },
  {
    name: "toSignMagnitude64",
    text: `
// A number can only be −0 here.
function toSignMagnitude64(counts: bigint | number, half: bigint): bigint {
  return typeof counts === "number" ? half : counts < 0n ? half - counts : counts;
}`,
  },
  {
    name: "fromBcd",
    text: `
// Four bits a digit. A digit above 9 makes the whole no number.
function fromBcd(pattern: number): number {
  const digits = pattern.toString(16);
  return /[a-f]/.test(digits) ? Number.NaN : Number(digits);
}`,
  },
  {
    name: "toBcd",
    text: `
function toBcd(counts: number): number {
  return Number(\`0x\${counts}\`);
}`,
  },
  {
    name: "fromBcd64",
    text: `
// Four bits a digit. A digit above 9 makes the whole no number.
function fromBcd64(pattern: bigint): bigint | number {
  const digits = pattern.toString(16);
  return /[a-f]/.test(digits) ? Number.NaN : BigInt(digits);
}`,
  },
  {
    name: "toBcd64",
    text: `
function toBcd64(counts: bigint | number): bigint {
  return BigInt(\`0x\${counts}\`);
}`,
  },
  {
    name: "isFloat32",
    text: `
function isFloat32(value: number): boolean {
  return typeof value === "number" && Number.isFinite(Math.fround(value));
}`,
  },
  {
    name: "signedRoot",
    text: `
// Mirrored below zero, so that a transmitter a little below zero still has an inverse.
function signedRoot(x: number): number {
  return Math.sign(x) * Math.sqrt(Math.abs(x));
}`,
  },
  {
    name: "signedSquare",
    text: `
function signedSquare(x: number): number {
  return Math.sign(x) * x * x;
}`,
  },
  {
    name: "roundTiesToEven",
    text: `
function roundTiesToEven(x: number): number {
  const floor = Math.floor(x);
  const above = x - floor;
  if (above < 0.5) return floor;
  if (above > 0.5) return floor + 1;
  return floor % 2 === 0 ? floor : floor + 1;
}`,
  },
  {
    name: "Modules",
    use: /: Modules\b/,
    text: `
/** Modules with their sizes in bytes. */
type Modules = readonly (readonly [name: string, bytes: number])[];`,
  },
  {
    name: "Rule",
    use: /: readonly Rule\b|: Rule\b/,
    text: `
/** What a point accepts. */
interface Rule {
  readonly name: string;
  readonly module: string;
  readonly kind: "boolean" | "integer" | "bigint" | "float32" | "float64";
  /** Lowest and highest value. */
  readonly limits?: readonly [number, number];
  /** Lowest and highest counts; of a real, the largest finite numbers. */
  readonly counts?: readonly [number | bigint, number | bigint];
  readonly toCounts?: (value: number) => number;
  /** Counts that report a fault. */
  readonly special?: readonly number[];
  /** Where a bigint has a −0, too. */
  readonly negativeZero?: "counts";
}`,
  },
  {
    name: "wrongBytes",
    text: `
function wrongBytes(direction: string, length: number, bytes: unknown, modules: Modules): ProcessImageError {
  const error = (code: string, message: string) => new ProcessImageError([{ code, path: direction, message }]);
  if (!(bytes instanceof Uint8Array)) return error("image.bytes", "must be a Uint8Array (a Node Buffer is one)");
  const size = Math.abs(bytes.length - length);
  const suspects = modules.filter((module) => module[1] === size).map(([name]) => name);
  const hint = suspects.length > 0 ? \`, the size of module \${suspects.join(" or ")}\` : "";
  const kind = bytes.length < length ? "few" : "many";
  return error("image.length", \`has \${length} bytes, not \${bytes.length}: \${size} too \${kind}\${hint}\`);
}`,
  },
  {
    name: "refused",
    text: `
function refused(direction: string, given: unknown, rules: readonly Rule[]): ProcessImageError {
  if (typeof given !== "object" || given === null || Array.isArray(given))
    return new ProcessImageError([
      { code: "value.type", path: direction, message: "must be an object of values by name" },
    ]);
  const values: Record<string, unknown> = { ...given };
  const problems: Problem[] = [];
  const note = (code: string, path: string, message: string) => problems.push({ code, path, message });
  for (const name of Object.keys(values))
    if (!rules.some((rule) => rule.name === name))
      note("value.unknown", printable(name), \`is no point of the \${direction} (case counts here)\`);
  for (const rule of rules) {
    const value = Object.hasOwn(values, rule.name) ? values[rule.name] : undefined;
    const problem =
      value === undefined ? ["value.missing", \`of module \${rule.module} is missing\`] : problemOf(value, rule);
    if (problem) note(problem[0]!, rule.name, problem[1]!);
  }
  return new ProcessImageError(problems);
}`,
  },
  {
    name: "problemOf",
    text: `
function problemOf(value: unknown, rule: Rule): [code: string, message: string] | null {
  const { kind, limits, counts: range, toCounts, special } = rule;
  if (kind === "boolean")
    return typeof value === "boolean" ? null : ["value.type", \`must be true or false, not \${shown(value)}\`];
  const wide = kind === "bigint";
  const negativeZero = wide && Object.is(value, -0);
  if (!(wide ? typeof value === "bigint" || negativeZero : Number.isFinite(value)))
    return ["value.type", \`must be a \${wide ? "bigint" : "finite number"}, not \${shown(value)}\`];
  const number = value as number;
  if (limits && !(number >= limits[0] && number <= limits[1]))
    return ["value.limits", \`must be \${limits[0]} to \${limits[1]}, not \${shown(value)}\`];
  const counts = toCounts ? toCounts(number) : number;
  const real = kind === "float32" || kind === "float64";
  const whole = wide ? !negativeZero : Number.isInteger(counts);
  const held = real
    ? Number.isFinite(kind === "float32" ? Math.fround(counts) : counts)
    : negativeZero
      ? rule.negativeZero === "counts"
      : whole && counts >= range![0] && counts <= range![1];
  if (!held) {
    const what = wide ? "bigint" : real ? "number" : "whole number";
    const wrong = \`must be a \${what} from \${range![0]} to \${range![1]}, not \${shown(counts)}\`;
    return ["value.range", toCounts ? \`\${shown(value)} stands for counts that \${wrong}\` : wrong];
  }
  if (!special?.some((each) => String(each) === String(counts))) return null;
  return ["value.special", \`\${shown(value)} stands for \${counts} counts, which are a report; encode them raw\`];
}`,
  },
  {
    name: "shown",
    text: `
function shown(value: unknown): string {
  if (typeof value === "string") return \`"\${printable(value)}"\`;
  if (Object.is(value, -0)) return "-0";
  return typeof value === "object" && value ? (Array.isArray(value) ? "a list" : "an object") : String(value);
}`,
  },
  {
    name: "printable",
    text: `
function printable(text: string): string {
  const cut = text.length > 64 ? \`\${text.slice(0, 64)}…\` : text;
  return cut.replace(/[\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}\\p{Cs}]/gu, escaped);
}`,
  },
  {
    name: "escaped",
    use: /\bescaped\)/,
    text: `
function escaped(char: string): string {
  return \`\\\\u\${char.charCodeAt(0).toString(16).padStart(4, "0")}\`;
}`,
  },
];
