import {expect, test} from "vitest";
import type {DemandBackTest} from "../../../../lib/buying/demandBackTest.ts";
import {demandBackTest} from "../../../../lib/buying/demandBackTest.ts";
import {demandForecast} from "../../../../lib/buying/demandForecast.ts";
import {htmlText} from "../../../../lib/report/html.ts";
import {draw} from "../../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../../scripts/io/readBook.ts";
import {makeComposer} from "../../../../scripts/pages/compose.ts";
import {guidePage, guideText} from "../../../../scripts/pages/guide.ts";
import {
  backTestSentence,
  demandMethods,
  demandParts,
  growthSentence,
  seasonSentence,
  speciesDemand
} from "../../../../scripts/pages/season/demand.ts";
import {orderBook} from "../../../buying/orderBook.ts";
import {now, truth} from "../../../recovery/sample.ts";

const until = "2028-05-31";
const {book, ...rest} = readBook("sample-data");
const read = bookAsOf({...rest, book: book!}, truth.asOf);

/** The part of the page as text, what the owner says put into the settings; its tables beside it. */
function partOf(said: object = {}, species = "ash", histories = now) {
  const own = {...histories, settings: {...histories.settings, demand: {[species]: said}}} as typeof now;
  const {composer, tables, figures} = makeComposer(
    {currency: read.book.settings.money.currency, asOf: read.asOf},
    {notebooks: [], draw}
  );
  const demand = speciesDemand(own, species, until);
  const {heading, parts} = demandParts(demand, composer);
  const html = parts.map(htmlText).join("");
  const text = html
    .replaceAll(/<svg[\s\S]*?<\/svg>/g, "")
    .replaceAll(/<[^>]+>/g, " ")
    .replaceAll(/[\s\u00a0]+/g, " ");
  const rows = (id: string) => tables.find((table) => table.id === id)?.rows ?? [];
  return {demand, heading, html, text, rows, figures: figures.map(({id}) => id)};
}

test.each(["ash", "maple"])(
  "demandParts(sample book, %s) states growth, season, window, losses and the past",
  (species) => {
    const {demand, heading, text, rows, figures} = partOf({}, species);
    const {planned, backTest} = demand;
    expect(heading).toContain(`about ${Math.round(planned!.mean + planned!.known)} shafts wanted until ${until}`);
    expect(text).toContain("Orders have grown");
    expect(text).toContain("In October, the busiest month,");
    expect(text).toContain(`${backTest!.inside} of ${backTest!.forecasts.length} held in their 95 % interval`);
    expect(figures).toEqual([`demand-${species}`, `demand-back-test-${species}`]);
    const sum = rows(`demand-sum-${species}`);
    expect(sum.map(({what}) => what)).toEqual([
      "Orders to come",
      "For comparison: the last twelve months’ level",
      "Ordered and not yet served",
      "Wanted in all",
      "Lost so far for want of a shaft"
    ]);
    // Counted in orders.csv.
    const lost = now.orders.filter((order) => order.species === species).reduce((all, {lost = 0}) => all + lost, 0);
    expect(lost).toBeGreaterThan(0);
    expect(sum.at(-1)!.shafts).toBe(lost);
    const ordered = now.orders
      .filter((order) => order.species === species)
      .reduce((all, {quantity}) => all + quantity, 0);
    expect(rows(`demand-window-${species}`).reduce((all, {shafts}) => all + Number(shafts), 0)).toBe(ordered);
  }
);

test("demandParts shows the owner's number beside the book's, and which word had no effect", () => {
  const {text, rows, demand} = partOf({shafts: 400, low: 300, high: 500, growthPct: 3, lostPct: 4, bigOrder: 25});
  expect(text).toContain(
    "workshop.json says: your own number of ash shafts to come; 25 shafts certain beside the rest."
  );
  expect(text).toContain("growthPct and lostPct have no effect");
  const own = demandForecast(now, "ash", until)!;
  expect(text).toContain(`The book by itself says ${Math.round(own.mean)}`);
  const shafts = Object.fromEntries(rows("demand-sum-ash").map(({what, shafts}) => [what, shafts]));
  expect(shafts).toMatchObject({
    "Orders to come, by the book alone": own.mean,
    "Orders to come, by your word": 400,
    "Big order": 25,
    "Wanted in all": 425 + demand.planned!.open
  });
});

