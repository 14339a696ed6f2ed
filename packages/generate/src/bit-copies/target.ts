/** The target `bit-copies`: the copies and the arithmetic as data and as a table, for those who program by hand. */
import type { Target } from "../target.js";
import { copiesJson } from "./json.js";
import { copiesTable } from "./table.js";

/** The target `bit-copies`. */
export const bitCopies: Target = {
  id: "bit-copies",
  title: "Bit copies and channel arithmetic for programming by hand (JSON and Markdown)",
  generate: (source) => {
    const { name } = source.layout.station;
    return {
      files: [
        { path: `${name}.bitCopies.json`, text: copiesJson(source) },
        { path: `${name}.bitCopies.md`, text: copiesTable(source) },
      ],
      notes: [],
    };
  },
};
