/** The length configured in the scanner or controller is another than described. */
import { withPlacement } from "../edit.js";
import type { Cause } from "../hypothesis.js";
import { directions, surplus } from "../lengths.js";
import { rearranged } from "../rearrange.js";

export const length: Cause = function* (base) {
  for (const direction of directions) {
    const more = surplus(base, direction);
    if (more === 0) continue;
    const described = base.layout[direction].byteLength;
    const bytes = described + more;
    const station = withPlacement(base.station, direction, { length: bytes, lengthMultiple: 1 });
    const effect = rearranged(base, station);
    const says = `The ${direction} are ${bytes} bytes long, not ${described}; what is described stands where it is described.`;
    if (effect)
      yield {
        cause: "length",
        where: { direction, module: null, point: null },
        says,
        assumes: 2,
        effect,
        station: () => station,
      };
  }
};
