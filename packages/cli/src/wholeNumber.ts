/** Whole numbers as values of options. */
import { InvalidArgumentError } from "commander";

/** A reader of whole decimal numbers in a range; what is none is wrong usage. */
export function wholeNumber(least: number, most: number): (text: string) => number {
  return (text) => {
    const number = /^\d{1,15}$/.test(text) ? Number(text) : Number.NaN;
    if (!(number >= least && number <= most))
      throw new InvalidArgumentError(`It must be a whole number, ${least} to ${most}.`);
    return number;
  };
}
