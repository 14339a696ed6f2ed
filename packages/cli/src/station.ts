/** The station that a command works on. */
import { ByterailError, type Layout } from "byterail";
import { examine } from "byterail/schema";
import { readJson } from "./json.js";
import { readFileOrInput } from "./source.js";

/** Name and explanation of the argument, the same in every command. */
export const stationArgument = ["<STATION>", "description of the station, a JSON file; - is standard input"] as const;

/** Reads and assembles the station; throws every problem found. */
export async function readStation(name: string): Promise<Layout> {
  const { layout, problems } = examine(readJson(await readFileOrInput(name)));
  if (!layout) throw new ByterailError(problems);
  return layout;
}
