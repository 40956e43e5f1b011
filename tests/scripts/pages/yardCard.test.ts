import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {yardWeight} from "../../../lib/density/yardCard.ts";
import {gPerOunce} from "../../../lib/wood/units.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {yardCardReport} from "../../../scripts/pages/yardCard.ts";

const found = readBook("sample-data");
const report = yardCardReport(bookAsOf({...found, book: found.book!}));
const {document} = new JSDOM(report.html).window;
const panel = (heading: string) =>
  [...document.querySelectorAll(".panel")].find((one) => one.querySelector("h2")?.textContent === heading)!;

it("yardCardReport(book) has a panel for how to use it, one a species, and one for what to look for", () => {
  expect([...document.querySelectorAll(".panel > h1, .panel > h2")].map((node) => node.textContent)).toEqual([
    "Yard card",
    "Ash",
    "Maple",
    "Look, then refuse"
  ]);
});

it("yardCardReport(book) gives in each cell the weights of that moisture and side, in g and oz", () => {
  const rows = [...panel("Ash").querySelectorAll("tbody tr")];
  expect(rows.map((row) => row.querySelector("th")!.textContent)).toEqual(
    [8, 10, 12, 14, 16, 18, 20].map((one) => `${one}\u00a0%`)
  );
  const sides = [...panel("Ash").querySelectorAll("thead .num")].map((head) => Number.parseInt(head.textContent!, 10));
  expect(sides).toEqual([39, 40, 41]);
  const {settings} = found.book!;
  const weight = yardWeight({
    sideMm: 41,
    lengthMm: 1510,
    moisturePct: 16,
    window: {low: 650, high: 735},
    wood: "european-ash",
    accuracy: settings.accuracy
  });
  const text = rows[4]!.querySelectorAll("td")[2]!.textContent!;
  expect(text).toContain(`${Math.ceil(weight.sureLowG!)}–${Math.floor(weight.sureHighG!)}`);
  expect(text).toContain(`maybe ${Math.floor(weight.maybeLowG)}–${Math.ceil(weight.maybeHighG)}`);
});

it("yardCardReport(book) rounds what is sure inwards and maybe outwards, in g and oz, in every cell and in its sentence", () => {
  for (const [k, heading] of ["Ash", "Maple"].entries()) {
    const cells = [...panel(heading).querySelectorAll("tbody td")];
    const weights = report.tables[k]!.rows as Record<string, number>[];
    expect(cells).toHaveLength(weights.length);
    cells.forEach((cell, i) => {
      const {sureLowG, sureHighG, maybeLowG, maybeHighG} = weights[i]!;
      const bold = cell.querySelector("b")!.textContent!.split("–").map(Number) as [number, number];
      const [maybeLow, maybeHigh] = cell.querySelector(".maybe")!.textContent!.match(/\d+/g)!.map(Number);
      expect(bold[0]).toBeGreaterThanOrEqual(sureLowG!);
      expect(bold[1]).toBeLessThanOrEqual(sureHighG!);
      expect(bold[0] - sureLowG! + (sureHighG! - bold[1])).toBeLessThan(2);
      expect(maybeLow).toBeLessThanOrEqual(maybeLowG!);
      expect(maybeHigh).toBeGreaterThanOrEqual(maybeHighG!);
      const ounces = cell.querySelector("small")!.textContent!.replace(" oz", "").split("–").map(Number);
      expect(ounces[0]! * gPerOunce).toBeGreaterThanOrEqual(sureLowG!);
      expect(ounces[1]! * gPerOunce).toBeLessThanOrEqual(sureHighG!);
    });
    const usual = weights.find(({moisturePct}, i) => moisturePct === 12 && i % 3 === 1)!;
    const said = report.data.lead[k]!.replace(/\u202f/g, "").match(/between (\d+) and (\d+)/)!;
    expect([Number(said[1]), Number(said[2])]).toEqual([Math.ceil(usual.sureLowG!), Math.floor(usual.sureHighG!)]);
  }
});

