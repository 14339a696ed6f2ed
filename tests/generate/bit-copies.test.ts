// The bit copies as data and as a table: applied by hand here, they must give what the core reads.

import { generate, type GenerateOptions } from "@byterail/generate";
import {
  assemble,
  codeOfPoint,
  type Direction,
  encodeRaw,
  decodeRaw,
  type ImageLayout,
  type Layout,
  numberOf,
  pattern,
  type PlacedPoint,
} from "byterail";
import fc from "fast-check";
import MarkdownIt from "markdown-it";
import { describe, expect, test } from "vitest";
import { awkwardStations, decorated } from "./support/awkward.js";
import { hostileLayouts } from "./support/hostile.js";
import { frameOf, randomFrom, richLayouts } from "./support/stations.js";
import { elementsOf, frameFrom } from "./support/structured-text/elements.js";
import { exactCounts, exactFixed, nearest } from "./support/structured-text/exact.js";
import { rational } from "../support/rational.js";

interface Copy {
  readonly point: string;
  readonly element: number;
  readonly elementBit: number;
  readonly imageByte: number;
  readonly imageBit: number;
  readonly valueBit: number;
  readonly bits: number;
}
interface Row {
  readonly point: string;
  readonly unit: string | null;
  readonly decimals: number;
  readonly lines: readonly {
    while: { sign: "<" | ">"; than: number | string } | null;
    multiply: number | string;
    add: number | string;
    divide: number | string;
  }[];
  readonly from: readonly (number | string)[];
  readonly to: readonly (number | string)[];
  readonly largest: number | string;
  readonly type: "DINT" | "LINT" | null;
}
type Plan = { readonly bits: 8 | 16 | 32; readonly order: "lowFirst" | "highFirst" } & Readonly<
  Record<Direction, { readonly count: number; readonly copies: readonly Copy[] }>
>;
interface Content {
  readonly station: string;
  readonly elements: readonly Plan[];
  readonly arithmetic: Readonly<Record<Direction, readonly Row[]>>;
}

const filesOf = (layout: Layout, options: GenerateOptions = {}) => generate(layout, ["bit-copies"], options).files;
const contentOf = (layout: Layout, options: GenerateOptions = {}) =>
  JSON.parse(filesOf(layout, options)[0]!.text) as Content;
const imagesOf = (layout: Layout) => [layout.inputs, layout.outputs] as ImageLayout[];
const orders = ["lowFirst", "highFirst"] as const;

describe("a word at an odd byte", () => {
  const layout = assemble({
    format: 1,
    name: "rig",
    byteOrder: "little",
    modules: [
      {
        name: "m",
        inputs: [
          { name: "go", type: "bit" },
          { name: "x", type: "uint16" },
        ],
      },
    ],
  }) as Layout;

  // Bytes 01 | 34 12: registers hold 3401 and 0012, or, high byte first, 0134 and 1200.
  test.each([
    [
      8,
      "lowFirst",
      [
        [1, 0, 0, 8],
        [2, 0, 8, 8],
      ],
    ],
    [
      16,
      "lowFirst",
      [
        [0, 8, 0, 8],
        [1, 0, 8, 8],
      ],
    ],
    [
      16,
      "highFirst",
      [
        [0, 0, 0, 8],
        [1, 8, 8, 8],
      ],
    ],
    [32, "lowFirst", [[0, 8, 0, 16]]],
    [
      32,
      "highFirst",
      [
        [0, 16, 0, 8],
        [0, 8, 8, 8],
      ],
    ],
  ] as const)("in elements of %d bits, %s", (elements, elementOrder, rows) => {
    const [plan] = contentOf(layout, { elements, elementOrder }).elements;
    const copies = plan!.inputs.copies.filter(({ point }) => point === "x");
    expect(copies.map(({ element, elementBit, valueBit, bits }) => [element, elementBit, valueBit, bits])).toEqual(
      rows,
    );
  });

  test("the table tells the same", () => {
    expect(filesOf(layout, { elements: 16, elementOrder: "highFirst" })[1]!.text).toContain(
      [
        "## Inputs, from the elements to the values: 2 of 16 bits, lower image byte in the high byte",
        "",
        "| Point | Element | Bits of it | Image | Value | Bits |",
        "| ----- | ------: | ---------: | ----: | ----: | ---: |",
        "| go    |       0 |          8 |   0.0 |   0.0 |    1 |",
        "| x     |       0 |      0 … 7 |   1.0 |   0.0 |    8 |",
        "| x     |       1 |     8 … 15 |   2.0 |   1.0 |    8 |",
      ].join("\n"),
    );
  });

  test("without a width there is a plan for each", () => {
    expect(contentOf(layout).elements.map(({ bits }) => bits)).toEqual([8, 16, 32]);
  });
});

