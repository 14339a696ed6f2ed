/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// The page of a byte map, opened in a browser as a user opens it: from a file, with no network.

import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { generate } from "@byterail/generate";
import { assemble, type Direction, encodeRaw, type Layout, type Station } from "byterail";
import { inspect } from "byterail/map";
import { fromHex, toHex } from "byterail/frames";
import fc from "fast-check";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { stations } from "../support/stations.js";
import { isInstalled, testWith } from "../support/tool.js";
import { awkwardStations, awkwardTexts, decorated } from "./support/awkward.js";
import { kegWasher, kegWasherLayout } from "./support/kegWasher.js";

const browserTest = testWith("chromium");
const htmlOf = (layout: Layout) => generate(layout, ["html"]).files[0]!.text;

// supply 3.5 mA; causticTemp 21.5 °C; tank 3289 counts, tankFault on, mode 2.
const inputsFrame = "05 | D7 00 | 0D AC | 00 00 00 00 00 00 | 00 00 46 41 | 01 00 00 00 00 00 00 80 | 95 CD | 00";

let browser: Browser;
let page: Page;
let folder: string;
let pages = 0;
/** Whatever the page complains of, and whatever it asks for beside its own file. */
let complaints: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "byterail-html-"));
  if (!isInstalled("chromium")) return;
  const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"];
  browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args });
  const context = await browser.newContext({ offline: true });
  page = await context.newPage();
  page.on("console", (message) => complaints.push(message.text()));
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("dialog", (dialog) => complaints.push(dialog.message()));
  page.on("request", (request) => {
    if (!request.isNavigationRequest()) complaints.push(request.url());
  });
});

afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Opens a page from a file. */
async function open(html: string, width = 1100): Promise<void> {
  const file = join(folder, `${pages++}.html`);
  writeFileSync(file, html);
  complaints = [];
  await page.setViewportSize({ width, height: 800 });
  await page.goto(pathToFileURL(file).href);
}

// Every reading of the table of one direction, by point.
function readings(direction: Direction): Promise<Record<string, Record<string, string>>> {
  return page.$$eval(`#${direction} tr[data-point]`, (rows) =>
    Object.fromEntries(
      rows.map((row) => {
        const cells = [...row.querySelectorAll<HTMLElement>("[data-of]")];
        return [row.dataset.point, Object.fromEntries(cells.map((cell) => [cell.dataset.of, cell.textContent]))];
      }),
    ),
  );
}

describe("a payload in the page of the keg washer", () => {
  browserTest(
    "shows raw, signal, value, unit and health in the table, and value and suspicion in the picture",
    async () => {
      await open(htmlOf(kegWasherLayout));
      await page.fill("#inputs-payload", inputsFrame);
      const table = await readings("inputs");
      expect(table).toMatchObject({
        clampOpen: { raw: "1", value: "on", health: "" },
        clampShut: { raw: "0", value: "off" },
        causticTemp: { raw: "215", signal: "", value: "21.5", unit: "°C" },
        supply: { raw: "3500", signal: "3.5 mA", value: "-0.3125", unit: "bar", health: "failed low" },
        flow: { raw: "16#41460000", value: "12.375", unit: "L/min" },
        total: { raw: "9223372036854775809", value: "9223372036854775809", unit: "L" },
        tank: { raw: "3289" },
        tankFault: { value: "on" },
        mode: { value: "2" },
      });
      const block = (name: string) => page.locator(`#inputs g[data-point="${name}"]`);
      expect(await block("supply").locator(".bm-reading").textContent()).toBe("▲ -0.3125 bar");
      expect(await block("supply").getAttribute("class")).toContain("bm-suspect");
      expect(await block("clampOpen").getAttribute("class")).toContain("bm-on");
      expect(await page.locator('#inputs [data-byte="1"]').textContent()).toBe("D7");
      expect(await page.locator("#inputs-payload-told").textContent()).toBe(
        "26 bytes read. To look at: supply failed low.",
      );
      expect(complaints).toEqual([]);
    },
  );

  browserTest("gives the outputs a field of their own, and clears what was shown", async () => {
    await open(htmlOf(kegWasherLayout));
    await page.fill("#outputs-payload", "02 00 00 00 20 01 00 00 34 12 00 00");
    expect(await readings("outputs")).toMatchObject({
      steam: { value: "on" },
      speed: { value: "25" },
      setLevel: { raw: "1234", health: "ok" },
    });
    await page.click("#outputs button");
    expect((await readings("outputs")).speed).toEqual({ raw: "", signal: "", value: "", unit: "", health: "" });
    expect(await page.locator('#outputs g[data-point="speed"] .bm-reading').textContent()).toBe("int16, Hz");
    expect(await page.locator("#outputs-payload-told").textContent()).toBe("");
  });

  browserTest("tells in words what is wrong with a payload, and shows no values then", async () => {
    await open(htmlOf(kegWasherLayout));
    const told = page.locator("#inputs-payload-told");
    for (const [payload, words] of [
      ["05 D7", /^Not read: .*26 bytes.* 2.* 24 too few/],
      ["0x05", /^Not read: .*"x" is no hex digit/],
      ["123", /^Not read: .*3 digits make no whole bytes/],
      [`${inputsFrame} 00`, /^Not read: .*1 too many/],
    ] as const) {
      await page.fill("#inputs-payload", payload);
      expect(await told.textContent()).toMatch(words);
      expect(await page.getAttribute("#inputs-payload", "aria-invalid")).toBe("true");
      expect((await readings("inputs")).supply!.value).toBe("");
    }
  });
});

