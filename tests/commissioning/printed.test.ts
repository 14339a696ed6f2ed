// The printed sheet of a small station, whole: Markdown, CSV and HTML say the same, in the same order.

import {
  cautions,
  driveCaution,
  type SheetOptions,
  sheet,
  sheetCsv,
  sheetHtml,
  sheetMarkdown,
} from "@byterail/commissioning";
import { assemble, type Station } from "byterail";
import MarkdownIt from "markdown-it";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { rinser } from "./rinser.js";

const options: SheetOptions = {
  steps: [0, 100],
  digest: "0a1b",
  addresses: { inputs: { start: 64 }, outputs: { start: 32, counting: "words" } },
};
const made = sheet(assemble(rinser), options);
const bare = sheet(
  assemble({
    ...{ format: 1, name: "bare", byteOrder: "big" },
    modules: [{ name: "p", inputs: [{ name: "x", type: "uint8" }] }],
  }),
);

// Supply: ±0.4 % and ±0.3 % of 10 bar, half a count of 0.01 bar: √(0.04² + 0.03² + 0.005²) = 0.0502494 bar, 1.6 mA a bar.
// Ends of a band are rounded into it.
const printed = `# Loop check: Bottle rinser

Station rinser, revision 0a1b

## Connection: ethernet-ip

|                                  | inputs | outputs | source                      |
| -------------------------------- | -----: | ------: | --------------------------- |
| image, bytes (8-bit elements)    |      8 |       4 | this description            |
| 16-bit elements                  |      4 |       2 | rounded up; unused in bytes |
| 32-bit elements                  |      2 |       1 | rounded up; unused in bytes |
| largest image, bytes             |    509 |     505 | CIP Vol. 1 (from memory)    |
| overhead: sequence count, bytes  |      2 |       2 | CIP Vol. 1 (from memory)    |
| overhead: run/idle header, bytes |      0 |       4 | CIP Vol. 1 (from memory)    |
| image with overhead, bytes       |     10 |      10 | sum of the above            |

## Analog inputs

### supply: Supply pressure

- module ai, slot 0
- %IW64
- uint16
- counts 0 to 1000
- 4 to 20 mA
- 0 to 10 bar
- band ±0.0502494 bar (instrument 0.04, channel 0.03, rounding 0.005)

| run | % span | counts |  true % |    mA |   bar | byte: hex |    accept, bar | as found | as left | by  | date |
| --- | -----: | -----: | ------: | ----: | ----: | --------- | -------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |   0.000 |  4.00 |  0.00 | 0: 00 00  | -0.050 … 0.050 |          |         |     |      |
| ↑   |    100 |   1000 | 100.000 | 20.00 | 10.00 | 0: E8 03  | 9.950 … 10.050 |          |         |     |      |
| ↓   |    100 |   1000 | 100.000 | 20.00 | 10.00 | 0: E8 03  | 9.950 … 10.050 |          |         |     |      |
| ↓   |      0 |      0 |   0.000 |  4.00 |  0.00 | 0: 00 00  | -0.050 … 0.050 |          |         |     |      |

### level

- module tank, slot 1
- field of 12 bits
- counts 0 to 4000
- 0 to 100 %
- bits 6: F0 FF; the other bits of these bytes are shown as 0
- band ±0.0125 % (rounding 0.0125)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts |  true % |      % | byte: hex |        accept, % | as found | as left | by  | date |
| --- | -----: | -----: | ------: | -----: | --------- | ---------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |   0.000 |   0.00 | 6: 00 00  |   -0.012 … 0.012 |          |         |     |      |
| ↑   |    100 |   4000 | 100.000 | 100.00 | 6: 00 FA  | 99.988 … 100.012 |          |         |     |      |
| ↓   |    100 |   4000 | 100.000 | 100.00 | 6: 00 FA  | 99.988 … 100.012 |          |         |     |      |
| ↓   |      0 |      0 |   0.000 |   0.00 | 6: 00 00  |   -0.012 … 0.012 |          |         |     |      |

## Digital inputs

| point    | slot, module | address | byte.bit | mask | actuate                           | see                        | as found | as left | by  | date |
| -------- | ------------ | ------- | -------: | ---- | --------------------------------- | -------------------------- | -------- | ------- | --- | ---- |
| echoLost | 1 tank       | %IX70.0 |      6.0 | 01   | No echo: at the device, then back | bit 0 of byte 6: 1, then 0 |          |         |     |      |

## Other numbers, inputs

| point                         | slot, module | address | byte | type            | unit    | mask  | sent | seen | as found | as left | by  | date |
| ----------------------------- | ------------ | ------- | ---: | --------------- | ------- | ----- | ---- | ---- | -------- | ------- | --- | ---- |
| bottles: Bottles of the shift | 0 ai         | %ID66   |    2 | uint32          | bottles |       | ☐    | ☐    |          |         |     |      |
| mode                          | 1 tank       |         |    6 | 3 bits, shift 1 |         | 6: 0E | ☐    | ☐    |          |         |     |      |

## Analog outputs

**Driving an output may move the machine: one at a time, machine in view, under the site's procedure.**

### speed

- module pump, slot 3
- uint16
- counts 0 to 1000
- 0 to 10 V
- 0 to 100 %
- band ±0.05 % (rounding 0.05)
- network lost: goes to 20 %
- The description gives no error of the instrument and of the channel: the band is without it.
- Left out: 100 %, as 100 % lies beyond the limits 0 to 80.

| run | % span | counts | true % |    V |   % | byte: hex |      accept, V | as found | as left | by  | date |
| --- | -----: | -----: | -----: | ---: | --: | --------- | -------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |  0.000 | 0.00 | 0.0 | 1: 00 00  | -0.005 … 0.005 |          |         |     |      |
| ↓   |      0 |      0 |  0.000 | 0.00 | 0.0 | 1: 00 00  | -0.005 … 0.005 |          |         |     |      |

## Digital outputs

**Driving an output may move the machine: one at a time, machine in view, under the site's procedure.**

| point | slot, module | address | byte.bit | mask | actuate                                 | see                                    | network lost         | as found | as left | by  | date |
| ----- | ------------ | ------- | -------: | ---- | --------------------------------------- | -------------------------------------- | -------------------- | -------- | ------- | --- | ---- |
| down  | 2 valves     | %QX32.0 |      0.0 | 01   | write 1, then 0 (up: 0 all the while)   | Head down: on, then off, at the device | holds its last state |          |         |     |      |
| up    | 2 valves     | %QX32.1 |      0.1 | 02   | write 1, then 0 (down: 0 all the while) | Head up: on, then off, at the device   | ☐                    |          |         |     |      |

## Other numbers, outputs

**Driving an output may move the machine: one at a time, machine in view, under the site's procedure.**

| point  | slot, module | address | byte | type  | unit | mask | written | seen | network lost | as found | as left | by  | date |
| ------ | ------------ | ------- | ---: | ----- | ---- | ---- | ------- | ---- | ------------ | -------- | ------- | --- | ---- |
| recipe | 3 pump       | %QB35   |    3 | uint8 |      |      | ☐       | ☐    | goes to 7    |          |         |     |      |`;

