// Runs the program and opens its pages in a real browser.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

export const root = fileURLToPath(new URL("../..", import.meta.url));
export const folder = mkdtempSync(join(tmpdir(), "coldsill-"));
const program = process.env.COLDSILL ?? join(root, "target/debug/coldsill");
const axe = readFileSync(fileURLToPath(import.meta.resolve("axe-core/axe.min.js")), "utf8");

/** Runs the program with --output. Exit status 1 says that there is something to report. */
export const write = (name, ...options) => {
  const path = join(folder, name);
  const ran = spawnSync(program, [...options, "--output", path], { cwd: root, encoding: "utf8" });
  assert.ok(ran.status === 0 || ran.status === 1, ran.stderr);
  return path;
};

/** What the program writes, as JSON. */
export const json = (...options) => JSON.parse(readFileSync(write("read-back.json", ...options), "utf8"));

export const launch = () => {
  const args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"];
  return chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args });
};

/** A page of a file, with all that it puts on the console. */
export const open = async (browser, path, width) => {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  const said = [];
  page.on("console", (message) => said.push(message.text()));
  page.on("pageerror", (error) => said.push(String(error)));
  await page.goto(pathToFileURL(path).href);
  return { page, said };
};

/** Axe-core finds nothing, and nothing is wider than the screen. */
export const assertAccessible = async (page) => {
  await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
  // The page's own policy lets in no script; the tool is handed over instead.
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run());
  assert.deepEqual(found.violations.map((it) => `${it.id}: ${it.nodes.map((node) => node.html).join(" ")}`), []);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  assert.ok(wide <= 0, `the page is ${wide} px too wide`);
};
