/** The target `svg`: the picture of each direction that has data, one file each. */
import type { Target } from "../target.js";
import { xmlComment } from "../xml.js";
import { byteMapSvg } from "./byteMapSvg.js";

/** The target `svg`. */
export const svg: Target = {
  id: "svg",
  title: "Picture of the byte map",
  generate: ({ layout, options, header }) => {
    const comments = header.map((line) => `${xmlComment(line)}\n`).join("");
    const directions = (["inputs", "outputs"] as const).filter((direction) => layout[direction].byteLength > 0);
    const files = directions.map((direction) => ({
      path: `${layout.station.name}.${direction}.svg`,
      text: comments + byteMapSvg(layout, direction, addressesOf(options.addresses?.[direction])),
    }));
    return { files, notes: [] };
  },
};

function addressesOf<T>(addresses: T | undefined): { readonly addresses?: T } {
  return addresses === undefined ? {} : { addresses };
}
