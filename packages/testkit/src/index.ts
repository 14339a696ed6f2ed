/**
 * The test kit of Byterail: matchers with an annotated dump, frames and captures as text, random stations and frames.
 *
 * @packageDocumentation
 */
export { counts } from "./arbitraries/counts.js";
export { type FaultOptions, type FaultyFrame, faultyFrame, type FrameFault } from "./arbitraries/faulty.js";
export { frame, values } from "./arbitraries/frame.js";
export type { EntryType, Extra, PlacementRule, StationOptions } from "./arbitraries/options.js";
export { station } from "./arbitraries/station.js";

export { frameOf } from "./frames/frame-of.js";
export { type RecordedFrame, recordedText, recordingText } from "./frames/recorded.js";

export type { DecodeOptions } from "./matchers/decode-to.js";
export type { LayoutOptions, Place } from "./matchers/have-layout.js";
export type { Tolerance } from "./matchers/judge.js";
export { type ByterailMatchers, type Fitting, matchers, type PointsOf } from "./matchers/matchers.js";
export type { AnyImage, MatcherResult } from "./matchers/result.js";
export { type FrameSerializer, frameSerializer } from "./serializer.js";
