// Random stations whose free texts try to break out of a cell, an element or a formula, and whose names are legal but awkward.

import type { Entry, Field, Module, Station } from "byterail";
import fc from "fast-check";
import { stations } from "../../support/stations.js";

/** Texts that would end a string, a comment, a cell or an element, or start a formula or mark-up. */
export const awkwardTexts = [
  '=HYPERLINK("http://127.0.0.1","x")',
  "+1+1",
  "-2+3",
  "@SUM(A1)",
  "＝1",
  "\t=1",
  "\r\n=1",
  '"=1',
  "a,b;c",
  'say "no"',
  "line\r\nbreak",
  "</script><script>document.title='owned'</script>",
  "</style></svg><img src=x onerror=\"document.title='owned'\">",
  "<!-- -->--->",
  "--",
  "]]>",
  "&amp;&lt;&#0;&bogus;",
  "*/ (* */ // -- #",
  "\"\"\"'''\\",
  "`code` **bold** [link](javascript:alert(1)) ![x](y) | cell \\",
  "# heading",
  "<javascript:alert(1)>",
  // biome-ignore lint/suspicious/noTemplateCurlyInString: it is meant to look like a placeholder
  "$(rm) ${x} {{x}} %s %n",
  "\u202Eright to left\u2066",
  "\uD800 lone",
  "\uFFFE\uFFFF",
  "\u0000\u0007\u001B[31m",
  "°C µm ² ½ Ω €",
];

const awkwardNames = [
  "title",
  "class",
  "if",
  "end_var",
  "a__b",
  "a_",
  "A___",
  "x".repeat(64),
  "script",
  "IF_1",
  "map",
  "head",
];

const texts = fc.oneof(
  fc.constantFrom(...awkwardTexts),
  fc.string({ unit: "grapheme", maxLength: 30 }),
  fc.string({ unit: "binary" }),
);

/** Random stations with such texts at every place that takes one, and such names for some points. */
export function awkwardStations(): fc.Arbitrary<Station> {
  return fc
    .record({
      station: stations(),
      list: fc.array(texts, { minLength: 8, maxLength: 8 }),
      names: fc.shuffledSubarray(awkwardNames),
    })
    .map(({ station, list, names }) => decorated(station, list, names));
}

/** A station with the texts of the list at every place that takes one, in turn, and the names for its first points. */
export function decorated(station: Station, list: readonly string[], names: readonly string[] = []): Station {
  let turn = 0;
  const text = () => list[turn++ % list.length]!;
  const next = { inputs: 0, outputs: 0 };
  const point = <T extends Entry | Field>(entry: T, direction: "inputs" | "outputs"): T => {
    if ("fields" in entry)
      return { ...entry, title: text(), fields: entry.fields.map((field) => point(field, direction)) };
    if (!("name" in entry)) return { ...entry, title: text() };
    return { ...entry, name: names[next[direction]++] ?? entry.name, title: text(), ...units(entry, text) };
  };
  return {
    ...station,
    title: text(),
    modules: station.modules.map(
      (module): Module => ({
        ...module,
        title: text(),
        ...(module.inputs && { inputs: module.inputs.map((entry) => point(entry, "inputs")) }),
        ...(module.outputs && { outputs: module.outputs.map((entry) => point(entry, "outputs")) }),
      }),
    ),
  };
}

function units(entry: object, text: () => string): object {
  const { scale } = entry as { scale?: object };
  if (scale) return { scale: { ...scale, unit: text() } };
  return "unit" in entry ? { unit: text() } : {};
}
