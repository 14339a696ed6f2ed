// The packages do the same where people run them: in Node, in Node that may not make code from text, in a page under a strict
// content-security policy, and in a worker of that page.

import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join } from "node:path";
import { build as bundle } from "esbuild";
import { chromium } from "playwright-core";
import { build } from "vite";
import { expect, test } from "vitest";
import { testWith } from "../support/tool.js";

const here = import.meta.dirname;
const cache = join(here, "../.cache/environments");

const expected = {
  decoded: { supply: 6.2, doorClosed: true },
  viewed: "36 60 00",
  patched: "0F A0 01",
  column: [6.2, 10],
  healths: ["none", "none"],
  rows: 2,
  forced: "03",
  generated: 5,
  drawn: true,
  changes: ["unchanged"],
  loops: 1,
  verdict: "noFault",
};

test.each<{ flags: string[]; codeFromText: string }>([
  { flags: [], codeFromText: "made" },
  { flags: ["--disallow-code-generation-from-strings"], codeFromText: "refused" },
])("Node, code from text $codeFromText", async ({ flags, codeFromText }) => {
  const outfile = join(cache, "node.mjs");
  await bundle({
    entryPoints: [join(here, "node.ts")],
    outfile,
    bundle: true,
    packages: "external",
    platform: "node",
    format: "esm",
  });
  const { stdout, stderr } = spawnSync(process.execPath, [...flags, outfile], { encoding: "utf8" });
  expect(stderr).toBe("");
  expect(JSON.parse(stdout)).toEqual({ ...expected, codeFromText });
});

testWith("chromium")(
  "a page and its worker, under default-src 'self'",
  async () => {
    const root = join(cache, "page");
    mkdirSync(root, { recursive: true });
    const source = join(here, "page.ts");
    const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>work</title></head><body><script type="module" src="${source}"></script></body></html>`;
    writeFileSync(join(root, "index.html"), html);
    await build({
      root,
      logLevel: "error",
      configFile: false,
      base: "./",
      worker: { format: "es" },
      build: { target: "es2022", emptyOutDir: true },
    });

    const types: Record<string, string> = { ".html": "text/html", ".js": "text/javascript" };
    const server = createServer(({ url = "/" }, response) => {
      const file = url === "/" ? "/index.html" : new URL(url, "http://localhost").pathname;
      if (file === "/favicon.ico") {
        response.writeHead(204).end();
        return;
      }
      response.setHeader("Content-Security-Policy", "default-src 'self'");
      response.setHeader("Content-Type", types[extname(file)] ?? "application/octet-stream");
      response.end(readFileSync(join(root, "dist", file)));
    }).listen(0, "127.0.0.1");
    const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"];
    const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args });
    try {
      const page = await browser.newPage();
      const complaints: string[] = [];
      page.on("console", (message) => complaints.push(message.text()));
      page.on("pageerror", (error) => complaints.push(String(error)));
      await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
      const text = (id: string) => page.locator(`#${id}`).textContent();
      const texts = [await text("page"), await text("worker")];
      expect(complaints).toEqual([]);
      expect(texts.map((each) => JSON.parse(each!))).toEqual([expected, expected]);
      // The control: the policy is in force, in both, and what it refuses is among the complaints.
      // It is clicked, since what a test evaluates in a page may make code from text all the same.
      await page.click("button");
      expect([await text("pageControl"), await text("workerControl")]).toEqual(["refused", "refused"]);
      expect(complaints).not.toEqual([]);
    } finally {
      await browser.close();
      server.close();
    }
  },
  120_000,
);
