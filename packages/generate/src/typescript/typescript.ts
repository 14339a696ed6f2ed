/**
 * A TypeScript module that decodes and encodes the images of one station, as one would write it by hand: shifts on the
 * bytes, no import, no set-up. Values, checks and messages are those of the library.
 */
import { textOf } from "../snippet.js";
import type { Source, Target } from "../target.js";
import { directionBlocks } from "./direction.js";
import { helpersFor } from "./helpers.js";
import { commentText } from "./text.js";

/** The target `typescript`. */
export const typescript: Target = {
  id: "typescript",
  title: "TypeScript module without imports: offsets, types, decode, encode",
  generate: (source) => ({
    files: [{ path: `${source.layout.station.name}.ts`, text: textOf(moduleLines(source)) }],
    notes: [],
  }),
};

const caution = [
  "Caution: outputs move machines. Check this file against the station as built; follow the site's procedure and local",
  "codes. It is no safety function.",
];

function moduleLines({ layout, header }: Source): string[] {
  const blocks = [...directionBlocks(layout.inputs), ...directionBlocks(layout.outputs), ...errorBlocks];
  const helpers = helpersFor(blocks.flat().join("\n"));
  const top = [...header, ...caution].map((line) => `// ${commentText(line)}`);
  return [top, ...blocks, ...helpers].flatMap((block, k) => (k === 0 ? block : ["", ...block]));
}

const errorBlocks: string[][] = [
  [
    "/** One thing that is wrong. */",
    "export interface Problem {",
    "  readonly code: string;",
    "  readonly path: string;",
    "  readonly message: string;",
    "}",
  ],
  [
    "/** Carries every problem of a call, not only the first. */",
    "export class ProcessImageError extends Error {",
    '  override readonly name = "ProcessImageError";',
    "  readonly problems: readonly Problem[];",
    "",
    "  constructor(problems: readonly Problem[]) {",
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the text of a template.
    '    super(problems.map(({ code, path, message }) => `${code} ${path}: ${message}`).join("\\n"));',
    "    this.problems = problems;",
    "  }",
    "}",
  ],
];
