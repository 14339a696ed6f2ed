// The loop-check sheet as HTML, Markdown and CSV: everything is in it, and nothing that a description says gets out of its cell.

import {
  cautions,
  driveCaution,
  releaseCaution,
  type SheetOptions,
  sheet,
  sheetCsv,
  sheetHtml,
  sheetMarkdown,
} from "@byterail/commissioning";
import { byteMapParts } from "@byterail/generate";
import { assemble, type Station } from "byterail";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import MarkdownIt from "markdown-it";
import { type Browser, chromium } from "playwright-core";
import { SaxesParser } from "saxes";
import { afterAll, describe, expect, test } from "vitest";
import { testWith } from "../support/tool.js";
import { kegStation } from "./kegStation.js";

const layout = assemble(kegStation);
const keg = sheet(layout, { digest: "0123456789abcdef" });

function sheetWith(text: string, options?: SheetOptions) {
  const station: Station = {
    ...{ format: 1, name: "rig", title: text, byteOrder: "big" },
    modules: [
      {
        name: "m",
        inputs: [
          { name: "p", type: "uint16", title: text, scale: { counts: [0, 100], value: [0, 10], unit: text } },
          { name: "n", type: "uint16", title: text, unit: text },
        ],
        outputs: [{ name: "b", type: "bit", title: text }],
      },
    ],
  };
  return sheet(assemble(station), options);
}

/** Texts that mean something to HTML, CSS, Markdown or a spreadsheet, and any others. */
const hostile = [
  "</style><script>alert(1)</script>",
  '"><img src=x onerror=alert(1)>',
  "</td></tr></table>",
  "a | b",
  "[x](javascript:alert(1))",
  "![x](https://example.org/x.png)",
  "<https://example.org>",
  "https://example.org/a",
  "www.example.org",
  "# no heading",
  "1. no list",
  "- no list",
  "`code` **bold** _em_ ~~gone~~ &amp; $x$",
  "\\",
  "=1+1",
  "+1",
  "-1+1",
  "@SUM(A1)",
  ' "=1+1"',
  "\t=1+1",
  'a,"b"\r\nc',
  "\u202egnp.exe",
  "\u0000",
  "&#60;script>",
  '"; } body { display: none } x { content: "',
];
const texts = fc.oneof(
  fc.constantFrom(...hostile),
  fc.string({ unit: "binary" }),
  fc.tuple(fc.constantFrom(...hostile), fc.string()).map((parts) => parts.join("")),
);

