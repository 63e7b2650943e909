// The web page of the example's review, opened in a real browser: no console message, filter and deep link work, axe-core
// finds no violation at two widths, the drawing is where its figures say, and a long schedule still opens.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const root = fileURLToPath(new URL("../..", import.meta.url));
const program = process.env.COLDSILL ?? join(root, "target/debug/coldsill");
const axe = readFileSync(fileURLToPath(import.meta.resolve("axe-core/axe.min.js")), "utf8");
// Different outlets of a long schedule: 2,000 by hand with a release build, fewer where every build is slow.
const LONG = Number(process.env.LONG ?? 50);
const folder = mkdtempSync(join(tmpdir(), "coldsill-"));
let browser;

/** Writes a review as a web page. Exit status 1 says that there are comments. */
const write = (name, ...options) => {
  const path = join(folder, name);
  const ran = spawnSync(program, ["review", ...options, "--output", path], { cwd: root, encoding: "utf8" });
  assert.ok(ran.status === 0 || ran.status === 1, ran.stderr);
  return path;
};

const open = async (path, width, hash = "") => {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  const said = [];
  page.on("console", (message) => said.push(message.text()));
  page.on("pageerror", (error) => said.push(String(error)));
  await page.goto(pathToFileURL(path) + hash);
  return { page, said };
};

before(async () => {
  const options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"];
  browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: options });
});
after(() => browser?.close());

for (const width of [1280, 380]) {
  for (const scheme of ["light", "dark"]) {
    test(`axe-core finds nothing at ${width} px, ${scheme}`, async () => {
      const { page, said } = await open(write("example.html", "examples/kestrel-ridge/job.yaml"), width);
      await page.emulateMedia({ colorScheme: scheme });
      // The page's own policy lets in no other script; the tool is handed over instead.
      await page.evaluate(axe);
      await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
      const found = await page.evaluate(() => axe.run());
      assert.deepEqual(found.violations.map((it) => `${it.id}: ${it.nodes.map((node) => node.html).join(" ")}`), []);
      assert.deepEqual(said, []);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      assert.ok(wide <= 0, `the page is ${wide} px too wide`);
      await page.close();
    });
  }
}

test("the filter and the search leave what was asked for", async () => {
  const { page, said } = await open(write("example.html", "examples/kestrel-ridge/job.yaml"), 1280);
  const rows = () => page.locator("#types tbody tr:visible").count();
  assert.equal(await rows(), 7);
  await page.selectOption("#result", "clarify");
  assert.equal(await rows(), 1);
  assert.equal(await page.locator("article:visible").count(), 1);
  await page.selectOption("#result", "");
  await page.fill("#search", "clubhouse");
  assert.equal(await rows(), 1);
  assert.match(await page.locator("#found").textContent(), /1 of 7/);
  assert.deepEqual(said, []);
  await page.close();
});

test("a link with a mark leads to its part of the page", async () => {
  const { page } = await open(write("example.html", "examples/kestrel-ridge/job.yaml"), 1280, "#HB-5");
  await page.waitForTimeout(500);
  const top = await page.locator('article[data-marks="hb-5"]').evaluate((it) => it.getBoundingClientRect().top);
  assert.ok(Math.abs(top) < 300, `${top}`);
  await page.close();
});

test("the valve seat is drawn to the scale of its wall", async () => {
  const { page } = await open(write("example.html", "examples/kestrel-ridge/job.yaml"), 1280);
  const off = await page.evaluate(() =>
    [...document.querySelectorAll("svg[data-seat-depth]")].map((svg) => {
      const layers = [...svg.querySelectorAll(".layer, .batt")].map((it) => it.getBBox());
      const left = layers[0].x;
      const wide = layers.at(-1).x + layers.at(-1).width - left;
      const seat = svg.querySelector("rect.seat").getBBox();
      const scale = wide / Number(svg.dataset.wallThickness);
      return seat.x + seat.width / 2 - left - Number(svg.dataset.seatDepth) * scale;
    }),
  );
  assert.ok(off.length > 0);
  for (const pixels of off) assert.ok(Math.abs(pixels) < 1, `${pixels} px`);
  await page.close();
});

test("a long schedule opens in 3 s", async () => {
  const lines = ["Mark,Kind,Closes,Nominal length,Seat depth,Barrel,Wall,Supply,Supply insulation"];
  for (let row = 0; row < LONG; row += 1) {
    const depth = (4 + (row * 10) / LONG).toFixed(3);
    lines.push(`HB-${row},sillcock,inside,14 in,${depth} in,brass,rim joist batt,copper,none`);
  }
  const schedule = join(folder, "long.csv");
  writeFileSync(schedule, lines.join("\n"));
  const path = write("long.html", schedule, "--climate", "minneapolis-mn");
  assert.ok(statSync(path).size < 15e6 * Math.max(LONG / 2000, 0.2), `${statSync(path).size} bytes`);
  const start = performance.now();
  const { page } = await open(path, 1280);
  const took = performance.now() - start;
  await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
  assert.ok(took < 3000, `${took} ms`);
  await page.close();
});
