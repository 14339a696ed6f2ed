/** The targets by id, in the order in which lists show them. One line each. */
import { bitCopies } from "./bit-copies/target.js";
import { c } from "./c/target.js";
import { html } from "./html/html.js";
import { jsonSchema } from "./json-schema/jsonSchema.js";
import { csv } from "./list/csv.js";
import { markdown } from "./list/markdown.js";
import { plcopen } from "./plcopen/plcopen.js";
import { python } from "./python/target.js";
import { structuredText } from "./structured-text/target.js";
import { svg } from "./svg/target.js";
import type { Target } from "./target.js";
import { typescript } from "./typescript/typescript.js";

const all: readonly Target[] = [
  typescript,
  c,
  python,
  jsonSchema,
  structuredText,
  bitCopies,
  csv,
  markdown,
  svg,
  html,
  plcopen,
];

/** Every target by its id. */
export const targets: ReadonlyMap<string, Target> = new Map(all.map((target) => [target.id, target]));