browserTest("the values of random frames of random stations are those of the core", async () => {
  const random = fc.sample(stations(), { numRuns: 5, seed: 61131 });
  for (const station of random) {
    const layout: Layout = assemble(station);
    await open(htmlOf(layout));
    for (const direction of ["inputs", "outputs"] as const) {
      const image = layout[direction];
      if (image.byteLength === 0) continue;
      const bytes = Uint8Array.from({ length: image.byteLength }, (_, k) => (k * 37 + 11) & 255);
      await page.fill(`#${direction}-payload`, toHex(bytes));
      const shown = await readings(direction);
      for (const { name, value, unit, signal, raw, health } of inspect(image, bytes)) {
        const { value: text, ...rest } = shown[name]!;
        if (typeof value === "boolean") expect(text).toBe(value ? "on" : "off");
        else if (typeof value === "bigint") expect(text).toBe(String(value));
        else if (Number.isFinite(value))
          expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(Math.abs(value) * 1e-8);
        else expect(text).toBe(String(value));
        expect(rest.unit).toBe(unit ?? "");
        expect(rest.signal === "").toBe(signal === null);
        if (signal !== null && Number.isFinite(signal)) expect(Number.parseFloat(rest.signal!)).toBeCloseTo(signal, 6);
        expect(rest.health === "").toBe(health === "none");
        if (typeof raw === "boolean") expect(rest.raw).toBe(raw ? "1" : "0");
      }
    }
    expect(complaints).toEqual([]);
  }
});

browserTest(
  "the search keeps the rows that match every word, fades the other blocks and says how many points match",
  async () => {
    await open(htmlOf(kegWasherLayout));
    await page.fill("#search", "SENSORS press");
    expect(await page.$$eval("tbody tr:not([hidden])", (rows) => rows.map((row) => row.dataset.point))).toEqual([
      "supply",
    ]);
    expect(await page.locator("#found").textContent()).toBe("1 point matches.");
    expect(
      await page.$$eval("g[data-point]:not(.faint)", (blocks) =>
        blocks.map((block) => (block as SVGElement).dataset.point),
      ),
    ).toEqual(["supply"]);
    await page.fill("#search", "nothing of that name");
    expect(await page.locator("#found").textContent()).toBe("No point matches.");
    await page.fill("#search", "");
    expect(await page.locator("tbody tr[hidden]").count()).toBe(0);
  },
);

browserTest(
  "a screen reader finds a caption, heads with their scope, labels, and what changes is announced",
  async () => {
    await open(htmlOf(kegWasherLayout));
    const bare = await page.evaluate(() => ({
      tables: [...document.querySelectorAll("table")].map((table) => table.caption?.textContent),
      heads: document.querySelectorAll("th:not([scope])").length,
      rows: document.querySelectorAll("tbody tr:not(:has(> th[scope=row]))").length,
      fields: [...document.querySelectorAll("input, textarea")].filter(
        (field) => !(field as HTMLInputElement).labels?.length,
      ).length,
      pictures: [...document.querySelectorAll("svg")].map(
        (svg) => document.getElementById(svg.getAttribute("aria-labelledby") ?? "")?.textContent,
      ),
      live: document.querySelectorAll("[aria-live]").length,
      language: document.documentElement.lang,
      ids: [...document.querySelectorAll("[id]")].map(({ id }) => id),
    }));
    expect(bare.tables).toEqual(["Points of the inputs in image order", "Points of the outputs in image order"]);
    expect([bare.heads, bare.rows, bare.fields]).toEqual([0, 0, 0]);
    expect(bare.pictures[0]).toBe("Byte map of Keg washer, skid 2: inputs, bytes 0 to 14");
    expect(bare.live).toBe(3);
    expect(bare.language).toBe("en");
    expect(new Set(bare.ids).size).toBe(bare.ids.length);
  },
);

browserTest("at 400 pixels the page itself does not scroll sideways", async () => {
  await open(htmlOf(kegWasherLayout), 400);
  await page.fill("#inputs-payload", inputsFrame);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(400);
});

