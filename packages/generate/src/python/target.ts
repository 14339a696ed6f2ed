/** The target `python`: one module of Python 3.9 or later that needs nothing but the standard library. */
import { textOf } from "../snippet.js";
import type { Target } from "../target.js";
import { moduleLines } from "./module.js";
import { attributeNames, moduleName } from "./names.js";

/** The target `python`. */
export const python: Target = {
  id: "python",
  title: "Python 3.9 module: dataclasses, decode and encode",
  generate: (source) => {
    const { station, inputs, outputs } = source.layout;
    const names = {
      inputs: attributeNames(
        inputs.points.map(({ name }) => name),
        "inputs",
      ),
      outputs: attributeNames(
        outputs.points.map(({ name }) => name),
        "outputs",
      ),
    };
    const file = moduleName(station.name);
    return {
      files: [{ path: `${file.of(station.name)}.py`, text: textOf(moduleLines(source, names)) }],
      notes: [...file.notes, ...names.inputs.notes, ...names.outputs.notes],
    };
  },
};
