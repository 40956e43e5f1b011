import {mkdtempSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {afterAll, expect, test} from "vitest";
import {addCounts} from "../../../lib/book/addCounts.ts";
import {type BookCounts, bookCounts} from "../../../lib/book/bookCounts.ts";
import {histories} from "../../../lib/book/histories.ts";
import {shown} from "../../../lib/report/quantity.ts";
import {countedYields} from "../../../lib/yield/stageYields.ts";
import {duckDb, loadCsv} from "../../../scripts/bench/duckDb.ts";
import {draw} from "../../../scripts/draw.ts";
import {readCounts, workshopNames, writeCounts} from "../../../scripts/io/countsFolder.ts";
import {readBook} from "../../../scripts/io/readBook.ts";
import {writeSoundTables} from "../../../scripts/io/soundTables.ts";
import {countsReport} from "../../../scripts/pages/counts.ts";
import {countsBySql} from "../../../scripts/sql/countsBySql.ts";
import {bookOf, settingsOf} from "../../book/smallBook.ts";

const folder = mkdtempSync(join(tmpdir(), "counts-"));
afterAll(() => rmSync(folder, {recursive: true}));

const day = "2026-10-31";
const book = readBook("sample-data").book!;
const counts = bookCounts(histories(book, day));
const report = countsReport(counts, [], draw);

test("the page is the same byte for byte from the book, from files, and from an SQL engine", async () => {
  writeCounts(join(folder, "one"), counts);
  expect(countsReport(readCounts([join(folder, "one")]).counts, [], draw).html).toBe(report.html);
  writeSoundTables(join(folder, "tables"), book);
  const {run, close} = await duckDb();
  await loadCsv(run, join(folder, "tables"));
  const bySql = await countsBySql(run, book.settings, day);
  close();
  expect(countsReport(bySql, [], draw).html).toBe(report.html);
});

test("the page says what the counts say: yields, what to buy, where every square is", () => {
  const {rolledFraction} = countedYields(counts, counts.spells);
  expect(report.lead[0]).toContain(`Of 100 squares ${shown(100 * rolledFraction!, "count")} become finished shafts`);
  expect(report.lead.join("\n")).toMatch(/Ash: buy \d+ squares.*\nMaple: buy \d+ squares/);
  const ids = report.tables.map(({id}) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ["stage-yields-data", "shaft-cost-data", "rest-losses-data", "purchase-table", "balance-table"])
    expect(ids).toContain(id);
  expect(report.html).not.toContain('id="workshop-yields"');
});

test("every link of the page leads somewhere in it", () => {
  const targets = [...report.html.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id!);
  expect(targets.length).toBeGreaterThan(20);
  expect(targets.filter((id) => !report.html.includes(`id="${id}"`))).toEqual([]);
});

/** A workshop like the sample's, but that of its ash two of three groups that passed the last rest were thrown out instead. */
const ash = new Set(counts.lots.filter(({species}) => species === "ash").map(({lot}) => lot));
const unlucky: BookCounts = {
  ...counts,
  spells: counts.spells.map((row, index) =>
    ash.has(row.lot) && row.stage === "proud-round" && row.outcome === "passed" && index % 3 > 0
      ? {...row, outcome: "discarded: warp"}
      : row
  )
};

test("workshops added up stand beside each other, and the one that makes less is named", () => {
  writeCounts(join(folder, "north", "counts"), counts);
  writeCounts(join(folder, "south", "counts"), unlucky);
  const {counts: both, workshops} = readCounts([join(folder, "north", "counts"), join(folder, "south", "counts")]);
  expect(workshops).toEqual(["north", "south"]);
  const {lead, tables, html} = countsReport(both, workshops, draw);
  expect(lead[1]).toMatch(
    /^North makes the most of its ash .* and south makes the least of its ash \(2\d of 100 squares\), beyond chance\.$/
  );
  const rows = tables.find(({id}) => id === "workshop-yields-data")!.rows;
  expect(rows.map(({species, workshop}) => `${species} ${workshop}`)).toEqual([
    "ash north",
    "ash south",
    "maple north",
    "maple south"
  ]);
  const sum = (key: string) => rows.reduce((total, row) => total + Number(row[key]), 0);
  expect(sum("squares")).toBe(2 * counts.densities.reduce((total, {squares}) => total + squares, 0));
  expect(html).toContain("2 workshops as one");
});

test("workshops that are alike cannot be told apart, and the page says so", () => {
  const sum = addCounts(["a", "b"].map((name) => ({name, counts})));
  if ("why" in sum) throw new Error(sum.why);
  expect(countsReport(sum.counts, ["a", "b"]).lead[1]).toBe("The data cannot tell the workshops' yields apart.");
});

test("rows set aside are told by workshop, first of all where they are many, and who does not tell them is named", () => {
  const files = [
    {file: "squares.csv", rows: 1000, setAside: 1},
    {file: "events.csv", rows: 3000, setAside: 1000}
  ];
  const books = [{workshop: "a", entered: day, files}];
  const {lead, html, tables} = countsReport({...counts, books}, ["a", "b"]);
  expect(lead[0]).toMatch(/^Much is missing: 1.000 of 3.000 rows of a’s events\.csv were set aside/);
  expect(html).toContain("The counts of b do not tell their rows.");
  expect(tables.find(({id}) => id === "rows-counted")!.rows).toEqual(files.map((file) => ({workshop: "a", ...file})));
  const few = countsReport({...counts, books: [{entered: day, files: [files[0]!]}]});
  expect(few.lead.join()).not.toContain("Much is missing");
  expect(few.html).toContain("Rows of the books: 1 set aside");
});

test("a workshop that long wrote nothing is told first, by name where there are several", () => {
  const books = [
    {workshop: "a", entered: day, files: []},
    {workshop: "b", entered: "2026-04-30", files: []}
  ];
  expect(countsReport({...counts, books}, ["a", "b"]).lead[0]).toMatch(
    /^By the books nothing was bought, done or ordered at b after 2026-04-30, to 2026-10-31:/
  );
  expect(countsReport({...counts, books: [{entered: "2026-04-30", files: []}]}).lead[0]).toMatch(
    /^By the book nothing was bought, done or ordered from 2026-05-01 to 2026-10-31 \(184 days\)/
  );
});

test("lots of which no square is known are not counted", () => {
  const [lot] = counts.lots;
  const {html} = countsReport({...counts, lots: [...counts.lots, {...lot!, lot: "none"}]});
  expect(html).toContain(`squares in ${counts.lots.length} lots`);
});

test("the folder of the counts is named, where the one around it was given", () => {
  writeCounts(join(folder, "around", "counts"), counts);
  expect(() => readCounts([join(folder, "around")])).toThrow(`Did you mean ${join(folder, "around", "counts")}?`);
});

test("a young book, and one without orders, has a page too: it says what cannot be said", () => {
  const young = countsReport(bookCounts(histories(readBook("sample-data").book!, "2022-03-01")));
  expect(young.lead[0]).toMatch(/^Too early to say/);
  const none = bookCounts(histories(bookOf({orders: []}, settingsOf()), day));
  const {html} = countsReport(none, [], draw);
  expect(html).toContain("Ash: no number yet");
  expect(html.replace(/<script.*?<\/script>/gs, "").match(/.{60}(undefined|NaN|Infinity).{20}/g)).toBeNull();
});

test("user text is escaped", () => {
  const evil = "<script>alert(1)</script>";
  const lots = counts.lots.map((lot) => (lot.supplier === "Fennaby Yard" ? {...lot, supplier: evil} : lot));
  const {html} = countsReport({...counts, lots, settings: {...counts.settings, name: evil}});
  expect(html).not.toContain(evil);
  expect(html).toContain("&lt;script&gt;alert(1)");
});

test("workshops are named by the last part of their path, or by that before where all end alike", () => {
  expect(workshopNames(["a/north", "b/south"])).toEqual(["north", "south"]);
  expect(workshopNames(["x/north/counts", "x/south/counts"])).toEqual(["north", "south"]);
  expect(workshopNames(["x/north/counts"])).toEqual(["counts"]);
  expect(() => workshopNames(["a/north", "b/north", "c/south"])).toThrow("must have names of their own");
  expect(() => workshopNames(["a/north", "a/north"])).toThrow("must have names of their own");
});
