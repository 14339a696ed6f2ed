/**
 * The target `plcopen`: declarations in PLCopen TC6 XML 2.01 for import into a programming system. For each direction a
 * data type with the values of its points, the image as an array of bytes at its address, and a variable at the address of
 * every point that has one. Such a variable holds counts, and holds them right where the controller reads bytes in the order
 * in which they travel; its documentation tells that order.
 *
 * The format demands a time of creation; it is a constant, so that the same station gives the same bytes.
 */
import Builder from "fast-xml-builder";
import type { Source, Target } from "../target.js";
import { xmlClean, xmlComment } from "../xml.js";
import { type Declarations, declarationsOf, type Element } from "./declarations.js";
import { identifiers } from "./identifiers.js";

/** The target `plcopen`. */
export const plcopen: Target = {
  id: "plcopen",
  title: "PLCopen TC6 XML 2.01: data types and variables with addresses",
  generate: (source) => {
    const { station } = source.layout;
    const parts = (["inputs", "outputs"] as const)
      .filter((direction) => source.layout[direction].byteLength > 0)
      .map((direction) => declarationsOf(source, direction));
    const xml = builder.build({ project: project(source, parts) });
    const text = `<?xml version="1.0" encoding="UTF-8"?>\n${source.header.map((line) => `${xmlComment(line)}\n`).join("")}${xml}`;
    return { files: [{ path: `${station.name}.xml`, text }], notes: parts.flatMap(({ notes }) => notes) };
  },
};

const builder = new Builder({
  ignoreAttributes: false,
  attributeNamePrefix: "@",
  format: true,
  suppressEmptyNode: true,
  suppressBooleanAttributes: false,
});

const created = "1970-01-01T00:00:00";

const caution =
  "Caution: writing outputs moves machines. Check these addresses against the station as built. They are no safety " +
  "function; see site procedure and local codes.";

function project({ layout }: Source, parts: readonly Declarations[]): Element {
  const { name, title } = layout.station;
  const scaling = { scaling: { "@x": "1", "@y": "1" } };
  return {
    "@xmlns": "http://www.plcopen.org/xml/tc6_0201",
    fileHeader: {
      "@companyName": "",
      "@productName": "byterail",
      "@productVersion": "1",
      "@creationDateTime": created,
    },
    contentHeader: {
      "@name": name,
      Comment: [xmlClean(title ?? ""), ...(layout.outputs.byteLength > 0 ? [caution] : [])].filter(Boolean).join(" – "),
      coordinateInfo: { fbd: scaling, ld: scaling, sfc: scaling },
    },
    types: { dataTypes: { dataType: parts.flatMap(({ dataTypes }) => dataTypes) }, pous: {} },
    instances: {
      configurations: {
        configuration: {
          "@name": identifiers([name], "station").of(name),
          globalVars: parts.map(({ globals }) => globals),
        },
      },
    },
  };
}
