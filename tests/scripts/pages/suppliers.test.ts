import {readFileSync} from "node:fs";
import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {supplierFile} from "../../../scripts/pages/supplierPage.ts";
import {suppliersReport} from "../../../scripts/pages/suppliers.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};
const reportOf = (folder: string) => {
  const found = readBook(folder);
  return suppliersReport(bookAsOf({...found, book: found.book!}), beside);
};
const report = reportOf("sample-data");
const {document} = new JSDOM(report.html).window;
const rows = (id: string) =>
  [...document.querySelectorAll(`#${id} tbody tr`)].map((row) => [...row.children].map((cell) => cell.textContent!));

it("suppliersReport(sample book) says in its headings what the data can tell", () => {
  const headings = [...document.querySelectorAll("main > section > h2")].map((node) => node.textContent!);
  expect(headings.slice(1, 7)).toEqual([
    "Density: Haskerdene Mill is tightest",
    "Window: Haskerdene Mill has most inside",
    "Discards: Tolverby Saws may have got worse",
    "Cost: Haskerdene Mill is most likely cheapest",
    "What a square will weigh",
    "A page for each supplier, to take along"
  ]);
});

it("suppliersReport(sample book) ranks suppliers by the chance to be cheapest, which add up to 100 % a species", () => {
  for (const species of ["ash", "maple"]) {
    const own = rows("cost-rank").filter(([name]) => name === species);
    const chances = own.map((row) => Number(row[3]));
    expect(chances).toEqual(chances.toSorted((a, b) => b - a));
    expect(chances.reduce((a, b) => a + b, 0)).toBeCloseTo(100, 0);
  }
});

it("suppliersReport says above the table of trips what one more lot teaches at most", () => {
  const values = rows("visit-value").map((row) => Number(row.at(-1)));
  const [species, supplier] = rows("visit-value")[values.indexOf(Math.max(...values))]!;
  const said = (of: Document) => [...of.querySelectorAll("main p")].map((node) => node.textContent!);
  expect(Math.max(...values)).toBeGreaterThan(1);
  expect(said(document).some((text) => text.startsWith(`One more lot teaches most of ${supplier} (${species})`))).toBe(
    true
  );
  expect(said(document).some((text) => text.includes("not worth the drive"))).toBe(false);
});

it("suppliersReport(sample book): shares of the spread add up to 100 %", () => {
  for (const row of rows("spread-split"))
    expect(row.slice(2).reduce((sum, text) => sum + Number(text), 0)).toBeCloseTo(100, 0);
});

it("suppliersReport(sample book) gives every pair its chance, and a verdict by it", () => {
  const pairs = rows("spread-pairs");
  expect(pairs).toHaveLength(15 + 6);
  for (const [, tighter, wider, , byLots, , squares, more, moreSquares, verdict] of pairs) {
    expect(verdict).toBe(byLots !== "" && Number(byLots!.replace("< ", "")) < 0.05 ? "tighter" : "cannot tell");
    // What is still to buy is never nothing beside "cannot tell", and a dash where told or where one has fewer than four lots.
    if (verdict === "tighter" || [tighter, wider].includes("Quillmoor Sawpit"))
      expect([more, moreSquares]).toEqual(["–", "–"]);
    else {
      expect(Number(more)).toBeGreaterThanOrEqual(1);
      expect(Number(moreSquares!.replace(/\D/g, ""))).toBeGreaterThan(Number(more));
    }
    expect(squares === "–" || Number(squares!.replace(/\D/g, "")) > 1).toBe(true);
  }
});

it("suppliersReport(sample book) has a page for each supplier, linked, with its own lots only", () => {
  expect(report.extra!.map(({file}) => file)).toHaveLength(7);
  const links = [...document.querySelectorAll("#pages ~ ul a, section[aria-labelledby=pages] a")].map((link) =>
    link.getAttribute("href")
  );
  expect(new Set(links)).toEqual(new Set(report.extra!.map(({file}) => file)));
  const lots = report.extra!.flatMap(({html}) =>
    [...new JSDOM(html).window.document.querySelectorAll("#lots-table tbody th")].map((cell) => cell.textContent)
  );
  expect(lots).toHaveLength(78);
  expect(new Set(lots).size).toBe(78);
});

