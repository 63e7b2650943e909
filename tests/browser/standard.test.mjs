// The web page of a standard, opened in a real browser: no console message, axe-core finds no violation at two widths, the
// charts show the figures of the JSON, and names with markup stay text.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { assertAccessible, folder, json, launch, open, write } from "./common.mjs";

const BUILDER = "examples/builder/standard.yaml";
let browser;
let builder;
before(async () => {
  browser = await launch();
  builder = write("standard.html", "standard", BUILDER);
});
after(() => browser?.close());

for (const width of [1280, 380]) {
  for (const colorScheme of ["light", "dark"]) {
    test(`axe-core finds nothing at ${width} px, ${colorScheme}`, async () => {
      const { page, said } = await open(browser, builder, width);
      await page.emulateMedia({ colorScheme });
      await assertAccessible(page);
      assert.deepEqual(said, []);
      if (process.env.SHOTS) {
        await page.screenshot({ path: join(process.env.SHOTS, `standard-${width}-${colorScheme}.png`), fullPage: true });
      }
      await page.close();
    });
  }
}

test("each mark of a chart is a cell of the JSON", async () => {
  const standard = json("standard", BUILDER);
  const { page } = await open(browser, builder, 1280);
  const marks = await page.evaluate(() =>
    [...document.querySelectorAll("figure g[data-low]")].map(({ dataset }) => [
      Number(dataset.low).toFixed(3),
      dataset.length ? Number(dataset.length).toFixed(4) : "none",
      dataset.changes,
    ]),
  );
  const cells = standard.cells.map((cell) => [
    standard.places[cell.place].design_low.value.toFixed(3),
    cell.order === null ? "none" : standard.products[cell.order].nominal_length.value.toFixed(4),
    cell.order === null ? "not known" : cell.length_changes.some((change) => change.startsWith("yes")) ? "yes" : "no",
  ]);
  assert.ok(cells.length > 24);
  assert.deepEqual(marks.map(String).sort(), cells.map(String).sort());
  await page.close();
});

test("a name with markup stays text", async () => {
  const path = join(folder, "hostile.yaml");
  // A name may have no slash, so the element does not end.
  const name = "A<img src=x onerror=alert(1)><script>document.title = 'ran'";
  writeFileSync(
    path,
    `standard: "${name}"\ndate: 2026-01-31\nplaces: [dallas-tx]\nwalls: [2x6-siding]\nsupplies: [copper]\n` +
      "barrels: [brass]\ninside_stop: no\n",
  );
  const { page, said } = await open(browser, write("hostile.html", "standard", path), 1280);
  assert.match(await page.title(), /^Faucet standard: A<img src=x/);
  assert.equal(await page.locator("script, img").count(), 0);
  assert.deepEqual(said, []);
  await page.close();
});
