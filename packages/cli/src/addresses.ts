/** How addresses are written: what their numbers count, and where each image starts in the controller's memory. */
import type { Direction } from "byterail";
import type { AddressOptions } from "byterail/map";
import { type Command, Option } from "commander";
import { wholeNumber } from "./wholeNumber.js";

/** The options as commander hands them over. */
export interface AddressFlags {
  readonly count: "bytes" | "words";
  readonly inputsAt: number;
  readonly outputsAt: number;
}

/** Adds the options to a command. */
export function withAddresses(command: Command): Command {
  const count = "what the number after W, D and L of an address counts";
  return command
    .addOption(new Option("--count <what>", count).choices(["bytes", "words"]).default("bytes"))
    .option("--inputs-at <byte>", "byte of the controller at which the inputs start", wholeNumber(0, 9_999_999), 0)
    .option("--outputs-at <byte>", "byte of the controller at which the outputs start", wholeNumber(0, 9_999_999), 0);
}

/** The options for the addresses of one image. */
export function addressesOf({ count, inputsAt, outputsAt }: AddressFlags, direction: Direction): AddressOptions {
  return { counting: count, start: direction === "inputs" ? inputsAt : outputsAt };
}