it("a supplier's page has its discards by defect and by stage, raw, drawn and lately", () => {
  const {document: own} = new JSDOM(report.extra!.find(({file}) => file.includes("tolverby"))!.html).window;
  expect(own.querySelector(".lead li")!.textContent).toContain("Tolverby Saws may have got worse");
  const heads = [...own.querySelectorAll("#by-defect thead th")].map((head) => head.textContent);
  expect(heads).toEqual([
    "Defect",
    "Species",
    "Pieces",
    "Thrown out",
    "Raw (per 100)",
    "Drawn to the mean (per 100)",
    "Drawn, lately (per 100)"
  ]);
  const stages = [...own.querySelectorAll("#by-stage tbody th")].map((cell) => cell.textContent);
  expect([...new Set(stages)]).toEqual(["square", "rough-round", "second-round", "proud-round"]);
});

it("suppliersReport(a book just begun) leaves out what cannot be said, and still has a page for the supplier", () => {
  const young = reportOf(folderOf(texts({events: []})));
  const {document: page} = new JSDOM(young.html).window;
  expect(page.body.textContent).toContain("No supplier has lots enough yet");
  expect(page.querySelector("main")!.textContent).not.toMatch(/NaN|undefined|Infinity/);
  expect(young.extra!).toHaveLength(1);
  expect(young.extra![0]!.html).toContain("<h1>Quillmoor Sawpit</h1>");
});

it("suppliersReport(sample book) draws a share inside the window that rests on fewer than four lots hollow and without a line", () => {
  const few = report.figures
    .find(({id}) => id === "inside-window")!
    .table.rows.filter(({lots}) => (lots as number) < 4)
    .map(({supplier}) => supplier);
  expect(few).toEqual(["Quillmoor Sawpit"]);
  const titles = [...document.querySelectorAll("section[aria-labelledby=window] figure title")].map(
    ({textContent}) => textContent!
  );
  expect(titles.filter((title) => !/ to /.test(title)).every((title) => title.includes("Quillmoor Sawpit"))).toBe(true);
  expect(titles.some((title) => title.includes("Quillmoor Sawpit"))).toBe(true);
});

it("suppliersReport(sample book) gives the source of each published density", () => {
  const text = document.body.textContent!;
  expect(text).toMatch(/Published for european ash .*Global Wood Density Database.*rows 7205 and 7206; read\)/);
  expect(text).toMatch(/Published for sugar maple .*Global Wood Density Database.*row 268; read\)/);
});

it("supplierFile(name) is short and its own for each name, however long", () => {
  const names = ["Ä", "Tolverby Saws", `${"very ".repeat(80)}long`, `${"very ".repeat(80)}Long`, "../x", "x"];
  const files = names.map(supplierFile);
  expect(new Set(files).size).toBe(names.length);
  for (const file of files) expect(file).toMatch(/^supplier-[a-z0-9-]{1,80}\.html$/);
});

it("suppliersReport(a book with hours and miles of its trips) gives both for each usable shaft", () => {
  const events = ["turned,rough-round", "turned,second-round", "turned,proud-round", "turned,finished"].map(
    (what, i) => `2025-0${i + 3}-01,A1,${what},,,,`
  );
  const files = texts({events});
  const lots = files["lots.csv"]
    .replace("price_each", "price_each,trip_hours,trip_miles")
    .replace(",10\n", ",10,3,40\n");
  const trips = new JSDOM(reportOf(folderOf({...files, "lots.csv": lots})).html).window.document;
  const cells = [...trips.querySelectorAll("#trips tbody td")].map((cell) => cell.textContent);
  // Of the two squares one is a shaft inside the window, the other still a square: as many to be expected as the data let each.
  expect(cells.slice(0, 2)).toEqual(["1", "3.00"]);
  expect(cells.slice(3, 5)).toEqual(["1", "40"]);
  expect(document.querySelector("#trips")).toBeNull();
});