describe("as Markdown", () => {
  test("the whole sheet, but for the cautions and the band's formula", () => {
    const [front, ...others] = sheetMarkdown(made).split(/(?=^## )/m);
    expect(others.splice(0, 2).map((part) => part.split("\n")[0])).toEqual([
      "## Before anything is driven",
      "## Acceptance band",
    ]);
    expect([front, ...others].join("")).toBe(`${printed}\n`);
  });

  test("every caution is a line of its own, and so are formula and source", () => {
    const [, first, second] = sheetMarkdown(made).split(/^## .*\n\n/m);
    expect(first).toBe(`${cautions.map((caution) => `- ${caution}\n`).join("")}\n`);
    expect(second).toMatch(/^± √\(a\\_instrument² .* in value units\.\nSource: JCGM 100:2008 .* √3\.\n\n$/);
  });

  test("without network, digest or title nothing stands in their place; elements that are not full say so", () => {
    const markdown = sheetMarkdown(bare);
    expect(markdown).toContain("# Loop check: bare\n\nStation bare\n\n");
    expect(
      markdown
        .split("\n")
        .filter((line) => line.startsWith("## "))
        .slice(2),
    ).toEqual(["## Connection", "## Other numbers, inputs"]);
    expect(rowsOf(markdown).slice(1, 6)).toEqual([
      ["image, bytes (8-bit elements)", "1", "0", "this description"],
      ["16-bit elements", "1 (the last holds 1 unused)", "0", "rounded up; unused in bytes"],
      ["32-bit elements", "1 (the last holds 3 unused)", "0", "rounded up; unused in bytes"],
      ["largest image, bytes", "65535", "65535", "a length of 16 bits"],
      expect.arrayContaining(["point"]),
    ]);
  });

  test("limits that have a source for each direction name both", () => {
    const modbus = sheet(assemble({ format: 1, name: "rig", network: "modbus-tcp", modules: [] }));
    expect(rowsOf(sheetMarkdown(modbus)).find(([what]) => what === "largest image, bytes")).toEqual([
      ...["largest image, bytes", "250", "246"],
      "inputs: Modbus V1.1b3, 6.3; outputs: Modbus V1.1b3, 6.12",
    ]);
  });
});

describe("as CSV", () => {
  test("the whole sheet, but for the cautions", () => {
    const lines = sheetCsv(made).split("\r\n");
    expect(lines.filter((line) => line.startsWith("caution,"))).toHaveLength(cautions.length);
    expect(lines.filter((line) => !line.startsWith("caution,"))).toEqual([
      "check,direction,point,title,module,slot,address,byte,bit,run,percent,counts,true percent,signal,signal unit,value,unit,bytes,band,accept low,accept high,accept signal low,accept signal high,actuate,see,network lost,note,as found,as left,by,date",
      "station,,rinser,Bottle rinser,,,,,,,,,,,,,,,,,,,,,,,digest 0a1b,,,,",
      'band,,,,,,,,,,,,,,,,,,,,,,,,,,"± √(a_instrument² + a_channel² + a_rounding²) = ± √3 · u, with u = √(Σ a²/3); a in value units (JCGM 100:2008 (GUM): each error ±a taken as rectangular, u = a/√3 (4.3.7); combined by eq. 10, independent; coverage factor √3)",,,,',
      "connection,inputs,,,,,,,,,,,,,,8,bytes,,,,,,,,,,image in bytes,,,,",
      'connection,inputs,,,,,,,,,,,,,,4,elements,,,,,,,,,,"16-bit elements, rounded up",,,,',
      'connection,inputs,,,,,,,,,,,,,,2,elements,,,,,,,,,,"32-bit elements, rounded up",,,,',
      "connection,inputs,,,,,,,,,,,,,,509,bytes,,,,,,,,,,largest image: CIP Vol. 1 (from memory),,,,",
      "connection,inputs,,,,,,,,,,,,,,2,bytes,,,,,,,,,,overhead: sequence count (CIP Vol. 1 (from memory)),,,,",
      "connection,inputs,,,,,,,,,,,,,,0,bytes,,,,,,,,,,overhead: run/idle header (CIP Vol. 1 (from memory)),,,,",
      "connection,outputs,,,,,,,,,,,,,,4,bytes,,,,,,,,,,image in bytes,,,,",
      'connection,outputs,,,,,,,,,,,,,,2,elements,,,,,,,,,,"16-bit elements, rounded up",,,,',
      'connection,outputs,,,,,,,,,,,,,,1,elements,,,,,,,,,,"32-bit elements, rounded up",,,,',
      "connection,outputs,,,,,,,,,,,,,,505,bytes,,,,,,,,,,largest image: CIP Vol. 1 (from memory),,,,",
      "connection,outputs,,,,,,,,,,,,,,2,bytes,,,,,,,,,,overhead: sequence count (CIP Vol. 1 (from memory)),,,,",
      "connection,outputs,,,,,,,,,,,,,,4,bytes,,,,,,,,,,overhead: run/idle header (CIP Vol. 1 (from memory)),,,,",
      "analog,inputs,supply,Supply pressure,ai,0,%IW64,0,,up,0,0,0,4,mA,0,bar,00 00,0.05024937810560445,-0.05024937810560445,0.05024937810560445,3.9196009950310327,4.080399004968967,,,,,,,,",
      "analog,inputs,supply,Supply pressure,ai,0,%IW64,0,,up,100,1000,100,20,mA,10,bar,E8 03,0.05024937810560445,9.949750621894395,10.050249378105605,19.919600995031033,20.080399004968967,,,,,,,,",
      "analog,inputs,supply,Supply pressure,ai,0,%IW64,0,,down,100,1000,100,20,mA,10,bar,E8 03,0.05024937810560445,9.949750621894395,10.050249378105605,19.919600995031033,20.080399004968967,,,,,,,,",
      "analog,inputs,supply,Supply pressure,ai,0,%IW64,0,,down,0,0,0,4,mA,0,bar,00 00,0.05024937810560445,-0.05024937810560445,0.05024937810560445,3.9196009950310327,4.080399004968967,,,,,,,,",
      "analog,inputs,level,,tank,1,,6,,up,0,0,0,,,0,%,00 00,0.0125,-0.0125,0.0125,,,,,,band without error of instrument and channel,,,,",
      "analog,inputs,level,,tank,1,,6,,up,100,4000,100,,,100,%,00 FA,0.0125,99.9875,100.0125,,,,,,band without error of instrument and channel,,,,",
      "analog,inputs,level,,tank,1,,6,,down,100,4000,100,,,100,%,00 FA,0.0125,99.9875,100.0125,,,,,,band without error of instrument and channel,,,,",
      "analog,inputs,level,,tank,1,,6,,down,0,0,0,,,0,%,00 00,0.0125,-0.0125,0.0125,,,,,,band without error of instrument and channel,,,,",
      "analog,outputs,speed,,pump,3,,1,,up,0,0,0,0,V,0,%,00 00,0.05,-0.05,0.05,-0.005,0.005,,,goes to 20 %,band without error of instrument and channel,,,,",
      "analog,outputs,speed,,pump,3,,1,,down,0,0,0,0,V,0,%,00 00,0.05,-0.05,0.05,-0.005,0.005,,,goes to 20 %,band without error of instrument and channel,,,,",
      "analog,outputs,speed,,pump,3,,,,,100,,,,,,,,,,,,,,,,left out: 100 % lies beyond the limits 0 to 80,,,,",
      'digital,inputs,echoLost,No echo,tank,1,%IX70.0,6,0,,,,,,,,,01,,,,,,"No echo: at the device, then back","bit 0 of byte 6: 1, then 0",,,,,,',
      'digital,outputs,down,Head down,valves,2,%QX32.0,0,0,,,,,,,,,01,,,,,,"write 1, then 0 (up: 0 all the while)","Head down: on, then off, at the device",holds its last state,,,,,',
      'digital,outputs,up,Head up,valves,2,%QX32.1,0,1,,,,,,,,,02,,,,,,"write 1, then 0 (down: 0 all the while)","Head up: on, then off, at the device",,,,,,',
      "number,inputs,bottles,Bottles of the shift,ai,0,%ID66,2,,,,,,,,,bottles,,,,,,,,,,,,,,",
      "number,inputs,mode,,tank,1,,6,,,,,,,,,,,,,,,,,,,,,,,",
      "number,outputs,recipe,,pump,3,%QB35,3,,,,,,,,,,,,,,,,,,goes to 7,,,,,",
      "",
    ]);
  });
});

describe("as HTML", () => {
  const html = sheetHtml(
    sheet(assemble(rinser), { ...options, picture: { inputs: "<svg/>", outputs: ["<a/>", "<b/>"] } }),
  );

  test("has the tables of the Markdown, cell for cell", () => {
    const [, ...sizes] = rowsOf(sheetMarkdown(made));
    expect(htmlOutline(html).rows.slice(1)).toEqual(sizes);
    expect(htmlOutline(html).rows[0]).toEqual(["size", "inputs", "outputs", "source"]);
  });

  test("around them stands what a page needs", () => {
    expect(htmlOutline(html).lines).toEqual([
      "title Loop check: Bottle rinser",
      "p.kicker Loop check",
      "h1 Bottle rinser",
      ...["dt Station", "dd rinser", "dt Revision", "dd 0a1b"],
      ...["Site", "Permit", "Responsible", "Date"].flatMap((field) => [`dt ${field}`, "dd.line "]),
      ...["section.cautions", "h2 Before anything is driven", ...cautions.map((caution) => `li ${caution}`)],
      ...["section", "h2 Acceptance band", `span.formula ${made.method.formula}`, `p.source ${made.method.source}.`],
      ...["section.page", "h2 Connection: ethernet-ip", "table Connection sizes: text number number text"],
      "p.source Inputs travel from the station to the controller, outputs from the controller to the station. Revision 0a1b.",
      ...["section.map", "h2 Byte map, inputs", "img Byte map of the inputs: data:image/svg+xml,%3Csvg%2F%3E"],
      ...["section.map", "h2 Byte map, outputs"],
      "img Byte map of the outputs, part 1 of 2: data:image/svg+xml,%3Ca%2F%3E",
      "img Byte map of the outputs, part 2 of 2: data:image/svg+xml,%3Cb%2F%3E",
      ...["section.page", "h2 Analog inputs", "article.short", "h3 supply Supply pressure"],
      ...["module ai, slot 0", "%IW64", "uint16", "counts 0 to 1000", "4 to 20 mA", "0 to 10 bar"].map(span),
      span("band ±0.0502494 bar (instrument 0.04, channel 0.03, rounding 0.005)"),
      "table supply, inputs: mark number number number number number bytes number entry entry entry entry",
      ...["article.short", "h3 level"],
      ...["module tank, slot 1", "field of 12 bits", "counts 0 to 4000", "0 to 100 %"].map(span),
      ...["bits 6: F0 FF; the other bits of these bytes are shown as 0", "band ±0.0125 % (rounding 0.0125)"].map(span),
      "p.note The description gives no error of the instrument and of the channel: the band is without it.",
      "table level, inputs: mark number number number number bytes number entry entry entry entry",
      ...["section.more", "h2 Digital inputs"],
      "table Digital inputs: name text text number bytes text text entry entry entry entry",
      ...["section.more", "h2 Other numbers, inputs"],
      "table Other numbers, inputs: name text text number text text bytes text text entry entry entry entry",
      ...["section.page", "h2 Analog outputs", `p.drive ${driveCaution}`, "article.short", "h3 speed"],
      ...["module pump, slot 3", "uint16", "counts 0 to 1000", "0 to 10 V", "0 to 100 %"].map(span),
      ...["band ±0.05 % (rounding 0.05)", "network lost: goes to 20 %"].map(span),
      "p.note The description gives no error of the instrument and of the channel: the band is without it.",
      "p.note Left out: 100 %, as 100 % lies beyond the limits 0 to 80.",
      "table speed, outputs: mark number number number number number bytes number entry entry entry entry",
      ...["section.more", "h2 Digital outputs", `p.drive ${driveCaution}`],
      "table Digital outputs: name text text number bytes text text text entry entry entry entry",
      ...["section.more", "h2 Other numbers, outputs", `p.drive ${driveCaution}`],
      "table Other numbers, outputs: name text text number text text bytes text text text entry entry entry entry",
    ]);
  });

  test("is a page of HTML 5 in UTF-8 that fits small screens, with nothing between its elements", () => {
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n/);
    expect(html).toContain('<meta name="viewport" content="width=device-width, initial-scale=1">');
    expect(html).toMatch(/<ul>(<li>[^<]+<\/li>){9}<\/ul>/);
    expect(html).toMatch(/<p class="facts-line"><span>[^<]+<\/span>( <span>[^<]+<\/span>)+<\/p>/);
    expect(html).toMatch(/<thead><tr>(<th scope="col" class="\w+">[^<]+<\/th>){12}<\/tr><\/thead>\n<tbody>\n<tr>/);
    for (const row of html.match(/<tr>.*<\/tr>/g)!) expect(row).toMatch(/^<tr>(<t[dh][^>]*>[^<]*<\/t[dh]>)+<\/tr>/);
  });

  test("half a character in a picture is replaced", () => {
    const page = sheetHtml(sheet(assemble(rinser), { picture: { inputs: "<a b='\ud800'/>", outputs: [] } }));
    expect(htmlOutline(page).lines.filter((line) => /^img|^section.map/.test(line))).toEqual([
      "section.map",
      `img Byte map of the inputs: data:image/svg+xml,${encodeURIComponent("<a b='\uFFFD'/>")}`,
    ]);
  });

  test("a table of more than 16 rows may go over the end of a page", () => {
    const classes = (count: number) =>
      htmlOutline(sheetHtml(sheet(assemble(rinser), { steps: Array.from({ length: count }, (_, k) => k) })))
        .lines.filter((line) => line.startsWith("article"))
        .slice(0, 1);
    expect([classes(8), classes(9)]).toEqual([["article.short"], ["article.long"]]);
  });

  test("without network, digest, title or picture nothing stands in their place", () => {
    const { lines } = htmlOutline(sheetHtml(bare));
    expect(lines).toEqual(expect.arrayContaining(["h1 bare", "h2 Connection", "dd not given"]));
    expect(lines.find((line) => line.startsWith("p.source Inputs"))).toMatch(/Revision not given\.$/);
    expect(lines.filter((line) => /^img|^section\.map/.test(line))).toEqual([]);
  });
});

// Points that few stations have: no unit, no error known, bytes apart, nothing that may be driven.
const odd: Station = {
  ...{ format: 1, name: "odd", network: "profinet" },
  modules: [
    {
      name: "ai",
      inputs: [
        { name: "real", type: "float32", scale: { counts: [-1, 1], value: [-50, 50] } },
        { name: "fine", type: "uint16", scale: { counts: [4000, 20000], signal: [4, 20], value: [2, 10] } },
        { name: "coarse", type: "uint8", scale: { counts: [0, 10], value: [0, 200], unit: "L" } },
        {
          ...{ word: 32, byteOrder: "little", wordOrder: "highFirst" },
          fields: [{ name: "split", bits: 12, shift: 8, scale: { counts: [0, 4000], value: [0, 1] } }],
        },
        { name: "root", type: "uint16", scale: { counts: [0, 10000], value: [0, 100], shape: "squareRoot" } },
        { name: "zero", type: "uint16", scale: { counts: [0, 3000], value: [-0.0001, 90] } },
        { ...{ name: "none", type: "uint8", limits: [0, 10] }, scale: { counts: [100, 200], value: [100, 200] } },
        { name: "bits", type: "uint8" },
      ],
    },
    {
      ...{ name: "ao", accuracy: { percentOfSpan: 1 } },
      outputs: [
        {
          ...{ name: "drive", type: "int16" },
          scale: { counts: [-1000, 1000], signal: [-10, 10], value: [-1, 1], accuracy: { absolute: 0.01 } },
        },
      ],
    },
  ],
};

test("unusual points: decimals by the step, no unit, no error, bytes apart, nothing that may be driven", () => {
  const made = sheet(assemble(odd), { steps: [0, 50] });
  const markdown = sheetMarkdown(made);
  expect(markdown.slice(markdown.indexOf("### real"))).toBe(`${oddPrinted}\n`);
  const html = htmlOutline(sheetHtml(made));
  expect(html.rows).toEqual(expect.arrayContaining(rowsOf(markdown).slice(1)));
  const none = html.lines.indexOf("h3 none");
  expect(html.lines.slice(none, none + 10)).toEqual([
    "h3 none",
    ...["module ai, slot 0", "%IB15", "uint8", "counts 100 to 200", "100 to 200"].map(span),
    "p.note The description gives no error of the instrument and of the channel: the band is without it.",
    "p.note Left out: 0 %, as 100 lies beyond the limits 0 to 10.",
    "p.note Left out: 50 %, as 150 lies beyond the limits 0 to 10.",
    "section.more",
  ]);
  expect(rowsOf(markdown).filter(([what]) => /overhead/.test(what!))).toEqual([
    [
      "overhead: provider and consumer status, by submodule, bytes",
      ...[
        "see source",
        "see source",
        expect.stringContaining("PROFINET IO (from memory): counted within the 1440 bytes"),
      ],
    ],
    ["image with overhead, bytes", "see source", "see source", "sum of the above"],
  ]);
  const csv = sheetCsv(made);
  expect(csv).toContain("analog,inputs,split,,ai,0,,7,,up,50,2000,50,,,0.5,,7: 07; 10: D0,0.000125,0.499875,0.500125,");
  // A signal without a unit has its figures all the same.
  expect(csv).toContain("analog,inputs,fine,,ai,0,%IW4,4,,up,0,4000,0,4,,2,,0F A0,0.00025,1.99975,2.00025,");
});

// Half a count decides the band where nothing else is known; a real has not even that.
const oddPrinted = `### real

- module ai, slot 0
- %ID0
- float32
- counts -1 to 1
- \\-50 to 50
- band ±0
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % |  value | byte: hex      |     accept, value | as found | as left | by  | date |
| --- | -----: | -----: | -----: | -----: | -------------- | ----------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |     -1 |  0.000 | -50.00 | 0: BF 80 00 00 | -50.000 … -50.000 |          |         |     |      |
| ↑   |     50 |      0 | 50.000 |   0.00 | 0: 00 00 00 00 |     0.000 … 0.000 |          |         |     |      |
| ↓   |     50 |      0 | 50.000 |   0.00 | 0: 00 00 00 00 |     0.000 … 0.000 |          |         |     |      |
| ↓   |      0 |     -1 |  0.000 | -50.00 | 0: BF 80 00 00 | -50.000 … -50.000 |          |         |     |      |

### fine

- module ai, slot 0
- %IW4
- uint16
- counts 4000 to 20000
- 4 to 20
- 2 to 10
- band ±0.00025 (rounding 0.00025)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % | signal |  value | byte: hex |     accept, value | as found | as left | by  | date |
| --- | -----: | -----: | -----: | -----: | -----: | --------- | ----------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |   4000 |  0.000 |  4.000 | 2.0000 | 4: 0F A0  | 1.99975 … 2.00025 |          |         |     |      |
| ↑   |     50 |  12000 | 50.000 | 12.000 | 6.0000 | 4: 2E E0  | 5.99975 … 6.00025 |          |         |     |      |
| ↓   |     50 |  12000 | 50.000 | 12.000 | 6.0000 | 4: 2E E0  | 5.99975 … 6.00025 |          |         |     |      |
| ↓   |      0 |   4000 |  0.000 |  4.000 | 2.0000 | 4: 0F A0  | 1.99975 … 2.00025 |          |         |     |      |

### coarse

- module ai, slot 0
- %IB6
- uint8
- counts 0 to 10
- 0 to 200 L
- band ±10 L (rounding 10)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % |   L | byte: hex |    accept, L | as found | as left | by  | date |
| --- | -----: | -----: | -----: | --: | --------- | -----------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |  0.000 |   0 | 6: 00     | -10.0 … 10.0 |          |         |     |      |
| ↑   |     50 |      5 | 50.000 | 100 | 6: 05     | 90.0 … 110.0 |          |         |     |      |
| ↓   |     50 |      5 | 50.000 | 100 | 6: 05     | 90.0 … 110.0 |          |         |     |      |
| ↓   |      0 |      0 |  0.000 |   0 | 6: 00     | -10.0 … 10.0 |          |         |     |      |

### split

- module ai, slot 0
- field of 12 bits
- counts 0 to 4000
- 0 to 1
- bits 7: 0F; 10: FF; the other bits of these bytes are shown as 0
- band ±0.000125 (rounding 0.000125)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % |  value | byte: hex     |      accept, value | as found | as left | by  | date |
| --- | -----: | -----: | -----: | -----: | ------------- | -----------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |  0.000 | 0.0000 | 7: 00; 10: 00 | -0.00012 … 0.00012 |          |         |     |      |
| ↑   |     50 |   2000 | 50.000 | 0.5000 | 7: 07; 10: D0 |  0.49988 … 0.50012 |          |         |     |      |
| ↓   |     50 |   2000 | 50.000 | 0.5000 | 7: 07; 10: D0 |  0.49988 … 0.50012 |          |         |     |      |
| ↓   |      0 |      0 |  0.000 | 0.0000 | 7: 00; 10: 00 | -0.00012 … 0.00012 |          |         |     |      |

### root

- module ai, slot 0
- %IW11
- uint16
- counts 0 to 10000
- 0 to 100
- band at most ±0.707107 (rounding 0.707107)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % | value | byte: hex |   accept, value | as found | as left | by  | date |
| --- | -----: | -----: | -----: | ----: | --------- | --------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |  0.000 |  0.00 | 11: 00 00 |  -0.707 … 0.707 |          |         |     |      |
| ↑   |     50 |   5000 | 50.000 | 70.71 | 11: 13 88 | 70.708 … 70.714 |          |         |     |      |
| ↓   |     50 |   5000 | 50.000 | 70.71 | 11: 13 88 | 70.708 … 70.714 |          |         |     |      |
| ↓   |      0 |      0 |  0.000 |  0.00 | 11: 00 00 |  -0.707 … 0.707 |          |         |     |      |

### zero

- module ai, slot 0
- %IW13
- uint16
- counts 0 to 3000
- \\-0.0001 to 90
- band ±0.015 (rounding 0.015)
- The description gives no error of the instrument and of the channel: the band is without it.

| run | % span | counts | true % | value | byte: hex |   accept, value | as found | as left | by  | date |
| --- | -----: | -----: | -----: | ----: | --------- | --------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |      0 |  0.000 |  0.00 | 13: 00 00 |  -0.015 … 0.014 |          |         |     |      |
| ↑   |     50 |   1500 | 50.000 | 45.00 | 13: 05 DC | 44.985 … 45.014 |          |         |     |      |
| ↓   |     50 |   1500 | 50.000 | 45.00 | 13: 05 DC | 44.985 … 45.014 |          |         |     |      |
| ↓   |      0 |      0 |  0.000 |  0.00 | 13: 00 00 |  -0.015 … 0.014 |          |         |     |      |

### none

- module ai, slot 0
- %IB15
- uint8
- counts 100 to 200
- 100 to 200
- The description gives no error of the instrument and of the channel: the band is without it.
- Left out: 0 %, as 100 lies beyond the limits 0 to 10.
- Left out: 50 %, as 150 lies beyond the limits 0 to 10.

## Other numbers, inputs

| point | slot, module | address | byte | type  | unit | mask | sent | seen | as found | as left | by  | date |
| ----- | ------------ | ------- | ---: | ----- | ---- | ---- | ---- | ---- | -------- | ------- | --- | ---- |
| bits  | 0 ai         | %IB16   |   16 | uint8 |      |      | ☐    | ☐    |          |         |     |      |

## Analog outputs

**Driving an output may move the machine: one at a time, machine in view, under the site's procedure.**

### drive

- module ao, slot 1
- %QW0
- int16
- counts -1000 to 1000
- \\-10 to 10
- \\-1 to 1
- band ±0.0223663 (instrument 0.01, channel 0.02, rounding 0.0005)
- network lost: ☐ fill in

| run | % span | counts | true % | signal |  value | byte: hex |   accept, signal | as found | as left | by  | date |
| --- | -----: | -----: | -----: | -----: | -----: | --------- | ---------------: | -------- | ------- | --- | ---- |
| ↑   |      0 |  -1000 |  0.000 | -10.00 | -1.000 | 0: FC 18  | -10.223 … -9.777 |          |         |     |      |
| ↑   |     50 |      0 | 50.000 |   0.00 |  0.000 | 0: 00 00  |   -0.223 … 0.223 |          |         |     |      |
| ↓   |     50 |      0 | 50.000 |   0.00 |  0.000 | 0: 00 00  |   -0.223 … 0.223 |          |         |     |      |
| ↓   |      0 |  -1000 |  0.000 | -10.00 | -1.000 | 0: FC 18  | -10.223 … -9.777 |          |         |     |      |`;

function span(text: string): string {
  return `span ${text}`;
}

/** Cells of every table row of a Markdown text, heads included. */
function rowsOf(markdown: string): string[][] {
  const rows: string[][] = [];
  const tokens = new MarkdownIt({ html: true, linkify: true }).parse(markdown, {});
  tokens.forEach(({ type }, k) => {
    if (type === "tr_open") rows.push([]);
    if (type === "th_open" || type === "td_open")
      rows.at(-1)!.push((tokens[k + 1]!.children ?? []).map(({ content }) => content).join(""));
  });
  return rows;
}

/** What a page says, element by element with its class, and the cells of its tables. */
function htmlOutline(html: string): { lines: string[]; rows: string[][] } {
  const lines: string[] = [];
  const rows: string[][] = [];
  const open: { mark: string; text: string }[] = [];
  const parser = new SaxesParser();
  parser.on("opentag", ({ name, attributes: { class: kind, alt, src, "aria-label": label } }) => {
    open.push({ mark: kind ? `${name}.${kind}` : name, text: "" });
    if (name === "section" || name === "article") lines.push(open.at(-1)!.mark);
    if (name === "img") lines.push(`img ${alt}: ${src}`);
    if (name === "div" && label && !label.startsWith("Byte map")) lines.push(`table ${label}:`);
    if (name === "tr") rows.push([]);
    if (name === "th") lines.push(`${lines.pop()} ${kind}`);
  });
  parser.on("text", (text) => {
    for (const element of open) element.text += text;
    // Text belongs into the elements that are made for it.
    if (text.trim() && /^(main|section|article|header|figure|ul|dl|tr|tbody)\b/.test(open.at(-1)?.mark ?? ""))
      lines.push(`loose ${text.trim()}`);
  });
  parser.on("closetag", ({ name }) => {
    const { mark, text } = open.pop()!;
    // A paragraph of spans is told by them.
    if (/^(title|h[1-3]|dt|dd|li|span|p)$/.test(name) && mark !== "p.facts-line" && mark !== "p")
      lines.push(`${mark} ${text}`);
    if (name === "th" || name === "td") rows.at(-1)!.push(text);
  });
  parser.write(html.replace("<!doctype html>", "").replace(/<((?:meta|img)\b[^>]*)>/g, "<$1/>")).close();
  return { lines, rows };
}
