import {expect, test} from "vitest";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {moistureLosses} from "../../lib/seasoning/moistureLosses.ts";
import {storeAir} from "../../lib/seasoning/storeAir.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {now, truth} from "./sample.ts";

// The forecast's mean against the truth's expectation: the interval is wider than needed, as it also holds the scatter of the months.
test.each(["ash", "maple"])("demandForecast(sample book, %s, a year on) covers the true expectation", (species) => {
  const until = dayText(dayNumber(`${Number(truth.asOf.slice(0, 4)) + 1}${truth.asOf.slice(4)}`));
  const {mean, sd} = demandForecast(now, species, until)!;
  const want = truth.demand[species].parameterNextTwelveMonths;
  expect(Math.abs(mean - want)).toBeLessThan(1.96 * sd);
  // An interval that could not fail would be one as wide as the number itself.
  expect(1.96 * sd).toBeLessThan(0.5 * mean);
});

test.each(["ash", "maple"])("demandForecast(sample book, %s) covers the growth of a year", (species) => {
  const {growthLow, growthHigh} = demandForecast(now, species, "2027-05-31")!;
  expect(growthLow!).toBeLessThan(truth.demand.growthPerYear - 1);
  expect(growthHigh!).toBeGreaterThan(truth.demand.growthPerYear - 1);
});

// The season that begins next June: what is forecast until its end less what is forecast until its eve.
test.each(["ash", "maple"])("demandForecast(sample book, %s) covers the season from June", (species) => {
  const [eve, end] = ["2027-05-31", "2028-05-31"].map((day) => demandForecast(now, species, day)!);
  const want = truth.demand[species].parameterSeasonFrom202706;
  expect(Math.abs(end!.mean - eve!.mean - want)).toBeLessThan(1.96 * Math.sqrt(end!.sd ** 2 - eve!.sd ** 2));
});

const drying = (kind: string) =>
  now.pieces.filter(
    ({supplier}) => truth.suppliers.find((row: {supplier: string}) => row.supplier === supplier)?.drying === kind
  );

// Lots are 0.9 (air) or 0.35 (kiln) apart, so the mean of k lots is good to sdBetweenLots/√k: four of these, and up to two days of drying
// before the measuring, some 0.2 points.
test.each(["air", "kiln"])("moistureLosses(sample book) begins at the moisture at purchase: %s-dried", (kind) => {
  const own = drying(kind);
  const lots = new Set(own.map(({lot}) => lot)).size;
  const {mean, sdBetweenLots} = truth.moistureAtPurchase[kind];
  const rows = moistureLosses({...now, pieces: own}).filter(({stage}) => stage === "square");
  const total = rows.reduce((sum, {pieces}) => sum + pieces, 0);
  const start = rows.reduce((sum, {pieces, startPct}) => sum + pieces * startPct!, 0) / total;
  expect(Math.abs(start - mean)).toBeLessThan((4 * sdBetweenLots) / Math.sqrt(lots) + 0.2);
});

// In air that would bring it to E a piece goes from M₀ to E + (M₀ − E)·e^(−t/τ), τ from the truth. E swings with the seasons by a point or
// two about its mean, and the book's mean over five years is used, though rests fall unevenly over the year: 0.8 points of allowance, less
// than a quarter of the loss of the first rest.
test("moistureLosses(sample book): air-dried squares end where the drying time of the truth brings them", () => {
  const climate = readBook("sample-data").book!.climate;
  const {equilibriumPct} = storeAir(climate, now.asOf, {days: now.asOf - dayNumber(truth.firstDay) + 1})!;
  for (const {stage, startPct, endPct, restDays} of moistureLosses({...now, pieces: drying("air")})) {
    const left = Math.exp(-restDays! / truth.dryingTimeConstantDays[stage]);
    expect(Math.abs(endPct! - (equilibriumPct + (startPct! - equilibriumPct) * left)), stage).toBeLessThan(0.8);
  }
});