browserTest("a station of 500 bytes of bits opens, reads a payload and is searched", async () => {
  const bits = (module: number) =>
    Array.from({ length: 50 }, (_, k) => ({ name: `p${module}_${k}`, type: "bit" as const, title: `Switch ${k}` }));
  const words = Array.from({ length: 125 }, (_, k) => ({ name: `w${k}`, type: "int16" as const }));
  const modules = [
    ...Array.from({ length: 35 }, (_, k) => ({ name: `m${k}`, inputs: bits(k) })),
    { name: "analog", inputs: words },
  ];
  const layout = assemble({ format: 1, name: "wide", byteOrder: "big", modules } as Station);
  await open(htmlOf(layout as Layout), 400);
  await page.fill("#inputs-payload", "FF ".repeat(layout.inputs.byteLength));
  expect((await readings("inputs")).w124).toMatchObject({ value: "-1" });
  await page.fill("#search", "analog");
  expect(await page.locator("#found").textContent()).toBe("125 points match.");
  expect(layout.inputs.byteLength).toBe(495);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(400);
  expect(complaints).toEqual([]);
});

describe("hostile texts", () => {
  browserTest("stand in the page as text, run nothing, and leave the page at work", async () => {
    // Turned round, so that the texts stand at ever other places.
    const turned = [...awkwardTexts.keys()]
      .filter((k) => k % 4 === 0)
      .map((k) => [...awkwardTexts.slice(k), ...awkwardTexts.slice(0, k)]);
    const cases = [
      ...turned.map((list) => decorated(kegWasher, list)),
      ...fc.sample(awkwardStations(), { numRuns: 5, seed: 4180 }),
    ];
    for (const station of cases) {
      const layout: Layout = assemble(station);
      await open(htmlOf(layout));
      const seen = await page.evaluate(() => ({
        title: document.title,
        foreign: document.querySelectorAll("img, iframe, a, object, link, base").length,
        scripts: document.scripts.length,
        handlers: [...document.querySelectorAll("*")].filter((element) =>
          element.getAttributeNames().some((name) => /^on|^style$/i.test(name)),
        ).length,
        points: document.querySelectorAll("tr[data-point]").length,
        payloads: document.querySelectorAll(".payload:not([hidden])").length,
      }));
      const { inputs, outputs } = layout;
      expect(seen.title).toMatch(/^Byte map of /);
      expect([seen.foreign, seen.scripts, seen.handlers]).toEqual([0, 2, 0]);
      expect(seen.points).toBe(inputs.points.length + outputs.points.length);
      expect(seen.payloads).toBe([inputs, outputs].filter(({ byteLength }) => byteLength > 0).length);
      expect(complaints).toEqual([]);
    }
  });

  browserTest("a script that got into the page all the same would not run", async () => {
    const script = "<script>document.title = 'owned'</script><p onclick=\"document.title = 'owned'\" id=\"bait\">x</p>";
    await open(htmlOf(kegWasherLayout).replace("<main>", `<main>${script}`));
    await page.click("#bait");
    expect(await page.title()).toBe("Byte map of Keg washer, skid 2");
    await page.fill("#inputs-payload", inputsFrame);
    expect((await readings("inputs")).causticTemp!.value).toBe("21.5");
  });
});

describe("the file", () => {
  test("names no other file and no host, and allows nothing but its own script and styles", () => {
    const text = htmlOf(kegWasherLayout);
    expect(text.match(/\b(src|href)=|@import|\bimport\(|fetch\(|XMLHttpRequest|WebSocket/g)).toBeNull();
    expect(text.match(/url\((?!#)/g)).toBeNull();
    expect(text.replaceAll("http://www.w3.org/2000/svg", "")).not.toMatch(/https?:\/\//);
    expect(text).toMatch(
      /content="default-src 'none'; script-src 'sha256-[^']+'; style-src 'sha256-[^']+' 'sha256-[^']+'; base-uri 'none'; form-action 'none'"/,
    );
  });

  test("the data in it is the description, whatever stands in that", () => {
    fc.assert(
      fc.property(awkwardStations(), (station) => {
        const json = /<script type="application\/json" id="station">([^<]*)<\/script>/.exec(
          htmlOf(assemble(station)),
        )![1]!;
        expect(JSON.parse(json)).toEqual(JSON.parse(JSON.stringify(station)));
      }),
      { numRuns: 40 },
    );
  });

  test("tells the command, the station and the digest of its description, and a caution", () => {
    const text = htmlOf(kegWasherLayout);
    expect(text).toMatch(
      /^<!DOCTYPE html>\n<!-- Generated by `byterail generate`.* -->\n<!-- Station kegWasher.*[0-9a-f]{16}\. -->\n/,
    );
    expect(text).toContain("no safety function");
  });

  test("is the same every time", () => {
    expect(htmlOf(assemble(structuredClone(kegWasher)))).toBe(htmlOf(kegWasherLayout));
  });

  test("the frame of this test is what it is said to be", () => {
    const raw = {
      clampOpen: true,
      clampShut: false,
      causticTemp: 215,
      supply: 3500,
      flow: 0x41460000,
      total: 2n ** 63n + 1n,
      tank: 3289,
      tankFault: true,
      mode: 2,
    };
    expect(toHex(encodeRaw(kegWasherLayout.inputs, raw))).toBe(toHex(fromHex(inputsFrame.replace("05", "01"))));
  });
});
