import {expect, test} from "vitest";
import {expected} from "../../../scripts/sample/expected.ts";
import type {Lot} from "../../../scripts/sample/lots.ts";
import {path} from "../../../scripts/sample/paths.ts";
import {normal, stream} from "../../../scripts/sample/random.ts";
import {suppliers} from "../../../scripts/sample/truth.ts";
import {lotLogitSd, restStages} from "../../../scripts/sample/truthStages.ts";
import {truth} from "./csvRows.ts";

// The expectation is worked out by quadrature, the paths by dice: two ways to one number. Every square is a lot of its own here,
// so the standard error is the binomial one; four of them.
test("expected(kind) is what 20 000 simulated squares come to", () => {
  const supplier = suppliers.find(({name}) => name === "Ludmarsh Timber")!;
  const result = expected({supplier, species: "ash", worse: true});
  const {mean, sdBetweenLots, sdWithinLot} = supplier.density.ash!;
  const random = stream("expected");
  const n = 20_000;
  const ends = Array.from({length: n}, (_, i) => {
    const lot = {supplier, species: "ash", worse: true, boughtOn: 0, logitShift: normal(random, 0, lotLogitSd)} as Lot;
    const rest = {square: 20, "rough-round": 10, "second-round": 10, "proud-round": 10};
    return path(`X${i}`, lot, normal(random, mean, Math.hypot(sdBetweenLots, sdWithinLot)), rest).at(-1)!;
  });
  const check = (share: number, wanted: number) =>
    expect(Math.abs(share - wanted)).toBeLessThan(4 * Math.sqrt((wanted * (1 - wanted)) / n));
  check(ends.filter(({left}) => left === "turned").length / n, result.passed["proud-round"]);
  for (const stage of restStages)
    for (const [defect, wanted] of Object.entries(result.discarded[stage]))
      check(ends.filter((end) => end.stage === stage && end.defect === defect).length / n, wanted);
});

test("shares of truth.json add up to 1, and the realised ones are not far from the parameters", () => {
  for (const {parameter, realisedToTheEnd} of [truth.yield, truth.yieldBySpecies.ash, truth.yieldBySpecies.maple]) {
    for (const shares of [parameter, realisedToTheEnd]) {
      expect(shares.finished + shares.diverted + shares.discarded).toBeCloseTo(1, 3);
      const byDefect = Object.values(shares.discardedByDefect as Record<string, number>).reduce((a, b) => a + b, 0);
      expect(byDefect).toBeCloseTo(shares.discarded, 2);
    }
    expect(Math.abs(parameter.finished - realisedToTheEnd.finished)).toBeLessThan(0.03);
  }
});

test("the fates of the pieces in stock add up", () => {
  let inStock = 0;
  for (const lot of truth.fateOfPiecesInStock) {
    expect(lot.willFinish + lot.willBeDiscarded + lot.willBeDiverted).toBe(lot.inStock);
    inStock += lot.inStock;
  }
  expect(inStock).toBe(truth.counts.all.inStock);
});
