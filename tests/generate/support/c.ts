// A C program around generated files: it reads one case a line from its standard input and tells all that the functions say.

import type { Direction, ImageLayout, Layout, PlacedPoint } from "byterail";

/** What a case asks for. */
export type Ask = "decode" | "write" | "encode";

/** The lines of the program for some stations, whose names are as generated (no point has to change its name). */
export function driverFor(layouts: readonly Layout[], headers: ReadonlyMap<string, string>): string {
  const images = layouts.flatMap((layout) =>
    imagesOf(layout).map((image) => ({ station: layout.station.name, image })),
  );
  const bodies = images.flatMap(({ station, image }) => imageFunctions(station, image, headers.get(station)!));
  const calls = images.flatMap(({ station, image: { direction } }, k) => [
    `        if (number == ${k}) { if (ask == 'd') decode_${station}_${way(direction)}(); else if (ask == 'w') write_${station}_${way(direction)}(); else encode_${station}_${way(direction)}(); }`,
  ]);
  return [
    prelude(layouts),
    ...bodies,
    "int main(void)",
    "{",
    "    int number; char ask;",
    '    while (scanf(" %d %c", &number, &ask) == 2) {',
    ...calls,
    '        printf("\\n");',
    "    }",
    "    return 0;",
    "}",
    "",
  ].join("\n");
}

/** The images that have points, in the order of their numbers. */
export function imagesOf({ inputs, outputs }: Layout): ImageLayout[] {
  return [inputs, outputs].filter(({ points }) => points.length > 0) as ImageLayout[];
}

function prelude(layouts: readonly Layout[]): string {
  return `
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
${layouts.map(({ station }) => `#include "${station.name}.h"`).join("\n")}

static char word[4096];
static const char *next(void) { if (scanf("%4095s", word) != 1) exit(3); return word; }
static uint64_t next_unsigned(void) { return strtoull(next(), NULL, 10); }
static int64_t next_signed(void) { return strtoll(next(), NULL, 10); }
static double next_double(void) { const char *text = next(); const uint64_t bits = text[0] == 'n' ? UINT64_C(0x7FF8000000000000) : strtoull(text, NULL, 16); double value; memcpy(&value, &bits, sizeof value); return value; }
static float next_float(void) { const char *text = next(); const uint32_t bits = text[0] == 'n' ? 0x7FC00000u : (uint32_t)strtoul(text, NULL, 16); float value; memcpy(&value, &bits, sizeof value); return value; }
static void next_image(uint8_t *image)
{
    const char *text = next();
    for (; text[0] != '.'; text += 2) { const char pair[3] = {text[0], text[1], 0}; *image++ = (uint8_t)strtoul(pair, NULL, 16); }
}
static void tell_signed(int64_t value) { printf(" %" PRId64, value); }
static void tell_unsigned(uint64_t value) { printf(" %" PRIu64, value); }
static void tell_double(double value) { uint64_t bits; memcpy(&bits, &value, sizeof bits); if (value != value) printf(" nan"); else printf(" %016" PRIx64, bits); }
static void tell_float(float value) { uint32_t bits; memcpy(&bits, &value, sizeof bits); if (value != value) printf(" nan"); else printf(" %08" PRIx32, bits); }
static void tell_image(const uint8_t *image, size_t length) { printf(" "); while (length-- > 0) printf("%02x", *image++); printf("."); }
extern void use_all(void);
void use_all(void) { (void)next_unsigned(); (void)next_signed(); (void)next_double(); (void)next_float(); tell_float(0); tell_double(0); tell_signed(0); tell_unsigned(0); }
`;
}

function way(direction: Direction): "in" | "out" {
  return direction === "inputs" ? "in" : "out";
}

/** Whether counts of a point are signed in C. */
export function isSigned({ code }: PlacedPoint): boolean {
  return code === "twosComplement" || code === "offsetBinary" || code === "signMagnitude";
}

/** What a getter's answer is told as. */
export function tellings(
  point: PlacedPoint,
  direction: Direction,
  station: string,
  header: string,
): { what: string; as: string }[] {
  const has = (what: string) => header.includes(`${station}_${way(direction)}_${what}_${point.name}(`);
  const whole = isSigned(point) ? "signed" : "unsigned";
  const all = [
    { what: "raw", as: whole },
    { what: "bits", as: "unsigned" },
    { what: "value", as: "double" },
    { what: "valuef", as: "float" },
    { what: "fixed", as: "signed" },
    { what: "health", as: "signed" },
  ];
  return all.filter(({ what }) => has(what));
}

/** How the value of a point is read into the structure: a kind that `next_…` knows. */
export function valueKind({
  kind,
  bits,
  description,
  ...point
}: PlacedPoint): "unsigned" | "signed" | "double" | "float" {
  if ("scale" in description) return "double";
  if (kind === "real") return bits === 32 ? "float" : "double";
  return isSigned({ kind, bits, description, ...point }) ? "signed" : "unsigned";
}

// The image stands at an odd address, where a word read in one go would be misaligned.
function imageFunctions(station: string, { direction, byteLength, points }: ImageLayout, header: string): string[] {
  const prefix = `${station}_${way(direction)}`;
  const open = (name: string) => [
    `static void ${name}_${prefix}(void)`,
    "{",
    `    uint8_t room[${byteLength + 1}];`,
    "    uint8_t *image = room + 1;",
    "    next_image(image);",
  ];
  const setters = points.map(({ name, code }) => {
    const what = code === "bcd" || code === "signMagnitude" ? "bits" : "raw";
    return { name, what, get: `${prefix}_${what}_${name}(image)` };
  });
  return [
    ...open("decode"),
    ...points.flatMap((point) =>
      tellings(point, direction, station, header).map(
        ({ what, as }) => `    tell_${as}(${prefix}_${what}_${point.name}(image));`,
      ),
    ),
    "}",
    // Every raw value of the first image is set in the second.
    ...open("write"),
    `    uint8_t other[${byteLength}];`,
    "    next_image(other);",
    ...setters.map(({ name, what, get }) => `    ${prefix}_set${what}_${name}(other, ${get});`),
    `    tell_image(other, ${byteLength});`,
    "}",
    // The values are encoded; the image and every status are told, then the values decoded again.
    ...open("encode"),
    `    ${prefix}_values values;`,
    `    ${prefix}_values again;`,
    `    ${prefix}_statuses each;`,
    "    int first;",
    ...points.map(
      (point) =>
        `    values.${point.name} = ${point.kind === "boolean" ? "next_unsigned() != 0" : `(${castOf(point)})next_${valueKind(point)}()`};`,
    ),
    `    if (${prefix}_encode(image, ${byteLength - 1}, &values, NULL) != ${station.toUpperCase()}_WRONG_LENGTH) exit(4);`,
    `    first = (int)${prefix}_encode(image, ${byteLength}, &values, &each);`,
    "    tell_image(image, sizeof room - 1);",
    "    tell_signed(first);",
    ...points.map(({ name }) => `    tell_signed((int64_t)each.${name});`),
    `    if (${prefix}_decode(image, ${byteLength}, &again) != ${station.toUpperCase()}_OK) exit(5);`,
    ...points.map((point) => `    tell_${valueKind(point)}(again.${point.name});`),
    "}",
  ];
}

function castOf(point: PlacedPoint): string {
  const kind = valueKind(point);
  if (kind === "double" || kind === "float") return kind;
  const width = point.bits <= 8 ? 8 : point.bits <= 16 ? 16 : point.bits <= 32 ? 32 : 64;
  return `${kind === "signed" ? "" : "u"}int${width}_t`;
}
