/** The target `c`: a header and a source in C99 for firmware; both also compile as C++11. */
import { textOf } from "../snippet.js";
import type { Source, Target } from "../target.js";
import { healthConstants } from "./health.js";
import { helpersFor, includesFor } from "./helpers.js";
import { type Image, imageHeader, imageSource } from "./image.js";
import { memberNames, stationPrefix } from "./names.js";
import { pointHeader, pointSource } from "./point.js";
import { shapeOf } from "./shape.js";
import { comment, commentText } from "./text.js";

/** The target `c`. */
export const c: Target = {
  id: "c",
  title: "C99 header and source for firmware",
  generate: (source) => {
    const { layout, options } = source;
    const prefix = stationPrefix(layout.station.name);
    const station = prefix.of(layout.station.name);
    const made = [layout.inputs, layout.outputs].map(({ direction, byteLength, points }) => {
      const names = memberNames(
        points.map(({ name }) => name),
        direction,
        station,
      );
      const shapes = points.map((point) => shapeOf(point, names.of(point.name), direction, station, options.decimals));
      return { image: { direction, byteLength, shapes }, notes: names.notes };
    });
    const images = made.map(({ image }) => image);
    return {
      files: [
        { path: `${station}.h`, text: textOf(headerLines(source, images, station)) },
        { path: `${station}.c`, text: textOf(sourceLines(source, images, station)) },
      ],
      notes: [...prefix.notes, ...made.flatMap(({ notes }) => notes)],
    };
  },
};

const introduction = [
  "Images are bytes as they are exchanged with the station; every function works on any host, whatever its byte order and",
  "alignment. Functions of a single point take an image of full length and do not check that.",
  "",
  "raw       counts, of a real its bit pattern; set within the range of the type",
  "bits      the bit pattern, where counts leave something unsaid: the sign of zero, a digit above 9",
  "value     in engineering units as double, valuef as float; set within what the point accepts",
  "fixed     the value times 10^DECIMALS in whole numbers, rounded to the nearest, ties to even; no step can overflow,",
  "          whatever the counts are. INT64_MIN where BCD is no decimal number",
  "health    what the counts say beside the value",
  "",
  "The values are those of correct binary64 arithmetic without fused multiply-add (-ffp-contract=off).",
  "",
  "Caution: driving outputs moves machines. Check this map against the station as built. It is no safety function;",
  "local codes, site procedure and competent persons come first.",
];

function headerLines({ header }: Source, images: readonly Image[], station: string): string[] {
  const macros = station.toUpperCase();
  const used = images.filter(({ shapes }) => shapes.length > 0);
  return [
    ...comment([...header.map(commentText), "", ...introduction]),
    `#ifndef ${macros}_H`,
    `#define ${macros}_H`,
    "",
    "#include <stdbool.h>",
    "#include <stddef.h>",
    "#include <stdint.h>",
    "",
    "#ifdef __cplusplus",
    'extern "C" {',
    "#endif",
    "",
    "/* Lengths of the images in bytes. */",
    ...images.map(
      ({ direction, byteLength }) => `#define ${macros}_${direction === "inputs" ? "IN" : "OUT"}_LENGTH ${byteLength}U`,
    ),
    "",
    ...enumeration(
      ["OK", "WRONG_LENGTH", "NOT_FINITE", "BEYOND_LIMITS", "OUT_OF_RANGE", "SPECIAL_COUNTS"],
      macros,
      `${station}_status`,
    ),
    ...enumeration(healthConstants, macros, `${station}_health`),
    ...used.flatMap((image) => [
      ...image.shapes.flatMap((shape) => pointHeader(shape, station)),
      ...imageHeader(image, station),
    ]),
    "#ifdef __cplusplus",
    "}",
    "#endif",
    "",
    `#endif /* ${macros}_H */`,
  ];
}

function enumeration(names: readonly string[], macros: string, type: string): string[] {
  return [
    "typedef enum {",
    ...names.map((name, k) => `    ${macros}_${name}${k < names.length - 1 ? "," : ""}`),
    `} ${type};`,
    "",
  ];
}

function sourceLines({ header }: Source, images: readonly Image[], station: string): string[] {
  const used = images.filter(({ shapes }) => shapes.length > 0);
  const code = used.flatMap((image) => [
    ...image.shapes.flatMap((shape) => pointSource(shape, station)),
    ...imageSource(image, station),
  ]);
  const helpers = helpersFor(code);
  const includes = includesFor([...helpers, ...code]);
  return [
    ...comment(header.map(commentText)),
    `#include "${station}.h"`,
    "",
    ...(includes.length > 0 ? [...includes, ""] : []),
    ...helpers,
    ...code.slice(0, -1),
  ];
}
