// The workbook of a review, read back by another library: the schedule's own rows in their order with the results of the
// JSON, numbers as numbers, and no cell a formula.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import xlsx from "xlsx";
import { folder, json, root, write } from "./common.mjs";

const EXAMPLE = "examples/kestrel-ridge/job.yaml";
const rowsOf = (sheet) => xlsx.utils.sheet_to_json(sheet, { header: 1, raw: true });

test("the schedule's own rows stand in their order with their results", () => {
  const book = xlsx.readFile(write("review.xlsx", "review", EXAMPLE));
  const [headings, ...rows] = rowsOf(book.Sheets[book.SheetNames[0]]);
  const written = readFileSync(join(root, "examples/kestrel-ridge/schedule.csv"), "utf8").trim().split(/\r?\n/);
  const own = written[0].split(",");
  assert.ok(own.every((heading) => headings.includes(heading)), `${headings}`);
  const mark = headings.indexOf(own[0]);
  assert.deepEqual(rows.slice(0, written.length - 1).map((row) => String(row[mark])), written.slice(1).map((line) => line.split(",")[0]));
  const result = headings.findIndex((heading) => /result/i.test(heading));
  const review = json("review", EXAMPLE);
  const severity = ["revise", "clarify", "advise", "no comment"];
  const worst = new Map(
    review.findings.flatMap((findings) => {
      const worst = severity.find((own) => findings.comments.some((comment) => comment.outcome === own));
      return findings.rows.map((row) => [row.at.row, worst]);
    }),
  );
  rows.slice(0, written.length - 1).forEach((row, at) => {
    const word = String(row[result]).toLowerCase();
    const asks = ["revise", "clarify"].includes(worst.get(at + 2));
    assert.equal(word.startsWith("revise") || word.startsWith("clarify"), asks, `row ${at + 2}: ${row[result]}`);
  });
});

test("quantities are numbers and no cell is a formula", () => {
  const schedule = join(folder, "hostile.csv");
  writeFileSync(schedule, "Mark,Qty,Kind,Nominal length,Barrel,Wall,Notes\n=1+1,2,sillcock,8 in,brass,2x6,@SUM(1)\n");
  const path = write("hostile.xlsx", "review", schedule, "--climate", "minneapolis-mn");
  const book = xlsx.readFile(path, { cellFormula: true });
  const [headings, row] = rowsOf(book.Sheets[book.SheetNames[0]]);
  assert.equal(row[headings.indexOf("Qty")], 2);
  for (const name of book.SheetNames) {
    for (const [at, cell] of Object.entries(book.Sheets[name])) {
      if (!at.startsWith("!")) assert.equal(cell.f, undefined, `${name}!${at}: ${cell.f}`);
    }
  }
});
