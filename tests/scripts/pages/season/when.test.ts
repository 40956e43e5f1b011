import {describe, expect, it} from "vitest";
import {dayNumber, dayText} from "../../../../lib/book/day.ts";
import {demandForecast} from "../../../../lib/buying/demandForecast.ts";
import {nextSeason} from "../../../../lib/buying/leadTime.ts";
import {purchaseOutcome} from "../../../../lib/buying/purchasePlan.ts";
import {supply} from "../../../../lib/buying/supply.ts";
import {figureFaults} from "../../../../lib/figures/lint.ts";
import {html, htmlText} from "../../../../lib/report/html.ts";
import {finishChance} from "../../../../lib/yield/finishChance.ts";
import {draw} from "../../../../scripts/draw.ts";
import {type BookAsOf, bookAsOf, readBook} from "../../../../scripts/io/readBook.ts";
import {makeComposer} from "../../../../scripts/pages/compose.ts";
import {monthsText, type WhenInput, whenMethod, whenNumbers, whenParts} from "../../../../scripts/pages/season/when.ts";
import {texts} from "../../../book/smallBook.ts";
import {folderOf} from "../../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};
const open = (folder: string, asOf?: string) => {
  const found = readBook(folder);
  return bookAsOf({...found, book: found.book!}, asOf);
};
const sample = open("sample-data");
const money = {price: 140, shortageCost: 25, leftoverValue: 15};

function inputOf({histories: now}: BookAsOf, species: string, squares: number): WhenInput {
  const season = nextSeason(now);
  const pieces = now.pieces.filter((piece) => piece.species === species);
  const chanceWithin = (withinDays: number) => finishChance(now, pieces, {withinDays});
  const inTime = chanceWithin(dayNumber(season.endsOn) - now.asOf);
  const {rack, pipeline, offers} = supply(now, species, finishChance(now, pieces), {inTime});
  const {mean = 30, size, open = 0} = demandForecast(now, species, season.endsOn) ?? {};
  return {
    histories: now,
    species,
    season,
    rack,
    pipeline,
    offers,
    chanceWithin,
    demand: {mean, known: open, ...(size !== undefined && {size})},
    orders: squares > 0 ? [{supplier: offers[0]!.supplier, squares}] : [],
    squaresCost: 12 * squares,
    price: money.price
  };
}

function partsOf(read: BookAsOf, input: WhenInput) {
  const {composer, figures, tables} = makeComposer(
    {currency: read.book.settings.money.currency, asOf: read.asOf},
    beside
  );
  const parts = whenParts(input, composer);
  return {...parts, text: htmlText(html`${parts.body}`), figures, tables};
}

describe.each([
  ["ash", 300],
  ["maple", 200]
])("whenParts(sample book, %s)", (species, squares) => {
  const input = inputOf(sample, species, squares);
  const {sentences, heading, text, figures, tables} = partsOf(sample, input);
  const when = whenNumbers(input);

  it("has sound figures: calendar, stock and cash, and the tables beside them", () => {
    expect(figures.map(({id}) => id)).toEqual([`calendar-${species}`, `stock-ahead-${species}`, `cash-${species}`]);
    expect(figures.flatMap(figureFaults)).toEqual([]);
    const ids = whenMethod.map(({id}) => id);
    for (const {method} of figures) expect(ids).toContain(method);
    expect(tables.map(({id}) => id)).toEqual(
      expect.arrayContaining([`buy-by-${species}`, `serve-by-${species}`, `stage-times-${species}`])
    );
  });

  it("says a day that is past is past, and what today's purchase can still reach", () => {
    expect(when.leads.at(-1)!.daysLeft).toBeLessThan(0);
    expect(when.boughtOn).toBe(dayText(sample.histories.asOf));
    expect(sentences[0]).toMatch(/it is \d+ days? too late: bought today \d/);
    expect(heading).toMatch(/bought today \d.* of the shafts are in time for the season’s start$/);
    expect(when.inTimeLow!).toBeLessThan(when.inTimeFraction!);
    expect(when.inTimeHigh!).toBeGreaterThan(when.inTimeFraction!);
  });

  it("tells when the stock runs dry, as its own months do", () => {
    const short = when.without.months.find(({netMean}) => netMean < 0)!;
    expect(sentences.at(-1)).toContain(`runs dry in ${short.month} on average`);
    expect(text).toContain(`in ${short.month} if nothing is bought`);
  });

  it("ends at the plan's own outcome, were all new squares finished in time", () => {
    const {finished, pipeline, offers, demand} = {...input, finished: input.rack};
    const want = purchaseOutcome({finished, pipeline, offers, demand, money}, {orders: [...input.orders]});
    expect(when.bought!.months.at(-1)!.service).toBeCloseTo(want.service, 8);
  });

  it("pays for squares and work what the plan does, by the end", () => {
    const last = when.cash!.months.at(-1)!;
    expect(last.squares + last.work).toBeCloseTo(squares * (12 + sample.book.settings.money.turningCostPerSquare), 6);
  });
});

it("whenParts without a purchase has neither cash nor days for the orders", () => {
  const {figures, tables, text} = partsOf(sample, inputOf(sample, "ash", 0));
  expect(figures.map(({id}) => id)).toEqual(["calendar-ash", "stock-ahead-ash"]);
  expect(tables.map(({id}) => id)).not.toContain("serve-by-ash");
  expect(text).not.toContain("undefined");
});

it("whenParts with days to spare tells the day to buy by, and follows a purchase of the first of them", () => {
  const early = open("sample-data", "2025-06-30");
  const input = inputOf(early, "ash", 150);
  const {sentences, heading} = partsOf(early, input);
  const when = whenNumbers(input);
  const sure = when.leads.find(({shareFraction}) => shareFraction === 0.9)!;
  expect(sure.daysLeft).toBeGreaterThan(0);
  expect(heading).toBe(`Ash: in the store by ${sure.buyBy} for the season’s start`);
  expect(sentences[0]).toContain(`${sure.daysLeft} days from now`);
  const wanted = [sure.buyBy, when.lastDays.find(({serviceGoal}) => serviceGoal === 0.9)?.buyBy];
  expect(when.boughtOn).toBe(wanted.filter((day) => day !== undefined).sort()[0]);
});

it("whenParts of a book in which nothing was finished yet says so, and still counts the stock", () => {
  const young = open(folderOf(texts({events: []})));
  const {heading, figures, text} = partsOf(young, inputOf(young, "ash", 0));
  expect(heading).toBe("Ash: no day can be said, as none was finished yet");
  expect(figures.map(({id}) => id)).toEqual(["stock-ahead-ash"]);
  expect(figures.flatMap(figureFaults)).toEqual([]);
  expect(text).toContain("nobody can say how long it takes");
});

it("monthsText joins months that follow each other", () => {
  expect(monthsText([])).toBe("–");
  expect(monthsText(["2026-11"])).toBe("2026-11");
  expect(monthsText(["2026-11", "2026-12", "2027-01"])).toBe("2026-11 to 2027-01");
  expect(monthsText(["2026-11", "2027-01", "2027-02", "2027-05"])).toBe("2026-11, 2027-01 to 2027-02 and 2027-05");
});