test("demandParts(a word that leaves the number to come alone) shows no second number", () => {
  const {text, rows} = partOf({bigOrder: 25});
  expect(text).toContain("workshop.json says: 25 shafts certain");
  expect(text).not.toContain("The book by itself");
  expect(rows("demand-sum-ash").map(({what}) => what)).not.toContain("Orders to come, by your word");
});

test("demandParts(growth and losses) says both in words and what the plan takes", () => {
  const {text, demand} = partOf({growthPct: -5, lostPct: 8});
  expect(text).toContain("growth of −5.0 % a year from now on; that of 100 shafts asked for 8 are not in the book");
  expect(text).toContain(`The plan takes ${Math.round(demand.planned!.mean)}`);
});

test("demandParts(a book too young) says what is missing and where to write a number; with one it goes on", () => {
  const young = orderBook("2026-08", [3, 4, 5], "2026-10-31");
  const without = partOf({}, "ash", young);
  expect(without.heading).toBe("Ash: demand cannot be said yet");
  expect(without.text).toContain("workshop.json: demand, ash, shafts");
  const given = partOf({shafts: 90}, "ash", young);
  expect(given.heading).toContain("about 102 shafts wanted");
  expect(given.text).toContain("The book holds too few ash orders for a forecast of its own");
  expect(given.text).toContain("No forecast of the past can be held against what came");
});

test("demandParts escapes a species' name", () => {
  const {html} = partOf({shafts: 5}, "<b>ash</b>", {
    ...orderBook("2026-08", [3], "2026-10-31"),
    settings: {...now.settings, species: {"<b>ash</b>": now.settings.species.ash!}}
  } as typeof now);
  expect(html).not.toContain("<b>ash");
  expect(html).toContain("&lt;b&gt;ash");
});

const forecast = demandForecast(now, "ash", until)!;

test("growthSentence tells growth, shrinking or neither only where the whole interval does", () => {
  const said = (growthFraction: number, growthLow: number, growthHigh: number) =>
    growthSentence({...forecast, growthFraction, growthLow, growthHigh});
  expect(said(0.1, 0.02, 0.2)).toBe("Orders have grown 10.0\u00a0% a year (95\u00a0% interval 2.0 to 20.0\u00a0%).");
  expect(said(-0.1, -0.2, -0.02)).toContain("Orders have changed by −10.0\u00a0% a year");
  expect(said(0.1, -0.02, 0.2)).toContain("No growth of orders beyond chance: 10.0\u00a0% a year");
  const {growthFraction: _g, growthLow: _l, growthHigh: _h, ...young} = forecast;
  expect(growthSentence(young)).toContain("Two years of orders are needed");
});

test("seasonSentence tells a season only where the months bear it out", () => {
  expect(seasonSentence(forecast)).toContain("as in May, the quietest");
  expect(seasonSentence({...forecast, season: {...forecast.season!, weight: 0.9}})).toBe(
    "The months do not bear out a season beyond chance."
  );
  const {season: _, ...young} = forecast;
  expect(seasonSentence(young)).toBe("A season cannot be told from 51 months.");
});

test("backTestSentence says which way the forecasts erred, and how few stand for themselves", () => {
  const rows = demandBackTest(now, "ash")!;
  expect(backTestSentence({...rows, meanErrorFraction: -0.1})).toContain("on average 10.0\u00a0% fewer came");
  expect(backTestSentence({...rows, meanErrorFraction: 0.1, apart: 1})).toContain(
    "10.0\u00a0% more came than was forecast. They all"
  );
  const {
    offShafts: _,
    beforeOffShafts: _b,
    ...young
  } = {...rows, forecasts: rows.forecasts.slice(0, 1), apart: 1, inside: 1};
  expect(backTestSentence(young as DemandBackTest)).toMatch(/1 of 1 held .* than was forecast\.$/);
});

test("each method of demand leads to a heading of the guide", () => {
  const guide = guidePage(guideText());
  for (const {guide: anchor} of demandMethods) expect(guide).toContain(`id="${anchor}"`);
});
