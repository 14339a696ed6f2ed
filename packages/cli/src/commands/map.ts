/** `byterail map`: where every point stands in the two process images. */
import type { Layout } from "byterail";
import { byteMap } from "byterail/map";
import { Command } from "commander";
import { type AddressFlags, addressesOf, withAddresses } from "../addresses.js";
import { mapText } from "../mapText.js";
import { print, printJson } from "../print.js";
import { coloursOf, widthOf, withWidth } from "../screen.js";
import { readStation, stationArgument } from "../station.js";

interface Options extends AddressFlags {
  readonly json?: true;
  readonly width?: number;
}

export function mapCommand(): Command {
  const command = new Command("map")
    .summary("where every point stands in the process image")
    .description("Print the byte map of a station: where every point stands in the inputs and in the outputs.")
    .argument(...stationArgument)
    .option("--json", "print { station, inputs, outputs } for machines");
  return withWidth(withAddresses(command))
    .addHelpText("after", "\nExample:\n  byterail map station.json --inputs-at 64 --count words")
    .action(async (name: string, options: Options) => {
      const layout = await readStation(name);
      if (options.json) printJson(mapData(layout, options));
      else print(mapText(layout, (direction) => addressesOf(options, direction), widthOf(options), coloursOf()));
    });
}

function mapData({ station, inputs, outputs }: Layout, flags: AddressFlags) {
  return {
    station: station.name,
    inputs: byteMap(inputs, addressesOf(flags, "inputs")),
    outputs: byteMap(outputs, addressesOf(flags, "outputs")),
  };
}
