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

/** Runs the program. Exit status 1 says that there are comments. */
const run = (...options) => {
  const ran = spawnSync(program, options, { cwd: root, encoding: "utf8", maxBuffer: 1e8 });
  assert.ok(ran.status === 0 || ran.status === 1, ran.stderr);
  return ran.stdout;
};

/** Writes a review as a web page. */
const write = (name, ...options) => {
  const path = join(folder, name);
  run("review", ...options, "--output", path);
  return path;
};

/** Writes the page of the example's outlet in its cold spell. */
const spell = ["cold-spell", "examples/kestrel-ridge/job.yaml", "--mark", "HB-1"];
const writeSpell = () => {
  const path = join(folder, "spell.html");
  run(...spell, "--output", path);
  return path;
};

/** Asserts that axe-core finds nothing, that the page logs nothing and that it is not too wide. */
const isClean = async (page, said) => {
  // The page's own policy lets in no other script; the tool is handed over instead.
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run());
  assert.deepEqual(found.violations.map((it) => `${it.id}: ${it.nodes.map((node) => node.html).join(" ")}`), []);
  assert.deepEqual(said, []);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  assert.ok(wide <= 0, `the page is ${wide} px too wide`);
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
      await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
      await isClean(page, said);
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
  await page.fill("#search", "townhouse");
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

for (const width of [1280, 380]) {
  test(`axe-core finds nothing on the page of a cold spell at ${width} px`, async () => {
    const { page, said } = await open(writeSpell(), width);
    await isClean(page, said);
    await page.close();
  });
}

test("the chart of a cold spell has the figures of the JSON", async () => {
  const { page } = await open(writeSpell(), 1280);
  const drawn = await page.evaluate(() =>
    [...document.querySelectorAll("svg[data-until]")].map((svg) => {
      const [warmth, ice] = [...svg.querySelectorAll("rect.axis")].map((it) => it.getBBox());
      const points = (name) => svg.querySelector(name).getAttribute("points").split(" ").map((it) => it.split(",").map(Number));
      // The first and the last point of the area are the corners under it.
      const lines = [points(".outdoors"), points(".curve"), points(".ice").slice(1, -1)];
      const { from, until, coldest, warmest, firstIce, blocked, iceGone } = svg.dataset;
      const time = (x) => Number(from) + ((x - warmth.x) / warmth.width) * (until - from);
      const kelvin = (y) => Number(warmest) - ((y - warmth.y) / warmth.height) * (warmest - coldest);
      const share = (y) => 1 - (y - ice.y) / ice.height;
      const read = lines.map((line, index) => line.map(([x, y]) => [time(x), (index === 2 ? share : kelvin)(y)]));
      const pixel = [(until - from) / warmth.width, (warmest - coldest) / warmth.height, 1 / ice.height];
      return { read, pixel, events: { first_ice: firstIce, blocked, ice_gone: iceGone } };
    }),
  );
  const { outlets } = JSON.parse(run(...spell, "--format", "json"));
  assert.equal(drawn.length, outlets.length);
  for (const [index, { hourly, events, followed }] of outlets.entries()) {
    const { read, pixel, events: marked } = drawn[index];
    for (const [line, name] of ["outdoors", "seat", "frozen"].entries()) {
      assert.equal(read[line].length, hourly.length);
      for (const [at, hour] of hourly.entries()) {
        const [time, value] = read[line][at];
        assert.ok(Math.abs(time - hour.time) < pixel[0], `${name} at ${hour.time} s is drawn at ${time} s`);
        assert.ok(Math.abs(value - hour[name]) < pixel[line === 2 ? 2 : 1], `${name} ${hour[name]} is drawn at ${value}`);
      }
    }
    const gone = followed.as_used.ice_gone?.value ?? null;
    const told = { first_ice: events.first_ice.value, blocked: events.blocked.value, ice_gone: gone };
    for (const [name, time] of Object.entries(told)) {
      if (time === null) assert.equal(marked[name], undefined, name);
      else assert.ok(Math.abs(Number(marked[name]) - time) <= 1e-6 * time, `${name} ${time} is marked at ${marked[name]}`);
    }
  }
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
  assert.ok(took < 3000, `${took} ms`);
  await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
  assert.ok((await page.evaluate(() => window.scrollY)) > 0);
  await page.fill("#search", `HB-${LONG - 1}`);
  assert.equal(await page.locator("#types tbody tr:visible").count(), 1);
  await page.fill("#search", "");
  await page.selectOption("#result", "fine");
  assert.equal(await page.locator("#types tbody tr:visible").count(), await page.locator('#types tbody tr[data-result="fine"]').count());
  await page.close();
});
