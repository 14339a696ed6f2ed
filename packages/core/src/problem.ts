/**
 * Problems are plain data, collected until all are known; one error carries them to the caller.
 * A message says what is wrong and what would be right; the path says where.
 */

/** One thing that is wrong, or (as a warning) legal but likely to bite. */
export interface Problem {
  /** Stable identifier, e.g. `scale.span`. */
  readonly code: string;
  /** Where, e.g. `modules[1] sensors › inputs[1] supply › scale.counts`. */
  readonly path: string;
  /** What is wrong and what would be right. */
  readonly message: string;
}

/**
 * The one error that Byterail throws. It carries every problem found, not only the first.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * assemble({ format: 1, name: "rig", byteOrder: "little", modules: [{ name: "a" }, { name: "A" }] }); // throws name.duplicate
 * ```
 */
export class ByterailError extends Error {
  override readonly name = "ByterailError";
  /** Every problem, in the order of the description. */
  readonly problems: readonly Problem[];

  /** @param problems at least one problem */
  constructor(problems: readonly Problem[]) {
    super(problems.map(({ code, path, message }) => `${code} ${path}: ${message}`).join("\n"));
    this.problems = problems;
  }
}

/** Throws one error with all problems, if there are any. */
export function throwIfAny(problems: readonly Problem[]): void {
  if (problems.length > 0) throw new ByterailError(problems);
}

/** Where problems and warnings are collected. */
export interface Findings {
  readonly problems: Problem[];
  readonly warnings: Problem[];
}

/** Adds a problem at a path made by `at`. */
export function note(problems: Problem[], code: string, path: string, message: string): void {
  problems.push({ code, path: path.replace(/ › $/, "") || "station", message });
}

/** Throws one problem at once, where no second one can be known. */
export function fail(code: string, path: string, message: string): never {
  throw new ByterailError([{ code, path, message }]);
}

/**
 * The path of `key` inside `path` (empty at the top). An entry of a list of things shows its name, where it has one:
 * `modules[1] sensors › inputs[1] supply › scale.counts`.
 */
export function at(path: string, key: string | number, thing?: unknown): string {
  const joint = typeof key === "number" ? `[${key}]` : path && !path.endsWith(arrow) ? `.${key}` : key;
  if (typeof thing !== "object") return path + joint;
  const name = (thing as { name?: unknown } | null)?.name;
  return path + joint + (typeof name === "string" && name ? ` ${printable(name)}` : "") + arrow;
}

const arrow = " › ";

/** A given text made fit to print in one line of a message: cut to 64 characters, controls written as escapes. */
export function printable(text: string): string {
  const cut = text.length > 64 ? `${text.slice(0, 64)}…` : text;
  return cut.replace(
    /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** Any value as a short text for a message. */
export function shown(value: unknown): string {
  if (typeof value === "string") return `"${printable(value)}"`;
  if (Object.is(value, -0)) return "-0";
  return typeof value === "object" && value ? (Array.isArray(value) ? "a list" : "an object") : String(value);
}
