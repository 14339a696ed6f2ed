/**
 * From a description to a layout. Everything is checked here, once: what comes out can be used without a further look.
 */
import { at, type Findings, note, shown, throwIfAny } from "../problem.js";
import type { BitPoint, Direction, Entry, PackedWord, Station } from "../station/description.js";
import { isRecord, nameProblem } from "../station/names.js";
import { warnBoundaries } from "./boundaries.js";
import { gapsOf } from "./gaps.js";
import type { ImageLayout, Layout, ModuleExtent } from "./layout.js";
import { imageLimit, networks } from "./networks.js";
import { type Placed, place } from "./placement.js";
import { isFlag, isPoint, type Orders, type PlacedPoint, type PlacedSpare, pointsOf } from "./point.js";
import { checkEntry, checkKeys } from "./rules.js";

/**
 * Assembles a station: places every point in both directions and checks everything that can be checked.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * const { inputs } = assemble({
 *   format: 1, name: "rig", byteOrder: "big",
 *   modules: [{ name: "level", inputs: [{ name: "tank", type: "uint16" }, { name: "low", type: "bit" }] }],
 * });
 * inputs.byteLength; // → 3
 * inputs.points.map(({ name, byte, bit }) => [name, byte, bit]); // → [["tank", 0, null], ["low", 2, 0]]
 * ```
 * @param station the description, as a literal, from the builders or from `parseStation`; names and types of values are
 *   inferred from it. Its shape is held by its type; JavaScript without types goes through `parseStation` first
 * @throws `ByterailError` with every problem found
 */
export function assemble<const S extends Station>(station: S): Layout<S> {
  const findings: Findings = { problems: [], warnings: [] };
  const layout = arrange(station, findings);
  throwIfAny(findings.problems);
  return layout as unknown as Layout<S>;
}

/** The layout of a station whose shape is known to be right, or null where it has problems. */
export function arrange(station: Station, findings: Findings): Layout | null {
  const { problems, warnings } = findings;
  checkModules(station, () => true, findings);
  checkKeys(station, "", problems);
  station.modules.forEach((module, index) => checkKeys(module, at(at("", "modules"), index, module), problems));
  const byteOrder = station.byteOrder ?? (station.network && networks[station.network].byteOrder);
  if (!byteOrder)
    note(
      problems,
      "byteOrder.missing",
      at("", "byteOrder"),
      `is missing and no network gives it: say "big" or "little"`,
    );
  const orders: Orders = { byteOrder: byteOrder ?? "little", wordOrder: station.wordOrder ?? null };
  const inputs = image(station, "inputs", orders, findings);
  const outputs = image(station, "outputs", orders, findings);
  return inputs && outputs && ({ station, inputs, outputs, warnings } as Layout);
}

function image(station: Station, direction: Direction, orders: Orders, findings: Findings): ImageLayout | null {
  const { problems, warnings } = findings;
  const rules = station.placement?.[direction] ?? {};
  checkKeys(rules, `placement.${direction}`, problems);
  const placed = place(station.modules, direction, rules, findings);
  const { byteLength } = placed;
  const limit = imageLimit(station, direction);
  if (!(byteLength <= limit.bytes)) {
    const message = `take ${byteLength} bytes, but at most ${limit.bytes} fit (${limit.source}); limits.${direction} overrides`;
    note(problems, "network.limit", at("", direction), message);
  }
  if (problems.length > 0) return null;
  const rows = placed.modules
    .flatMap((module) => module.entries.flatMap((entry) => pointsOf(entry, module, orders)))
    .sort(byPlace);
  const points = rows.filter(isPoint);
  warnBoundaries(points, direction, warnings);
  const spares = rows.filter((row): row is PlacedSpare => !isPoint(row));
  return { direction, byteLength, points, spares, gaps: gapsOf(placed), modules: extentsOf(placed) };
}

/** Order of rows: by byte, then bit or shift. */
export function byPlace(a: PlacedPoint | PlacedSpare, b: PlacedPoint | PlacedSpare): number {
  return a.byte - b.byte || within(a) - within(b);
}

function within(row: PlacedPoint | PlacedSpare): number {
  return (isPoint(row) ? row.shift : null) ?? row.bit ?? 0;
}

function extentsOf({ modules }: Placed): ModuleExtent[] {
  return modules.map(({ module: { name, title = null }, slot, start, bits }) => {
    const byte = start >> 3;
    return { name, title, slot, byte, bytes: Math.ceil((start + bits) / 8) - byte };
  });
}

/**
 * Checks names and every entry on its own. The station may be wrong in places, as long as `sound` tells which of its
 * entries have the right shape.
 */
export function checkModules(
  station: Station | Record<string, unknown>,
  sound: (entry: unknown) => boolean,
  findings: Findings,
): void {
  const { problems } = findings;
  const seen = new Map<string, string>();
  // IEC 61131-3 compares names without regard to case, so two that differ by it alone are one.
  const claim = (what: string, name: unknown, path: string) => {
    if (typeof name !== "string") return;
    const wrong = nameProblem(name);
    if (wrong) note(problems, "name.illegal", path, `${shown(name)} ${wrong}`);
    const key = `${what} ${name.toLowerCase()}`;
    const other = seen.get(key);
    if (other !== undefined)
      note(problems, "name.duplicate", path, `is named like another, ${shown(other)} (case does not count)`);
    seen.set(key, name);
  };
  claim("station", station.name, at("", "name"));
  listOf(station.modules).forEach((module, index) => {
    if (!isRecord(module)) return;
    const path = at(at("", "modules"), index, module);
    claim("module", module.name, path);
    const flags: unknown[] = [];
    for (const direction of ["inputs", "outputs"] as const)
      listOf(module[direction]).forEach((entry, i) => {
        if (!sound(entry)) return;
        const inner = at(at(path, direction), i, entry);
        const { name, type, fields = [] } = entry as BitPoint & PackedWord;
        claim(direction, name, inner);
        fields.forEach((field, k) => claim(direction, field.name, at(at(inner, "fields"), k, field)));
        if (direction === "outputs")
          flags.push(type === "bit" && name, ...fields.filter(isFlag).map((flag) => flag.name));
        checkEntry(entry as Entry, direction, inner, findings);
      });
    if (!listOf(module.outputs).every(sound)) return;
    listOf(module.exclusive).forEach((group, g) =>
      listOf(group).forEach((name, k, names) => {
        const inner = at(at(at(path, "exclusive"), g), k);
        if (!flags.includes(name))
          note(problems, "exclusive.unknown", inner, `${shown(name)} is no boolean output of this module`);
        else if (names.indexOf(name) < k)
          note(problems, "exclusive.twice", inner, `${shown(name)} stands twice in the group`);
      }),
    );
  });
}

function listOf(list: unknown): readonly unknown[] {
  return Array.isArray(list) ? list : [];
}
