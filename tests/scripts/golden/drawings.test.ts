import {readdirSync, readFileSync, statSync} from "node:fs";
import {join} from "node:path";
import {expect, it} from "vitest";
import {draw} from "../../../scripts/draw.ts";
import {drawings} from "../../../scripts/golden/drawings.ts";
import {changes, goldenFolder} from "../../../scripts/golden/store.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {monthlyReport} from "../../../scripts/pages/monthly.ts";
import {seasonReport} from "../../../scripts/pages/season.ts";
import {seasoningReport} from "../../../scripts/pages/seasoning.ts";
import {suppliersReport} from "../../../scripts/pages/suppliers.ts";

it("every figure of every page is drawn as it was last looked at", () => {
  const changed = changes(drawings()).map(({name}) => name);
  expect(changed, "npm run golden shows what changed as pictures; npx tsx scripts/golden.ts --accept takes it").toEqual(
    []
  );
});

it("the golden drawings have every figure that the reports of the whole sample book have, wide and narrow", () => {
  const found = readBook("sample-data");
  const read = bookAsOf({...found, book: found.book!});
  const reports = [monthlyReport, suppliersReport, seasonReport, seasoningReport].map((report) =>
    report(read, {notebooks: [], keptBefore: () => undefined, draw})
  );
  const wanted = reports.flatMap(({name, figures}) =>
    figures.flatMap(({id}) => ["wide", "narrow"].map((size) => `${name}-${id}-${size}.svg`))
  );
  const kept = readdirSync(goldenFolder);
  expect(wanted.length).toBeGreaterThan(20);
  expect(wanted.filter((name) => !kept.includes(name))).toEqual([]);
});

it("every kind of figure in lib/figures is used by a page", () => {
  const kinds = readdirSync("lib/figures").filter((file) =>
    /\): Figure \{$/m.test(readFileSync(`lib/figures/${file}`, "utf8"))
  );
  const pages = readdirSync("scripts/pages", {recursive: true, encoding: "utf8"})
    .filter((file) => file.endsWith(".ts"))
    .map((file) => readFileSync(join("scripts/pages", file), "utf8"))
    .join();
  expect(kinds.length).toBeGreaterThan(9);
  expect(kinds.filter((file) => !pages.includes(`lib/figures/${file}"`))).toEqual([]);
});

it("the golden drawings take less than 600 KiB, and none is large", () => {
  const sizes = readdirSync(goldenFolder).map((name) => statSync(join(goldenFolder, name)).size);
  expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(600 * 1024);
  expect(Math.max(...sizes)).toBeLessThan(64 * 1024);
});
