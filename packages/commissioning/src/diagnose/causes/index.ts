/** The causes that are tried. A new one is a file here and a line in the list. */
import type { Cause } from "../hypothesis.js";
import { bitOrder } from "./bitOrder.js";
import { channelsExchanged } from "./channelsExchanged.js";
import { countFormat } from "./countFormat.js";
import { moduleOrder, stationOrder } from "./inheritedOrder.js";
import { justification } from "./justification.js";
import { length } from "./length.js";
import { moduleExtra } from "./moduleExtra.js";
import { moduleMissing } from "./moduleMissing.js";
import { modulesExchanged } from "./modulesExchanged.js";
import { pointOrder } from "./pointOrder.js";
import { registerBytes } from "./registerBytes.js";
import { shift } from "./shift.js";
import { failureLevel, stuck } from "./signal.js";
import { signalRange } from "./signalRange.js";

/** Every cause. */
export const causes: readonly Cause[] = [
  ...[stationOrder, moduleOrder, pointOrder, shift, length, modulesExchanged, moduleMissing, moduleExtra],
  ...[bitOrder, registerBytes, channelsExchanged, countFormat, justification, signalRange, stuck, failureLevel],
];
