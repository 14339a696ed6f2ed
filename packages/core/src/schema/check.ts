/**
 * Checks unknown input against the shape of a station and collects every problem. It never throws and never
 * recurses deeper than the shape, whatever it is given.
 */
import { at, note, type Problem, printable, shown } from "../problem.js";
import { isRecord } from "../station/names.js";
import { wholeProblem } from "../station/keys.js";
import { chosen, type Shape } from "./shape.js";

/** Adds a problem for everything in `value` that does not fit `shape`. */
export function checkShape(value: unknown, shape: Shape, path: string, problems: Problem[]): void {
  const wrong = (code: string, message: string) => note(problems, code, path, message);
  const misses = (wanted: string, hint = "") =>
    wrong(`type.${shape.is}`, `must be ${wanted}, not ${shown(value)}${hint}`);
  switch (shape.is) {
    case "text":
      return typeof value === "string" ? undefined : misses("text");
    case "boolean":
      return typeof value === "boolean" ? undefined : misses("true or false");
    case "name":
      return typeof value === "string" ? undefined : misses("a name in text");
    case "number":
      return Number.isFinite(value) && (value as number) >= shape.min
        ? undefined
        : misses(shape.min === 0 ? "a number, 0 or more" : "a number");
    case "integer": {
      const problem = wholeProblem(shape.key, value);
      if (problem) wrong("type.integer", `${problem}, not ${shown(value)}`);
      return;
    }
    case "state":
    case "oneOf": {
      if (shape.values.includes(value as string)) return;
      if (shape.is === "state" && (typeof value === "boolean" || Number.isFinite(value))) return;
      const near = typeof value === "string" ? nearest(value, shape.values.map(String)) : "";
      return misses(
        shape.values.map((v) => JSON.stringify(v)).join(" or ") + (shape.is === "state" ? " or a value" : ""),
        near,
      );
    }
    case "list": {
      const { of, min, max } = shape;
      if (!Array.isArray(value)) return misses("a list");
      if (value.length < min || value.length > max)
        return wrong("type.list", `must have ${min === max ? min : `${min} to ${max}`} entries, not ${value.length}`);
      const named = of.is === "choice" || (of.is === "record" && of.required.name);
      for (let i = 0; i < value.length; i++)
        checkShape(value[i], of, at(path, i, named ? (value[i] ?? {}) : undefined), problems);
      return;
    }
    case "choice":
      return isRecord(value) ? checkShape(value, chosen(shape, value), path, problems) : misses("an object");
    case "record": {
      if (!isRecord(value)) return misses("an object");
      const { required, optional } = shape;
      for (const key of Object.keys(required))
        if (!Object.hasOwn(value, key)) wrong("key.missing", `"${key}" is missing`);
      for (const key of Object.keys(value)) {
        const inner = Object.hasOwn(required, key)
          ? required[key]
          : Object.hasOwn(optional, key)
            ? optional[key]
            : undefined;
        // A key that is there but undefined counts as absent, as JSON has it.
        if (inner) {
          if (value[key] !== undefined || required[key]) checkShape(value[key], inner, at(path, key), problems);
        } else if (!/^x-|^\$schema$/.test(key)) {
          const known = Object.keys({ ...required, ...optional });
          wrong(
            "key.unknown",
            `unknown key "${printable(key)}"${nearest(key, known) || `; known: ${known.join(", ")}`}`,
          );
        }
      }
    }
  }
}

// A hint at the known word nearest to a mistyped one; empty where none is near.
function nearest(word: string, known: readonly string[]): string {
  const near = known
    .map((candidate) => [editDistance(word.slice(0, 64).toLowerCase(), candidate.toLowerCase()), candidate] as const)
    .reduce((best, next) => (next[0] < best[0] ? next : best));
  return near[0] <= Math.max(2, word.length / 3) ? `; did you mean "${near[1]}"?` : "";
}

// Levenshtein distance, one row at a time.
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next[j] = Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
    row = next;
  }
  return row[b.length]!;
}
