/**
 * Descriptions from outside: the JSON Schema of `station.json`, and the check of unknown data against it. Apart from the
 * library itself, which trusts the types of a literal and needs none of this at run time.
 *
 * @packageDocumentation
 */
export { type Examined, examine, parseStation, parseStationText } from "./schema/parse.js";
export { parseJson } from "./schema/json.js";
export { type JsonSchema, stationSchema } from "./schema/json-schema.js";
