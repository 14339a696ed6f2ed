/** What the output can show: its width and whether it has colours. */
import type { Command } from "commander";
import pc from "picocolors";
import { wholeNumber } from "./wholeNumber.js";

/** Colours that mean something here. */
export type Colours = ReturnType<typeof pc.createColors>;

/** Columns where the output is no terminal. */
const usualWidth = 80;

/** Adds `--width` to a command that prints tables. */
export function withWidth(command: Command): Command {
  const text = `columns of tables (default: those of the terminal, else ${usualWidth})`;
  return command.option("--width <columns>", text, wholeNumber(40, 1000));
}

/** Columns of the output. */
export function widthOf({ width }: { readonly width?: number }): number {
  return width ?? (process.stdout.isTTY ? process.stdout.columns || usualWidth : usualWidth);
}

/** Colours on a terminal, none elsewhere or where the variable NO_COLOR is set. */
export function coloursOf(): Colours {
  return pc.createColors(process.stdout.isTTY === true && !process.env.NO_COLOR && process.env.TERM !== "dumb");
}