it("yardCardReport(book) says which slope of grain to refuse, and marks steeper ones", () => {
  const text = panel("Look, then refuse").textContent!;
  expect(text).toContain(
    "Refuse for a shaft what is steeper than 1 in 15: what leaves the edge by more than 20 mm over 300 mm"
  );
  expect(text).toContain("Common practice, no source.");
  expect(text).not.toContain("may leave");
});

/** The card of a book of three species: the maple lots of one supplier are called birch. */
function threeSpecies() {
  const {book} = found;
  const settings = {...book!.settings, species: {...book!.settings.species, birch: book!.settings.species.maple!}};
  const lots = book!.lots.map((lot) =>
    lot.species === "maple" && lot.supplier === "Tolverby Saws" ? {...lot, species: "birch"} : lot
  );
  return yardCardReport(bookAsOf({...found, book: {...book!, settings, lots, orders: []}}));
}

it("yardCardReport(book) lays out one sheet for every two species, and its foot says how many", () => {
  const sheets = (page: Document) =>
    [...page.querySelectorAll("main > .sheet")].map((sheet) =>
      [...sheet.querySelectorAll("h1, h2")].map((head) => head.textContent)
    );
  expect(sheets(document)).toEqual([["Yard card", "Ash", "Maple", "Look, then refuse"]]);
  expect(document.querySelector("footer")!.textContent).toContain("Prints on one A4 sheet,");
  const {document: three} = new JSDOM(threeSpecies().html).window;
  expect(sheets(three)).toEqual([["Yard card", "Ash", "Maple", "Look, then refuse"], ["Birch"]]);
  expect(three.querySelector("footer")!.textContent).toContain("Prints on 2 A4 sheets, two species a sheet");
  const ids = [...three.querySelectorAll("[id]")].map(({id}) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const panel of three.querySelectorAll(".panel"))
    expect(three.getElementById(panel.getAttribute("aria-labelledby")!)).not.toBeNull();
});

// Wood Handbook, FPL-GTR-190 (2010), table 5-12. Tag: place read, values from memory. 300 mm at 1 in 20 is 15 mm (arithmetic).
it("yardCardReport(book) shows the slope of grain as a ratio over a length with the strength it leaves", () => {
  const rows = [...panel("Look, then refuse").querySelectorAll("tbody tr")].map((row) => row.textContent);
  expect(rows).toEqual([
    "1 in 2512 mm96\u00a0%95\u00a0%",
    "1 in 2015 mm93\u00a0%90\u00a0%",
    "1 in 1520 mm89\u00a0%81\u00a0%",
    "1 in 10 refuse30 mm81\u00a0%62\u00a0%"
  ]);
});

it("yardCardReport(book) has a sentence a species for the index and every weight as data", () => {
  expect(report.data.lead).toHaveLength(2);
  expect(report.data.lead[0]).toMatch(/^Ash of 40 × 40 × 1\u202f510 mm at 12 % moisture is worth buying between /);
  expect(report.tables.map(({rows}) => rows.length)).toEqual([21, 21]);
});

it("yardCardReport(a book whose meter knows nothing) says that the instruments cannot tell, and species of other letters keep tables of their own", () => {
  const {book} = found;
  const settings = {
    ...book!.settings,
    accuracy: {...book!.settings.accuracy, meterPct: 15},
    species: {ясень: book!.settings.species.ash!, клён: book!.settings.species.maple!}
  };
  const renamed = {ash: "ясень", maple: "клён"} as Record<string, string>;
  const lots = book!.lots.map((lot) => ({...lot, species: renamed[lot.species]!}));
  const blind = yardCardReport(bookAsOf({...found, book: {...book!, settings, lots, orders: []}}));
  expect(blind.data.lead[0]).toBe("Ясень: the instruments, as set, cannot tell whether a square lies in the window.");
  expect(new Set(blind.tables.map(({id}) => id)).size).toBe(2);
});
