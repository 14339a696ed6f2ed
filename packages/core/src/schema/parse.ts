/** Unknown data, or the text of a file, checked and returned as a station description. */
import { arrange, checkModules } from "../layout/assemble.js";
import type { Layout } from "../layout/layout.js";
import { at, type Findings, note, type Problem, shown, throwIfAny } from "../problem.js";
import type { Entry, Station } from "../station/description.js";
import { isRecord } from "../station/names.js";
import { checkShape } from "./check.js";
import { parseJson } from "./json.js";
import { entryShape, stationShape } from "./shape.js";

/** What `examine` found; `layout` is null when there are problems. */
export interface Examined {
  readonly layout: Layout | null;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** Checks anything that may be a station description, without throwing. */
export function examine(station: unknown): Examined {
  const findings: Findings = { problems: [], warnings: [] };
  const { problems } = findings;
  if (isRecord(station) && typeof station.format === "number" && station.format > 1) {
    note(
      problems,
      "format.newer",
      at("", "format"),
      `${shown(station.format)} is newer than 1, the newest format known here`,
    );
    return { ...findings, layout: null };
  }
  checkShape(station, stationShape, "", problems);
  if (problems.length === 0) return { ...findings, layout: arrange(station as unknown as Station, findings) };
  // What has the right shape is checked all the same, so that all problems come at once; only placement must wait.
  if (isRecord(station)) checkModules(station, isSound, findings);
  return { ...findings, layout: null };
}

/**
 * Checks unknown data and returns it as a station description.
 *
 * @throws `ByterailError` with every problem found
 */
export function parseStation(data: unknown): Station {
  throwIfAny(examine(data).problems);
  return data as Station;
}

/**
 * Reads a station description from the text of a `station.json`: strict JSON, without repeated keys.
 *
 * @example
 * ```ts
 * import { assemble } from "byterail";
 * import { parseStationText } from "byterail/schema";
 * const station = parseStationText(`{ "format": 1, "name": "rig", "byteOrder": "big", "modules": [] }`);
 * assemble(station).inputs.byteLength; // → 0
 * ```
 * @throws `ByterailError` with every problem found
 */
export function parseStationText(text: string): Station {
  const { value, problems } = parseJson(text);
  throwIfAny(problems);
  return parseStation(value);
}

// Whether an entry of a description that is wrong somewhere has at least the right shape itself.
function isSound(entry: unknown): entry is Entry {
  const problems: Problem[] = [];
  checkShape(entry, entryShape, "", problems);
  return problems.length === 0;
}