it("suppliersReport(sample book) has intervals of the shares outside the window, and none of any share with fewer than four lots", () => {
  const {table} = report.figures.find(({id}) => id === "inside-window")!;
  expect(table.rows).toHaveLength(10);
  for (const row of table.rows)
    for (const {key, low, high} of table.columns.filter(({unit}) => unit === "fraction")) {
      const known = [low, high].map((end) => end !== undefined && row[end] !== undefined);
      const wanted = row.supplier !== "Quillmoor Sawpit";
      expect(known, `${row.supplier} ${key}`).toEqual([wanted, wanted]);
    }
});

it("suppliersReport(sample book) names the suppliers too young for a change of density, and does not say they have not changed", () => {
  const text = document.querySelector("section[aria-labelledby=density]")!.textContent!;
  expect(text).toMatch(
    /Too few lots to tell a change from chance: [^.]*Ludmarsh Timber \(ash, 8\)[^.]*Quillmoor Sawpit \(ash, 2\)/
  );
  const said = /Of 4 suppliers old enough to look at, ([^.]*), no density changed/.exec(text)![1];
  expect(said).toBe("Fennaby Yard (ash), Fennaby Yard (maple), Tolverby Saws (ash), Tolverby Saws (maple)");
  expect(text).toContain("No range of Quillmoor Sawpit (ash)");
});

// Counted from lots.csv itself: squares_bought is column 5, squares_looked_at column 6.
it("suppliersReport(sample book) sets squares looked at against squares taken, supplier by supplier", () => {
  const table = rows("looked-at");
  const lots = readFileSync("sample-data/lots.csv", "utf8")
    .split("\n")
    .map((line) => line.split(","))
    .filter(
      ([, , supplier, species, , looked]) => supplier === "Tolverby Saws" && species === "maple" && looked !== ""
    );
  const [taken, looked] = [4, 5].map((at) => lots.reduce((sum, lot) => sum + Number(lot[at]), 0)) as [number, number];
  const row = table.find(([species, supplier]) => species === "maple" && supplier === "Tolverby Saws")!;
  expect(row.slice(2).map((cell) => Number(cell.replace(/[^\d.]/g, "")))).toEqual([
    lots.length,
    looked,
    taken,
    Number((looked / taken).toFixed(2))
  ]);
});

/** Two mills of six lots, the first tight, and a young one of two lots that is tighter still and all inside. */
function withYoungLeader(young: boolean) {
  const made = (letter: string, supplier: string, count: number, masses: readonly number[]) =>
    Array.from({length: count}, (_, i) => ({
      lot: `${letter}${i},2024-0${i + 1}-01,${supplier},ash,${masses.length},10`,
      squares: masses.map((mass, k) => `${letter}${i}-${k},${letter}${i},1500,40,40,${mass + i},12`)
    }));
  // 2.4 litres at 12 % moisture: 1680 g are 700 kg/m³.
  const all = [
    ...made("T", "Tight Mill", 6, [1640, 1660, 1680, 1700, 1500]),
    ...made("W", "Wide Mill", 6, [1300, 1500, 1680, 1900, 2100]),
    ...(young ? made("Y", "Young Yard", 2, [1675, 1680, 1685, 1678, 1682]) : [])
  ];
  const files = texts({lots: all.map(({lot}) => lot), squares: all.flatMap(({squares}) => squares), events: []});
  return new JSDOM(reportOf(folderOf(files)).html).window.document;
}

it("suppliersReport calls a supplier tightest and most inside of those with four lots only, where a young one is better by its value", () => {
  const heads = (page: Document) =>
    [...page.querySelectorAll("main > section > h2")].map((node) => node.textContent!).slice(1, 3);
  const alone = withYoungLeader(false);
  expect(heads(alone)).toEqual(["Density: Tight Mill is tightest", "Window: Tight Mill has most inside"]);
  expect(alone.querySelector(".lead")!.textContent).toMatch(/the largest share \(/);
  const beaten = withYoungLeader(true);
  const ofThem = "of the suppliers with four lots or more";
  expect(heads(beaten)).toEqual([
    `Density: Tight Mill is tightest ${ofThem}`,
    `Window: Tight Mill has most inside ${ofThem}`
  ]);
  expect(beaten.querySelector(".lead")!.textContent).toContain(`the largest share ${ofThem} (`);
});
