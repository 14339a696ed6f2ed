// The picture of the byte map, read back as XML: what stands where, and that no text breaks out.

import { byteMapParts, byteMapSvg, generate } from "@byterail/generate";
import { assemble, type Direction, type Layout, type Station, touchedBytes } from "byterail";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stations } from "../support/stations.js";
import { decorated, awkwardStations, awkwardTexts } from "./support/awkward.js";
import { kegWasher, kegWasherLayout } from "./support/kegWasher.js";
import { everyElement, readXml, type XmlElement } from "./support/xml.js";

const drawn = (layout: Layout, direction: Direction, rows: "byte" | "word" = "byte") =>
  readXml(byteMapSvg(layout, direction, { rows })).root;
const ofClass = (root: XmlElement, name: string) =>
  everyElement(root).filter(({ attributes }) => attributes.class?.split(" ").includes(name));
const blockOf = (root: XmlElement, point: string) =>
  everyElement(root).find(({ attributes }) => attributes["data-point"] === point)!;
const textsOf = (element: XmlElement, name: string) => ofClass(element, name).map(({ text }) => text);
const faceOf = (block: XmlElement) => ofClass(block, "bm-face")[0]!.attributes.d!;

// The rectangles of an outline.
function boxes(path: string): { x: number; y: number; w: number; h: number }[] {
  return [...path.matchAll(/M(-?[\d.]+) (-?[\d.]+)h([\d.]+)v([\d.]+)h-[\d.]+z/g)].map(([, x, y, w, h]) => ({
    x: +x!,
    y: +y!,
    w: +w!,
    h: +h!,
  }));
}

function station(inputs: Station["modules"][0]["inputs"], more: Partial<Station> = {}): Layout {
  return assemble({ format: 1, name: "s", byteOrder: "big", ...more, modules: [{ name: "m", inputs: inputs ?? [] }] });
}

describe("what stands where", () => {
  const root = drawn(kegWasherLayout, "inputs");

  test("bits run from 7 down to 0, rows are bytes with number and address", () => {
    expect(textsOf(root, "bm-head")).toEqual(["7", "6", "5", "4", "3", "2", "1", "0"]);
    expect(textsOf(root, "bm-row").slice(0, 3)).toEqual(["0", "1", "2"]);
    expect(textsOf(root, "bm-address")[1]).toBe("%IB1");
  });

  test("bit 0 stands at the right end, bit 1 left of it", () => {
    const [open, shut] = ["clampOpen", "clampShut"].map((name) => boxes(faceOf(blockOf(root, name)))[0]!);
    expect(open!.y).toBe(shut!.y);
    expect(open!.x).toBeGreaterThan(shut!.x);
    expect(open!.x + open!.w).toBe(
      boxes(faceOf(blockOf(root, "causticTemp")))[0]!.x + boxes(faceOf(blockOf(root, "causticTemp")))[0]!.w,
    );
  });

  test.each([
    ["causticTemp", ["7", "0", "15", "8"]],
    ["supply", ["15", "8", "7", "0"]],
    ["tank", ["3", "0", "11", "4"]],
  ])("the numbers at the ends of %s tell its bits, hence the byte order", (name, expected) => {
    expect(textsOf(blockOf(root, name), "bm-mark")).toEqual(expected);
  });

  test("a word of two bytes is one block: two boxes and the seam between them", () => {
    const [first, second, joint] = boxes(faceOf(blockOf(root, "supply")));
    expect(joint).toEqual({ x: first!.x, y: first!.y + first!.h, w: first!.w, h: second!.y - first!.y - first!.h });
  });

  test("parts that do not touch are joined by a line and both carry the name", () => {
    // Little-endian, bits 6 to 9: bits 7 and 6 of byte 0, bits 1 and 0 of byte 1.
    const apart = drawn(
      station([{ word: 16, byteOrder: "little", fields: [{ name: "apart", bits: 4, shift: 6 }] }]),
      "inputs",
    );
    const block = blockOf(apart, "apart");
    expect(ofClass(block, "bm-joint")).toHaveLength(1);
    expect(ofClass(block, "bm-knot")).toHaveLength(2);
    expect(textsOf(block, "bm-again")).toEqual(["apart"]);
  });

  test("words at odd bytes carry a sign in words, once for all fields of a packed word", () => {
    const marked = everyElement(root).filter(
      (element) => element.attributes["data-point"] && ofClass(element, "bm-odd").length > 0,
    );
    expect(marked.map(({ attributes }) => attributes["data-point"])).toEqual([
      "causticTemp",
      "supply",
      "flow",
      "total",
      "tank",
    ]);
    expect(ofClass(drawn(station([{ name: "even", type: "uint16" }]), "inputs"), "bm-odd")).toHaveLength(1); // the legend's
  });

  test("spares, gaps and bits without use differ in class, hatching and words", () => {
    const outputs = drawn(kegWasherLayout, "outputs");
    expect(textsOf(root, "bm-empty")).toEqual(["spare", "spare, 6 bytes", "padding to the length, 1 byte"]);
    expect(textsOf(outputs, "bm-empty")).toEqual(["reserve, 2 bytes", "padding to the length, 2 bytes"]);
    expect(ofClass(root, "bm-spare")[0]!.attributes.fill).toBe("url(#inputs-spare)");
    expect(ofClass(root, "bm-gap")[0]!.attributes.fill).toBe("url(#inputs-gap)");
    expect(ofClass(root, "bm-unused").length).toBeGreaterThan(1);
  });

  test("spare bits of a module whose bits fill from bit 7 down stand at the left", () => {
    const msb = drawn(
      station([{ spareBits: 2 }, { name: "p", type: "bit" }], { placement: { inputs: { bitOrder: "msbFirst" } } }),
      "inputs",
    );
    const spare = boxes(ofClass(msb, "bm-spare")[0]!.attributes.d!)[0]!;
    const point = boxes(faceOf(blockOf(msb, "p")))[0]!;
    expect(spare.x + spare.w).toBeLessThan(point.x);
  });

  test("six spare bytes fold into one row", () => {
    expect(textsOf(root, "bm-row")).toContain("5–10");
  });

  test("rows of words hold two bytes each", () => {
    const words = drawn(kegWasherLayout, "outputs", "word");
    expect(textsOf(words, "bm-head")).toHaveLength(16);
    expect(textsOf(words, "bm-row").slice(0, 2)).toEqual(["0–1", "2–3"]);
  });

  test("in rows of words, four bytes from an odd one on grow together, without a line and with one name", () => {
    const layout = station([
      { name: "before", type: "uint8" },
      { name: "long", type: "uint32" },
    ]);
    const block = blockOf(drawn(layout, "inputs", "word"), "long");
    // Bytes 1 | 2 3 | 4: down from 1 to 3, across from 2 to 3, down from 2 to 4.
    expect(boxes(faceOf(block))).toHaveLength(4 + 3);
    expect([ofClass(block, "bm-joint"), ofClass(block, "bm-again")]).toEqual([[], []]);
  });

  test("each block tells in its title what it is", () => {
    expect(blockOf(root, "supply").children[0]!.text).toBe(
      "supply: Supply pressure · uint16 · %IW3 · byte 3 · module sensors, slot 1",
    );
  });

  test("names and slots of the modules stand at the right", () => {
    expect(textsOf(root, "bm-module")).toEqual(["0 stops", "1 sensors", "2 level"]);
  });
});

