import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {describe, expect, test} from "vitest";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
import {densityRange} from "../../lib/density/densityRange.ts";
import {spreadSources} from "../../lib/density/spreadSources.ts";
import {spreadSplit} from "../../lib/density/spreadSplit.ts";
import {fewestCovering, now, truth, within} from "./sample.ts";

interface Truth {
  supplier: string;
  species: string;
  mean: number;
  sdBetweenLots: number;
  sdWithinLot: number;
  sdTotal: number;
  shareInWindow: number;
  realised: {mean: number; sd: number; shareInWindow: number};
}
const of = ({supplier, species}: {supplier: string; species: string}): Truth =>
  truth.density.find((row: Truth) => row.supplier === supplier && row.species === species);

const rows = densityBySupplier(now);
const known = rows.filter(({meanLow}) => meanLow !== undefined);

// The estimand is the parameter: what the supplier's next lot will be.
describe("densityBySupplier(sample book)", () => {
  test("has a row for every supplier and species of the truth", () => {
    expect(rows.length).toBe(truth.density.length);
    expect(known.length).toBeGreaterThanOrEqual(8);
  });

  test("covers the true means of so many suppliers as chance allows", () => {
    const covered = known.filter((row) => within(of(row).mean, row.meanLow, row.meanHigh));
    expect(covered.length).toBeGreaterThanOrEqual(fewestCovering(known.length));
  });

  test("covers the true standard deviations of so many as chance allows", () => {
    const covered = known.filter((row) => within(of(row).sdTotal, row.sdLow, row.sdHigh));
    expect(covered.length).toBeGreaterThanOrEqual(fewestCovering(known.length));
  });

  test("covers the true shares in the window of so many as chance allows", () => {
    const covered = rows.filter((row) => within(of(row).shareInWindow, row.insideLow, row.insideHigh));
    expect(covered.length).toBeGreaterThanOrEqual(fewestCovering(rows.length));
  });

  // Only measuring lies between the two: a density carries some 4 kg/m³ of error, its mean 4/√n, and √(17² + 4²) − 17 = 0.5 for the tightest;
  // the share in the window moves by the squares near its ends, some 4 % of them.
  test("is close to what these very squares are", () => {
    for (const row of rows) {
      const {realised} = of(row);
      const name = `${row.supplier} ${row.species}`;
      expect(Math.abs(row.meanKgM3 - realised.mean), name).toBeLessThan((4 * 4.4) / Math.sqrt(row.squares));
      expect(row.sdKgM3! - realised.sd, name).toBeGreaterThan(-1);
      expect(row.sdKgM3! - realised.sd, name).toBeLessThan(1.5);
      expect(Math.abs(row.insideFraction - realised.shareInWindow), name).toBeLessThan(0.04);
    }
  });
});

describe("compareSpread(sample book)", () => {
  const least = (species: string): string =>
    truth.density
      .filter((row: Truth) => row.species === species)
      .toSorted((a: Truth, b: Truth) => a.sdTotal - b.sdTotal)[0].supplier;

  test.each(compareSpread(now))("finds the tightest supplier of $species tighter than all with four lots", (row) => {
    const tightest = least(row.species);
    const pairs = row.pairs.filter(({tighter, wider}) => tighter === tightest || wider === tightest);
    expect(pairs.length).toBe(row.suppliers - 1);
    for (const {tighter, ratioLow, verdict} of pairs) {
      expect(tighter).toBe(tightest);
      expect(verdict).toBe(ratioLow === undefined ? "cannot tell" : "tighter");
    }
    expect(row.p).toBeLessThan(1e-6);
  });

  test("calls nobody tighter who is truly wider by more than a tenth", () => {
    for (const {species, pairs} of compareSpread(now))
      for (const {tighter, wider, verdict} of pairs) {
        const ratio = of({supplier: tighter, species}).sdTotal / of({supplier: wider, species}).sdTotal;
        if (verdict === "tighter") expect(ratio, `${tighter} and ${wider}`).toBeLessThan(1.1);
      }
  });
});

