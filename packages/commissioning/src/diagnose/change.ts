/** A change of a description as a JSON patch (RFC 6902): made from two descriptions, and applied to one. */
import { ByterailError, type Station } from "byterail";

/** One operation of a JSON patch, of the kinds that are used here. */
export type Operation =
  | { readonly op: "add" | "replace"; readonly path: string; readonly value: unknown }
  | { readonly op: "remove"; readonly path: string }
  | { readonly op: "move"; readonly from: string; readonly path: string };

/** Operations in the order in which they are to be applied. */
export type StationChange = readonly Operation[];

/**
 * Applies a change to a description; the description given stays as it is.
 *
 * @throws `ByterailError` `change.path` where a place does not exist: the change was made for another description
 */
export function applyChange(station: Station, change: StationChange): Station {
  return change.reduce<unknown>((data, operation) => {
    if (operation.op !== "move") return edited(data, keysOf(operation.path), operation);
    const { from, path } = operation;
    // Nothing can be moved into itself (RFC 6902, 4.4).
    if (path.startsWith(`${from}/`)) return missing(path);
    const taken = edited(data, keysOf(from), { op: "remove", path: from });
    const value = keysOf(from).reduce((at, key) => (at as Readonly<Record<string, unknown>>)[key], data);
    return edited(taken, keysOf(path), { op: "add", path, value });
  }, station) as Station;
}

function edited(
  data: unknown,
  [key, ...rest]: readonly string[],
  operation: Exclude<Operation, { op: "move" }>,
): unknown {
  const { op, path } = operation;
  if (key === undefined) return op === "remove" ? missing(path) : operation.value;
  const last = rest.length === 0;
  if (Array.isArray(data)) {
    const index = indexOf(key, data.length);
    if (!(index < data.length + (last && op === "add" ? 1 : 0))) return missing(path);
    const [before, after] = [data.slice(0, index), data.slice(index + 1)];
    if (!last) return [...before, edited(data[index], rest, operation), ...after];
    if (op === "remove") return [...before, ...after];
    return [...before, operation.value, ...(op === "add" ? data.slice(index) : after)];
  }
  if (!isRecord(data) || !((last && op === "add") || Object.hasOwn(data, key))) return missing(path);
  if (!last) return { ...data, [key]: edited(data[key], rest, operation) };
  if (op !== "remove") return { ...data, [key]: operation.value };
  const { [key]: _, ...others } = data;
  return others;
}

function missing(path: string): never {
  throw new ByterailError([
    { code: "change.path", path, message: "does not exist in this description; the change was made for another" },
  ]);
}

// RFC 6901, 4: digits without leading zeros, or "-" for the place behind the last item.
function indexOf(key: string, length: number): number {
  return key === "-" ? length : /^(0|[1-9]\d*)$/.test(key) ? Number(key) : NaN;
}

/** The change from one description to another. */
export function changeBetween(from: Station, to: Station): StationChange {
  return [...differences("", from, to)];
}

function* differences(path: string, a: unknown, b: unknown): Iterable<Operation> {
  if (same(a, b)) return;
  if (Array.isArray(a) && Array.isArray(b)) return yield* listDifferences(path, a, b);
  if (!isRecord(a) || !isRecord(b)) return yield { op: "replace", path, value: b };
  for (const key of Object.keys(a)) if (b[key] === undefined) yield { op: "remove", path: pathTo(path, key) };
  for (const [key, value] of Object.entries(b)) {
    if (value === undefined) continue;
    if (a[key] === undefined) yield { op: "add", path: pathTo(path, key), value };
    else yield* differences(pathTo(path, key), a[key], value);
  }
}

// One item more, one less, or two that changed places; what remains is compared item by item.
function* listDifferences(path: string, a: readonly unknown[], b: readonly unknown[]): Iterable<Operation> {
  if (!a.every(isRecord) || !b.every(isRecord)) return yield { op: "replace", path, value: b };
  let list: readonly unknown[] = a;
  const differsAt = (x: readonly unknown[], y: readonly unknown[]) =>
    x.findIndex((item, k) => k >= y.length || idOf(item) !== idOf(y[k]));
  while (list.length > b.length) {
    const k = differsAt(list, b);
    yield { op: "remove", path: pathTo(path, k) };
    list = list.filter((_, at) => at !== k);
  }
  while (list.length < b.length) {
    const k = differsAt(b, list);
    yield { op: "add", path: pathTo(path, k), value: b[k] };
    list = [...list.slice(0, k), b[k], ...list.slice(k)];
  }
  const moved = list.flatMap((item, k) => (idOf(item) === idOf(b[k]) ? [] : [k]));
  const [i, j] = moved;
  if (moved.length === 2 && idOf(list[i!]) === idOf(b[j!]) && idOf(list[j!]) === idOf(b[i!])) {
    yield { op: "move", from: pathTo(path, j!), path: pathTo(path, i!) };
    if (j! > i! + 1) yield { op: "move", from: pathTo(path, i! + 1), path: pathTo(path, j!) };
    list = list.map((item, k) => (k === i ? list[j!] : k === j ? list[i!] : item));
  }
  for (const [k, item] of list.entries()) yield* differences(pathTo(path, k), item, b[k]);
}

function idOf(item: unknown): string {
  const { name } = item as { readonly name?: unknown };
  return typeof name === "string" ? name : JSON.stringify(item);
}

function same(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

function isRecord(data: unknown): data is Readonly<Record<string, unknown>> {
  return typeof data === "object" && data !== null && !Array.isArray(data);
}

// JSON pointers (RFC 6901): ~ and / are written ~0 and ~1.
function pathTo(path: string, key: string | number): string {
  return `${path}/${String(key).replace(/~/g, "~0").replace(/\//g, "~1")}`;
}

function keysOf(path: string): string[] {
  if (!/^(\/([^~/]|~[01])*)*$/.test(path)) return missing(path);
  return path
    .split("/")
    .slice(1)
    .map((key) => key.replace(/~1/g, "/").replace(/~0/g, "~"));
}