describe("whatever the station", () => {
  test.each(["byte", "word"] as const)(
    "rows of a %s: boxes of points lie inside the picture and meet in no place, and cover just their bits",
    (rows) => {
      fc.assert(
        fc.property(stations(), (random) => {
          const layout: Layout = assemble(random);
          for (const direction of ["inputs", "outputs"] as const) {
            const root = drawn(layout, direction, rows);
            const [, , width, height] = root.attributes.viewBox!.split(" ").map(Number);
            const all: ReturnType<typeof boxes> = [];
            for (const point of layout[direction].points) {
              const own = boxes(faceOf(blockOf(root, point.name))).slice(0, touchedBytes(point).length);
              const cell = rows === "byte" ? 84 : 58;
              // Six units of a box are the space around it.
              expect(own.reduce((sum, { w }) => sum + (w + 6) / cell, 0)).toBeCloseTo(point.bits, 9);
              all.push(...own);
            }
            for (const { x, y, w, h } of all)
              expect(x >= 0 && y >= 0 && x + w <= width! && y + h <= height!).toBe(true);
            const sorted = all.sort((a, b) => a.y - b.y || a.x - b.x);
            for (const [k, box] of sorted.slice(1).entries())
              expect(box.y > sorted[k]!.y || box.x > sorted[k]!.x + sorted[k]!.w).toBe(true);
          }
        }),
        { numRuns: 40 },
      );
    },
  );

  test("parts for paper hold every point just once, unless it is longer than a part", () => {
    const pins = byteMapParts(kegWasherLayout, "inputs", 8).map((part) => readXml(part).root);
    const names = pins.flatMap((part) =>
      everyElement(part).flatMap(({ attributes }) => attributes["data-point"] ?? []),
    );
    expect(pins.length).toBeGreaterThan(1);
    expect(names.sort()).toEqual(kegWasherLayout.inputs.points.map(({ name }) => name).sort());
  });

  test("names, titles and units stay text: no element, attribute or script that is not of the drawing", () => {
    const own = ["svg", "title", "style", "defs", "pattern", "path", "circle", "rect", "text", "g"];
    const attributes = new Set<string>();
    fc.assert(
      fc.property(awkwardStations(), (random) => {
        const layout: Layout = assemble(random);
        for (const { text } of generate(layout, ["svg"]).files) {
          for (const element of everyElement(readXml(text).root)) {
            expect(own).toContain(element.name);
            for (const key of Object.keys(element.attributes)) attributes.add(key);
          }
        }
      }),
      { numRuns: 40 },
    );
    expect([...attributes].filter((key) => /^on|href|style/i.test(key))).toEqual([]);
  });

  test.each(awkwardTexts)("%j as a title is read as it stands, less what XML forbids", (title) => {
    const root = drawn(assemble(decorated(kegWasher, [title])), "inputs");
    const shown = title
      .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
      .trim()
      .replace(/[\p{Cs}\uFFFE\uFFFF]/gu, "\uFFFD");
    expect(blockOf(root, "clampOpen").children[0]!.text).toContain(shown);
  });

  test("the files tell the command, the station and the digest in comments", () => {
    const { files } = generate(kegWasherLayout, ["svg"]);
    expect(files.map(({ path }) => path)).toEqual(["kegWasher.inputs.svg", "kegWasher.outputs.svg"]);
    expect(readXml(files[0]!.text).comments[1]).toMatch(/^ Station kegWasher.*[0-9a-f]{16}\. $/);
  });
});