// A within-lot SD from n − k squares has the relative error 1/√(2(n − k)), 3 to 7 %; four of them and the measuring error (4 of 14 adds 4 %).
// A between-lots SD from 6 to 10 lots is good to a third or so: a factor of 2.5 either way is asked.
test("spreadSources(sample book) splits the spread as it was made, and measuring is what was put in", () => {
  for (const row of spreadSources(now).filter(({lots}) => lots >= 6)) {
    const {sdWithinLot, sdBetweenLots} = of(row);
    const name = `${row.supplier} ${row.species}`;
    const relative = 4 / Math.sqrt(2 * (row.squares - row.lots)) + 0.04;
    expect(Math.abs(row.withinLotKgM3! / sdWithinLot - 1), name).toBeLessThan(relative);
    expect(row.betweenLotsKgM3!, name).toBeLessThan(2.5 * sdBetweenLots);
    expect(row.betweenLotsKgM3!, name).toBeGreaterThan(sdBetweenLots / 2.5);
    // Meter 1.2 % moisture moves the density at 12 % by some 0.4 % of 700; calliper 0.1 of 40 mm twice, 0.35 %: together 3.7 to 4.5.
    expect(row.measuringKgM3, name).toBeGreaterThan(3);
    expect(row.measuringKgM3, name).toBeLessThan(5);
  }
});

// The truth is the parameter: squares of lots to come. Four lots hold 90 of 100, more lots 95; so many as chance allows at 90.
test("densityRange(sample book) holds 19 of 20 squares of lots to come, of so many suppliers as chance allows", () => {
  const ranges = densityRange(now);
  expect(ranges.length).toBeGreaterThanOrEqual(8);
  const shares = ranges.map((row) => {
    const {mean, sdTotal} = of(row);
    return normalCdf(row.highKgM3, mean, sdTotal) - normalCdf(row.lowKgM3, mean, sdTotal);
  });
  expect(shares.filter((share) => share >= 0.95).length).toBeGreaterThanOrEqual(fewestCovering(ranges.length, 0.9));
  // It is no wider than it need be: with six to ten lots at most half as wide again as ± 1.96 true deviations.
  for (const row of ranges)
    expect(row.highKgM3 - row.lowKgM3, row.supplier).toBeLessThan(1.5 * 2 * 1.96 * of(row).sdTotal);
});

// Within a lot each supplier's own variance by its squares, between lots by its lots; the measuring error (4 kg/m³, 16) on top of what squares differ by.
// 33 to 45 lots, less 4 or 6 suppliers, know the variance between lots to √(2/29) = 26 %, two of which are let pass, and two thirds more as lots of
// a supplier are unlike in number; 850 squares know that within to 5 %, four of which are let pass.
test("spreadSplit(sample book) has the variance within a lot against that between lots as it was made", () => {
  for (const row of spreadSplit(now)) {
    const own = rows.filter(({species}) => species === row.species);
    const all = (value: (one: (typeof own)[number]) => number) => own.reduce((sum, one) => sum + value(one), 0);
    const within = all((one) => one.squares * of(one).sdWithinLot ** 2) / all(({squares}) => squares) + 16;
    const between = all((one) => one.lots * of(one).sdBetweenLots ** 2) / all(({lots}) => lots);
    const found = row.betweenLotsFraction / (row.withinLotFraction + row.measuringFraction);
    expect(found / (between / within), row.species).toBeGreaterThan(0.4);
    expect(found / (between / within), row.species).toBeLessThan(1.9);
    expect(
      (row.measuringFraction / (row.withinLotFraction + row.measuringFraction)) * within,
      row.species
    ).toBeGreaterThan(9);
    expect(
      (row.measuringFraction / (row.withinLotFraction + row.measuringFraction)) * within,
      row.species
    ).toBeLessThan(25);
  }
});
