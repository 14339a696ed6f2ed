export { applyChange, type Operation, type StationChange } from "./change.js";
export {
  diagnose,
  type DiagnoseOptions,
  type Diagnosis,
  type Explanation,
  type JudgedFact,
  type Part,
} from "./diagnose.js";
export type { CauseName, FrameEdit, Where } from "./hypothesis.js";
export type { Known, Observation } from "./observation.js";
export type { NextObservation } from "./separate.js";
export type { Verdict } from "./verdict.js";