describe("copies of random stations", () => {
  const layouts = richLayouts(60, 21);

  test("read by hand from elements they give every pattern, written by hand every frame", () => {
    const random = randomFrom(22);
    for (const [k, layout] of layouts.entries()) {
      const { elements } = contentOf(layout, { elementOrder: orders[k % 2]! });
      for (const image of imagesOf(layout)) {
        const frame = frameOf(image, random);
        for (const { bits, order, [image.direction]: plan } of elements) {
          const given = elementsOf(frame, bits, order);
          expect(plan.count).toBe(given.length);
          const values = new Map(image.points.map(({ name }) => [name, 0n]));
          const back = given.map(() => 0n);
          for (const { point, element, elementBit, valueBit, bits: width, imageByte, imageBit } of plan.copies) {
            const part = (given[element]! >> BigInt(elementBit)) & ((1n << BigInt(width)) - 1n);
            values.set(point, values.get(point)! | (part << BigInt(valueBit)));
            back[element]! |= part << BigInt(elementBit);
            // The lowest of the bits is the same one in the image.
            expect(part & 1n).toBe(BigInt((frame[imageByte]! >> imageBit) & 1));
          }
          for (const { name, positions, low, bits } of image.points)
            expect(values.get(name)).toBe(BigInt(pattern(positions, low, bits).read(frame, 0)));
          expect(frameFrom(back, image.byteLength, bits, order)).toEqual(encodeRaw(image, decodeRaw(image, frame)));
        }
      }
    }
  });

  test("neighbouring copies of one element are one", () => {
    for (const layout of layouts)
      for (const plan of contentOf(layout).elements)
        for (const { copies } of [plan.inputs, plan.outputs])
          copies.slice(1).forEach((next, k) => {
            const last = copies[k]!;
            const goesOn =
              last.point === next.point &&
              last.element === next.element &&
              last.elementBit + last.bits === next.elementBit;
            expect(goesOn).toBe(false);
          });
  });

  test.each([0, 2, 6])(
    "the arithmetic is exact with %d decimals, and nothing on the way is larger than it says",
    (decimals) => {
      const random = randomFrom(23);
      let rows = 0;
      for (const layout of layouts)
        for (const image of imagesOf(layout))
          for (const row of contentOf(layout, { decimals }).arithmetic[image.direction]) {
            checkRow(row, image, image.points.find(({ name }) => name === row.point)!, random);
            rows++;
          }
      expect(rows).toBeGreaterThan(50);
    },
  );
});

function checkRow(
  { lines, from, to, largest, type, decimals }: Row,
  { direction }: ImageLayout,
  point: PlacedPoint,
  random: () => number,
): void {
  const [low, high] = from.map(BigInt) as [bigint, bigint];
  const borders = lines.flatMap((line) =>
    line.while ? [BigInt(line.while.than) - 1n, BigInt(line.while.than), BigInt(line.while.than) + 1n] : [],
  );
  const some = Array.from({ length: 20 }, () => low + BigInt(Math.floor(random() * Number(high - low + 1n))));
  const all = [low, high, ...borders, ...some].filter((x) => x >= low && x <= high);
  let most = 0n;
  for (const x of all) {
    const line = lines.find(
      ({ while: holds }) => !holds || (holds.sign === "<" ? x < BigInt(holds.than) : x > BigInt(holds.than)),
    )!;
    const [multiply, add, divide] = [BigInt(line.multiply), BigInt(line.add), BigInt(line.divide)];
    for (const term of [multiply * x, multiply * x + add, add, divide, x])
      most = term > most ? term : -term > most ? -term : most;
    const result = nearest(rational(multiply * x + add, divide));
    const exact = direction === "inputs" ? exactFixed(point, x, decimals) : exactCounts(point, x, decimals);
    expect(result, `${point.name} ${JSON.stringify(point.description)} at ${x}`).toBe(nearest(exact!));
    const { min, max } = codeOfPoint(point)!;
    const kept =
      direction === "inputs"
        ? result
        : result < BigInt(min)
          ? BigInt(min)
          : result > BigInt(max)
            ? BigInt(max)
            : result;
    expect(kept >= BigInt(to[0]!) && kept <= BigInt(to[1]!)).toBe(true);
  }
  expect(most).toBeLessThanOrEqual(BigInt(largest));
  // A bound that is far too wide would ask for wider types than needed.
  if (lines.length === 1) expect(most * 4n).toBeGreaterThanOrEqual(BigInt(largest));
  expect(type).toBe(BigInt(largest) < 2n ** 31n ? "DINT" : BigInt(largest) < 2n ** 63n ? "LINT" : null);
}

describe("hostile texts", () => {
  const markdown = new MarkdownIt({ html: true, linkify: true });

  test("the JSON keeps a unit as it is, whatever it is", () => {
    for (const layout of hostileLayouts()) {
      const { arithmetic } = contentOf(layout);
      const units = [...arithmetic.inputs, ...arithmetic.outputs].map(({ point, unit }) => [point, unit]);
      expect(units.length).toBeGreaterThan(0);
      for (const [name, unit] of units) {
        const point = [...layout.inputs.points, ...layout.outputs.points].filter((other) => other.name === name);
        expect(point.map((other) => numberOf(other)?.scale?.unit)).toContain(unit);
      }
    }
  });

  test("the table has the same cells whatever the titles and units, and no mark-up of theirs", () => {
    fc.assert(
      fc.property(awkwardStations(), (station) => {
        const shape = (text: string) =>
          markdown
            .parse(text, {})
            .filter(
              ({ type, content }) =>
                type !== "html_block" || !content.startsWith("<!-- Generated by `byterail generate`"),
            )
            .flatMap(({ type, children }) =>
              type === "inline"
                ? [
                    "inline",
                    ...children!
                      .map((child) => child.type)
                      .filter((kind) => kind !== "text" && kind !== "text_special" && kind !== "softbreak"),
                  ]
                : [type],
            );
        const [, made] = filesOf(assemble(station) as Layout);
        const [, plain] = filesOf(assemble(decorated(station, ["plain"])) as Layout);
        expect(shape(made!.text)).toEqual(shape(plain!.text));
      }),
      { numRuns: 40 },
    );
  });
});
