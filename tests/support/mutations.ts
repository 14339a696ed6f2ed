// Small accidents in JSON data: what a slip of the keyboard, a bad merge or an old tool makes of a description.

import fc from "fast-check";

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** A place in JSON data and what happens there, chosen by fractions so that it fits data of any size. */
const accident = fc.record({
  place: fc.nat(9999).map((n) => n / 10_000),
  what: fc.constantFrom("replace", "remove", "rename", "repeat", "add"),
  value: fc.oneof(
    fc.constantFrom<Json>(
      null,
      true,
      0,
      -1,
      1,
      0.5,
      1e300,
      "",
      "x",
      "bit",
      "int16",
      "__proto__",
      "a b",
      [],
      {},
      [0, 0],
      [4, 20],
    ),
    fc.constantFrom<Json>(
      16,
      24,
      64,
      65,
      256,
      65536,
      "float32",
      "bcd",
      "slot",
      "hold",
      { bit: 0 },
      { name: "n", type: "bit" },
    ),
    fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<Json>,
  ),
});

/** Data with one to three accidents. */
export function mutated(sound: fc.Arbitrary<unknown>): fc.Arbitrary<Json> {
  return fc.tuple(sound, fc.array(accident, { minLength: 1, maxLength: 3 })).map(([data, accidents]) => {
    let json = JSON.parse(JSON.stringify(data)) as Json;
    for (const { place, what, value: shared } of accidents) {
      const value = structuredClone(shared); // it may be put in twice, once inside the other
      const spots = spotsOf(json);
      const spot = spots[Math.floor(place * spots.length)];
      if (spot) happen(spot.parent, spot.key, what, value);
      else json = value;
    }
    return json;
  });
}

interface Spot {
  readonly parent: Json[] | { [key: string]: Json };
  readonly key: string | number;
}

function spotsOf(json: Json): Spot[] {
  if (typeof json !== "object" || json === null) return [];
  const keys: (string | number)[] = Array.isArray(json) ? [...json.keys()] : Object.keys(json);
  return keys.flatMap((key) => [{ parent: json, key }, ...spotsOf((json as Record<string, Json>)[key]!)]);
}

function happen(parent: Spot["parent"], key: string | number, what: string, value: Json): void {
  if (Array.isArray(parent)) {
    const index = key as number;
    if (what === "replace") parent[index] = value;
    else if (what === "remove") parent.splice(index, 1);
    else parent.splice(index, 0, what === "add" ? value : (JSON.parse(JSON.stringify(parent[index])) as Json));
    return;
  }
  const old = parent[key]!;
  const set = (name: string, content: Json) =>
    Object.defineProperty(parent, name, { value: content, enumerable: true, configurable: true, writable: true });
  if (what === "replace") set(String(key), value);
  else if (what === "remove") delete parent[key];
  else if (what === "rename") {
    delete parent[key];
    set(typeof value === "string" ? value : `${key}x`, old);
  } else set(what === "add" && typeof value === "string" ? value : "bit", what === "add" ? 0 : old);
}
