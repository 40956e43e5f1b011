import {expect, test} from "vitest";
import {bookCounts} from "../../../lib/book/bookCounts.ts";
import {stageTimes} from "../../../lib/buying/stageTimes.ts";
import {discardChart} from "../../../lib/defects/discardChart.ts";
import {discardRates} from "../../../lib/defects/discardRates.ts";
import {supplierDiscards} from "../../../lib/defects/supplierDiscards.ts";
import {densityBySupplier} from "../../../lib/density/densityBySupplier.ts";
import {restLosses} from "../../../lib/seasoning/restLosses.ts";
import {shaftCost} from "../../../lib/yield/shaftCost.ts";
import {stageYields} from "../../../lib/yield/stageYields.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {allResults} from "../../../scripts/results/allResults.ts";
import {planSeason} from "../../../scripts/season/planSeason.ts";

const found = readBook("sample-data");
const sample = bookAsOf({...found, book: found.book!});
const {histories: now} = sample;
const results = allResults(bookCounts(now));

test("allResults(counts of the sample book): what the pages say from its pieces", () => {
  expect(results.yields).toEqual(stageYields(now, now.pieces));
  expect(results.discards).toEqual(discardRates(now, now.pieces));
  expect(results.discardsByMonth).toEqual(discardChart(now, now.pieces));
  expect(results.discardsBySupplier).toEqual(supplierDiscards(now));
  expect(results.shaftCosts).toEqual(shaftCost(now, {workEach: now.settings.money.turningCostPerSquare}));
  for (const {species, ...own} of results.species) {
    const pieces = now.pieces.filter((piece) => piece.species === species);
    expect(own.restLosses).toEqual(restLosses(now, pieces));
    expect(own.stageTimes).toEqual(stageTimes(now, pieces));
  }
  const plan = planSeason(sample);
  expect(results.season.plan!.profit).toBe(plan.plan!.profit);
  expect(results.season.plan!.purchases).toEqual(plan.plan!.purchases);
});

// Densities are counted to a tenth of a kg/m³, so no figure of them moves by more than half of that, and a spread by much less.
test("allResults(counts of the sample book): densities to a twentieth of a kg/m³", () => {
  const direct = densityBySupplier(now);
  expect(results.densities.map(({species, supplier, squares}) => [species, supplier, squares]).sort()).toEqual(
    direct.map(({species, supplier, squares}) => [species, supplier, squares]).sort()
  );
  for (const row of results.densities) {
    const other = direct.find(({species, supplier}) => species === row.species && supplier === row.supplier)!;
    for (const key of ["meanKgM3", "sdKgM3", "lowestKgM3", "medianKgM3", "highestKgM3"] as const)
      expect(Math.abs(row[key]! - other[key]!)).toBeLessThanOrEqual(0.05 + 1e-9);
  }
});

test("allResults: every square bought is in one place, for each species", () => {
  for (const {closes} of results.balance) expect(closes).toBe(true);
  expect(results.balance.map(({species}) => species)).toEqual(["ash", "maple"]);
});
