/** Strict JSON: a key that stands twice in one object is an error, as one of the two would be lost in silence. */
import { ByterailError } from "byterail";
import { parseJson } from "byterail/schema";
import { refuse } from "./problems.js";
import type { Source } from "./source.js";

/** Parses a text as strict JSON; the problems tell where the text came from. */
export function readJson({ text, from }: Source): unknown {
  const { value, problems } = parseJson(text);
  if (problems.length > 0)
    throw new ByterailError(problems.map((problem) => ({ ...problem, path: placeIn(from, problem.path) })));
  return value;
}

/** Parses a text as a JSON object of values by name. */
export function readJsonObject(source: Source): Readonly<Record<string, unknown>> {
  const value = readJson(source);
  if (typeof value !== "object" || value === null || Array.isArray(value))
    return refuse("value.type", source.from, "must be a JSON object of values by name, { name: value }");
  return value as Record<string, unknown>;
}

function placeIn(from: string, place: string): string {
  return place === "text" ? from : `${from} ${place}`;
}
