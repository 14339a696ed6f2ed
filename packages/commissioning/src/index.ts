/**
 * Commissioning of a station: loop-check sheets, forcing, comparison of revisions, diagnosis.
 *
 * @packageDocumentation
 */
export { cautions, driveCaution, releaseCaution } from "./cautions.js";
export type { AffectedAddress, AffectedArtefact, Artefact } from "./compare/affected.js";
export { type CompareOptions, type Comparison, compare, type SizeChange } from "./compare/compare.js";
export type { Extent, ModuleChange, ModuleChangeKind, ModulePlace } from "./compare/modules.js";
export type { PointPlace } from "./compare/place.js";
export { type PointChange, type PointChangeKind, pointChangeKinds } from "./compare/points.js";
export type { StalePoint } from "./compare/stale.js";
export * from "./diagnose/index.js";
export {
  type ActiveForce,
  type DisposableForcing,
  type ForceOptions,
  type Forcing,
  type ForcingOptions,
  forcing,
  type ReleaseOptions,
} from "./forcing/forcing.js";
export type { ForceChange, ForceLogEntry } from "./forcing/log.js";
export type { Band, BandPart, Combination, Method } from "./sheet/band.js";
export type { Connection, ImageSize, Overhead } from "./sheet/connection.js";
export type { CheckedPoint } from "./sheet/checkedPoint.js";
export type { Contact } from "./sheet/contact.js";
export { sheetCsv } from "./sheet/csv.js";
export { sheetHtml } from "./sheet/html/html.js";
export type { ByteRun } from "./sheet/image.js";
export type { LeftOut, Loop, LoopRow } from "./sheet/loop.js";
export { sheetMarkdown } from "./sheet/markdown.js";
export { type PlainNumber, type Sheet, type SheetOptions, sheet } from "./sheet/sheet.js";