// The usual cautions, each with its source where it has one.
test("the cautions are those of forcing and loop checking, and claim nothing", () => {
  const expected = [
    /is no permit.*lockout procedure and a competent person govern \(OSHA 29 CFR 1910\.147, ISO 14118\)/,
    /off is no isolation: shut off and lock air and power/,
    /Relieve stored energy.*\(ISO 4414\)/,
    /Double-solenoid valves stay where they are on loss of power/,
    /one point at a time, with the machine in view.*Record each force, and remove it/,
    /what the outputs do when the network is lost before forcing any/,
    /Restore air gradually/,
    /no safety function \(ISO 13849-1, IEC 60204-1\)/,
    /Local codes and licensed practice come first/,
  ];
  expect(cautions).toEqual(expected.map((text) => expect.stringMatching(text)));
  expect(driveCaution).toMatch(/may move the machine: one at a time, machine in view, under the site's procedure/);
  expect(releaseCaution).toMatch(
    /hands the output back to the program's value of that moment, and may move the machine/,
  );
});

// A title in each of the places where a sheet prints it.
describe("a text is printed as it reads", () => {
  const csvCell = (text: string) => /^station,,rig,(.*?),{20}/m.exec(sheetCsv(sheetWith(text)))![1]!;
  const heading = (text: string) => /^# Loop check: (.*)$/m.exec(sheetMarkdown(sheetWith(text)))![1]!;
  const title = (text: string) => /<h1>(.*)<\/h1>/.exec(sheetHtml(sheetWith(text)))![1]!;
  const header = (text: string) => /@top-left { content: (".*?"); font/.exec(sheetHtml(sheetWith(text)))![1]!;
  const long = "x".repeat(70);

  test.each<[text: string, csv: string, markdown: string, html: string, css: string]>([
    ["Tank 3", "Tank 3", "Tank 3", "Tank 3", '"Tank 3"'],
    ["a, b", '"a, b"', "a, b", "a, b", '"a, b"'],
    ['6" pipe', '"6"" pipe"', '6" pipe', "6&#34; pipe", '"6\\22  pipe"'],
    ["it's", "it's", "it's", "it&#39;s", '"it\\27 s"'],
    ["=1+1", "'=1+1", "=1+1", "=1+1", '"\\3d 1\\2b 1"'],
    ["@sum", "'@sum", "@sum", "@sum", '"\\40 sum"'],
    ["-5", "'-5", "-5", "-5", '"-5"'],
    ["'+5", "''+5", "'+5", "&#39;+5", '"\\27 \\2b 5"'],
    ["＝1", "'＝1", "＝1", "＝1", '"\\ff1d 1"'],
    ["5=5", "5=5", "5=5", "5=5", '"5\\3d 5"'],
    ["two\r\nlines", "two lines", "two lines", "two lines", '"two lines"'],
    [" \tedge\u202e ", "edge", "edge", "edge", '"edge"'],
    ["<b>&`", "<b>&`", "\\<b\\>\\&\\`", "&#60;b&#62;&#38;&#96;", '"\\3c b\\3e \\26 \\60 "'],
    ["a_b*c[d]{e}", "a_b*c[d]{e}", "a\\_b\\*c\\[d\\]\\{e\\}", "a_b*c[d]{e}", '"a\\5f b\\2a c\\5b d\\5d \\7b e\\7d "'],
    ["a|b~c$d\\", "a|b~c$d\\", "a\\|b\\~c\\$d\\\\", "a|b~c$d\\", '"a\\7c b\\7e c\\24 d\\5c "'],
    [
      "www.x.y HTTPS://z",
      "www.x.y HTTPS://z",
      "www\\.x.y HTTPS\\://z",
      "www.x.y HTTPS://z",
      '"www.x.y HTTPS:\\2f \\2f z"',
    ],
    [
      "ftp:a mailto:b xmpp:c http:d www",
      "ftp:a mailto:b xmpp:c http:d www",
      "ftp\\:a mailto\\:b xmpp\\:c http\\:d www",
      "ftp:a mailto:b xmpp:c http:d www",
      '"ftp:a mailto:b xmpp:c http:d www"',
    ],
    [
      "Größe (µ), 1–2; a·b",
      '"Größe (µ), 1–2; a·b"',
      "Größe (µ), 1–2; a·b",
      "Größe (µ), 1–2; a·b",
      '"Größe (µ), 1–2; a·b"',
    ],
    [long, long, long, long, `"${"x".repeat(59)}\\2026 "`],
  ])("%j", (text, csv, markdown, html, css) => {
    expect([csvCell(text), heading(text), title(text), header(text)]).toEqual([csv, markdown, html, css]);
  });

  test("60 characters still fit the header of a page; without a digest it says so", () => {
    const text = "x".repeat(60);
    expect(header(text)).toBe(`"${text}"`);
    const right = (options?: SheetOptions) =>
      /@top-right { content: (".*?"); font/.exec(sheetHtml(sheetWith("x", options)))![1];
    expect([right(), right({ digest: "01ab" })]).toEqual(['"rig · revision not given"', '"rig · revision 01ab"']);
  });

  // At the beginning of a line more signs mean something: a heading, a list, a rule.
  test.each([
    ["# x", "\\# x"],
    ["- x", "\\- x"],
    ["+ x", "\\+ x"],
    ["= x", "\\= x"],
    ["1. x", "1\\. x"],
    ["12) x", "12\\) x"],
    ["x 1. - #", "x 1. - #"],
  ])("%j at the beginning of a line of Markdown", (text, line) => {
    expect(sheetMarkdown({ ...keg, cautions: [text] })).toContain(`\n- ${line}\n`);
  });
});

describe("as CSV", () => {
  const rows = parse(sheetCsv(keg), { columns: true }) as Record<string, string>[];

  test("every record has the fields of the header, and lines end as RFC 4180 wants", () => {
    expect(sheetCsv(keg).split("\r\n").at(-1)).toBe("");
    expect(sheetCsv(keg).replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(Object.keys(rows[0]!)).toEqual(expect.arrayContaining(["as found", "as left", "by", "date"]));
  });

  test("the cautions come first, and numbers are numbers", () => {
    expect(rows.filter(({ check }) => check === "caution").map(({ note }) => note)).toEqual(cautions);
    const quarter = rows.find(({ point, percent }) => point === "causticLevel" && percent === "25")!;
    expect(quarter).toMatchObject({ counts: "1024", byte: "11", bytes: "00 40", value: String((1024 * 100) / 4095) });
  });

  test("every point has its records, also those left out", () => {
    const of = (name: string) => rows.filter(({ point }) => point === name);
    expect([of("supply").length, of("pumpSpeed").length, of("steam").length, of("recipe").length]).toEqual([
      10, 9, 1, 1,
    ]);
    expect(of("pumpSpeed").at(-1)!.note).toMatch(/^left out: 100 % lies beyond/);
  });

  test("no text begins as a formula", () => {
    fc.assert(
      fc.property(texts, (text) => {
        for (const record of parse(sheetCsv(sheetWith(text))) as string[][])
          for (const field of record)
            if (Number.isNaN(Number(field))) expect(field).not.toMatch(/^[\s"]*[=+\-@＝＋－＠]/u);
      }),
    );
  });
});

describe("as Markdown", () => {
  const markdown = new MarkdownIt({ html: true, linkify: true });

  test("shows a table for each analog point and one for each kind of the others", () => {
    const tokens = markdown.parse(sheetMarkdown(keg), {});
    expect(tokens.filter(({ type }) => type === "table_open")).toHaveLength(1 + 5 + 2 + 2);
    const cells = tokens.filter((_, k) => tokens[k - 1]?.type === "td_open").map(({ content }) => content);
    expect(cells).toEqual(expect.arrayContaining(["11: 00 40", "25.006", "25.01"]));
  });

  test("every caution stands before the first table", () => {
    const [before] = sheetMarkdown(keg).split("\n| ");
    for (const caution of cautions) expect(before).toContain(caution);
  });

  test("nothing in a text becomes mark-up, a link or another cell", () => {
    const shape = (text: string) =>
      markdown
        .parse(sheetMarkdown(sheetWith(text)), {})
        .flatMap((token) => [token, ...(token.children ?? [])])
        .map(({ type }) => type)
        .filter((kind) => !/^(text|text_special)$/.test(kind));
    const plain = shape("x");
    fc.assert(
      fc.property(
        texts.filter((text) => /[^\s\p{C}]/u.test(text)),
        (text) => {
          expect(shape(text)).toEqual(plain);
        },
      ),
    );
  });
});

describe("as HTML", () => {
  // Any well-formed page whose elements are those of a plain text has nothing else in it; void elements are closed here.
  const elements = (html: string) => {
    const names: string[] = [];
    const parser = new SaxesParser();
    parser.on("opentag", ({ name, attributes }) => names.push(`${name} ${Object.keys(attributes).join(" ")}`));
    parser.on("error", (error) => {
      throw error;
    });
    parser.write(html.replace("<!doctype html>", "").replace(/<((?:meta|img)\b[^>]*)>/g, "<$1/>")).close();
    return names;
  };

  test("no text adds an element or an attribute", () => {
    const plain = elements(sheetHtml(sheetWith("x")));
    fc.assert(
      fc.property(
        texts.filter((text) => /[^\s\p{C}]/u.test(text)),
        (text) => {
          expect(elements(sheetHtml(sheetWith(text)))).toEqual(plain);
        },
      ),
    );
  });

  test("runs no script and loads nothing", () => {
    const html = sheetHtml(sheetWith("x", { picture: { inputs: "<svg onload='alert(1)'/>", outputs: [] } }));
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"`);
    expect(html).not.toMatch(/<script|<svg|https?:/);
  });

  test("tells cautions before anything else, the formula and its source", () => {
    const html = sheetHtml(keg);
    const positions = [
      ...cautions.map((caution) => html.indexOf(caution.replaceAll("'", "&#39;"))),
      html.indexOf("eq. 10"),
      html.indexOf("<table"),
    ];
    expect(positions).toEqual([...positions].sort((a, b) => a - b));
    expect(positions[0]).toBeGreaterThan(0);
  });

  // One browser for both tests, started by the first.
  let running: Promise<Browser> | undefined;
  const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"];
  const browser = () => (running ??= chromium.launch({ executablePath: "/usr/bin/chromium", args }));
  afterAll(async () => (await running)?.close());
  const long = "A".repeat(64);
  const longNames: Station = {
    ...{ format: 1, name: long, title: `${long} ${long}`, byteOrder: "big" },
    modules: [
      {
        name: `${long.slice(1)}m`,
        inputs: [
          {
            name: `${long.slice(1)}p`,
            type: "int32",
            title: long + long,
            scale: { counts: [-2147483648, 2147483647], value: [-123456.789, 123456.789], unit: "kg/(m2 h)" },
          },
        ],
        outputs: [
          { name: `${long.slice(1)}b`, type: "bit", title: long + long, onNetworkLoss: "hold" },
          { name: "n", type: "uint64", title: long },
        ],
      },
    ],
  };

  testWith("chromium")("fits narrow screens, A4 and Letter: nothing is cut off at the right", async () => {
    const page = await (await browser()).newPage();
    for (const station of [kegStation, longNames]) {
      const parts = (direction: "inputs" | "outputs") => byteMapParts(assemble(station), direction, 12);
      await page.setContent(
        sheetHtml(sheet(assemble(station), { picture: { inputs: parts("inputs"), outputs: parts("outputs") } })),
      );
      const overflow = () =>
        page.evaluate(
          `[document.documentElement, ...document.querySelectorAll(".wide")].filter((e) => e.scrollWidth > e.clientWidth + 1).map((e) => e.ariaLabel ?? "page")`,
        );
      await page.emulateMedia({ media: "screen" });
      await page.setViewportSize({ width: 320, height: 640 });
      expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(320);
      // Between margins of 11 mm, at 96 dots an inch: A4 is 297 mm wide, Letter 11 inches.
      await page.emulateMedia({ media: "print" });
      for (const millimetres of [297, 279.4]) {
        await page.setViewportSize({ width: Math.floor(((millimetres - 22) / 25.4) * 96), height: 700 });
        expect(await overflow()).toEqual([]);
      }
    }
  });

  testWith("chromium")("prints on either paper, in landscape", async () => {
    const page = await (await browser()).newPage();
    await page.setContent(sheetHtml(keg));
    for (const [format, width, height] of [
      ["A4", 842, 595],
      ["Letter", 792, 612],
    ] as const) {
      const pdf = (await page.pdf({ format, landscape: true })).toString("latin1");
      const boxes = [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, w, h]) => [
        Math.round(Number(w) / 4),
        Math.round(Number(h) / 4),
      ]);
      // Cautions and connection, four loops in pairs, digital inputs, outputs: not one page fewer.
      expect(boxes.length).toBeGreaterThanOrEqual(6);
      expect(new Set(boxes.map((box) => box.join()))).toEqual(
        new Set([[Math.round(width / 4), Math.round(height / 4)].join()]),
      );
    }
  });
});
