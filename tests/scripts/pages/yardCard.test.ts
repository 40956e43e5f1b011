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
  expect(text).toContain(`${Math.round(weight.sureLowG!)}–${Math.round(weight.sureHighG!)}`);
  expect(text).toContain(
    `${(weight.sureLowG! / gPerOunce).toFixed(1)}–${(weight.sureHighG! / gPerOunce).toFixed(1)} oz`
  );
  expect(text).toContain(`maybe ${Math.round(weight.maybeLowG)}–${Math.round(weight.maybeHighG)}`);
});

// Wood Handbook, FPL-GTR-190 (2010), table 5-12. Tag: place read, values from memory. 300 mm at 1 in 20 is 15 mm (arithmetic).
it("yardCardReport(book) shows the slope of grain as a ratio over a length with the strength it leaves", () => {
  const rows = [...panel("Look, then refuse").querySelectorAll("tbody tr")].map((row) => row.textContent);
  expect(rows).toEqual([
    "1 in 2512 mm96\u00a0%95\u00a0%",
    "1 in 2015 mm93\u00a0%90\u00a0%",
    "1 in 1520 mm89\u00a0%81\u00a0%",
    "1 in 1030 mm81\u00a0%62\u00a0%"
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
