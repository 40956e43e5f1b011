import {expect, test} from "vitest";
import {dayNumber} from "../../../lib/book/day.ts";
import {randomStream} from "../../../lib/stats/random.ts";
import {decisions, trueChance} from "../../../scripts/calibrate/advice.ts";
import {intervalTrials} from "../../../scripts/calibrate/intervals.ts";
import {scenarios} from "../../../scripts/calibrate/scenarios.ts";
import {trueShares} from "../../../scripts/calibrate/truth.ts";
import {drawWorkshop} from "../../../scripts/calibrate/workshop.ts";

const truth = scenarios["growing, faults seen early"]!;
const draw = (count: number, of = truth) => {
  const random = randomStream(8);
  return Array.from({length: count}, () => drawWorkshop(of, random));
};

test("drawWorkshop gives a book as it could be: stays in order, nothing later than the last day, shafts delivered once", () => {
  for (const {histories, willFinish} of draw(3)) {
    const {pieces, asOf, orders} = histories;
    for (const {stays, fate, fateOn, boughtOn, square, deliveredOn} of pieces) {
      expect(stays[0]!.from).toBe(boughtOn);
      stays.slice(1).forEach(({from}, i) => {
        expect(from).toBe(stays[i]!.to);
      });
      expect(stays.at(-1)!.from).toBeLessThanOrEqual(asOf);
      expect(fate === "in stock").toBe(fateOn === undefined);
      if (fate === "finished") expect(willFinish.get(square)).toBe(fateOn);
      if (deliveredOn !== undefined) expect(deliveredOn).toBeGreaterThanOrEqual(fateOn!);
    }
    const allotted = pieces.flatMap(({allottedTo}) => allottedTo ?? []);
    expect(new Set(allotted).size).toBe(allotted.length);
    expect(orders.every(({orderedOn}) => dayNumber(orderedOn) <= asOf)).toBe(true);
  }
});

// Squares of one lot share its luck, so the share finished in 60 workshops of some 60 lots has the variance Var(Y of a lot)/3600 and a little more;
// Y of a lot has an SD below 0.15: four SDs are 0.01.
test("drawWorkshop finishes as many squares as its truth says", () => {
  const workshops = draw(60);
  const bought = workshops.reduce((sum, {histories}) => sum + histories.pieces.length, 0);
  const finished = workshops.reduce((sum, {willFinish}) => sum + willFinish.size, 0);
  expect(Math.abs(finished / bought - trueShares(truth).reached.at(-1)!)).toBeLessThan(0.01);
});

// Σ (outcome − chance) has the variance Σ c (1 − c) when the chances are right, whatever the lots' luck, which trueChance is told.
test("trueChance of the pieces in stock is what becomes of them", () => {
  let [difference, variance] = [0, 0];
  for (const {histories, luck, willFinish} of draw(40))
    for (const piece of histories.pieces.filter(({fate}) => fate === "in stock")) {
      const chance = trueChance(truth, piece, luck.get(piece.lot)!, histories.asOf);
      difference += (willFinish.has(piece.square) ? 1 : 0) - chance;
      variance += chance * (1 - chance);
    }
  expect(variance).toBeGreaterThan(100);
  expect(Math.abs(difference) / Math.sqrt(variance)).toBeLessThan(4);
});

test("intervalTrials names each kind of interval, the truth of a share is a share", () => {
  const trials = draw(1, scenarios["lots differ"]!).flatMap((workshop) =>
    intervalTrials(scenarios["lots differ"]!, workshop)
  );
  const kinds = new Set(trials.map(({of}) => of));
  for (const kind of ["yield, square to shaft", "ratio of two spreads", "cost of a usable shaft", "growth of orders"])
    expect(kinds).toContain(kind);
  for (const {of, low, high, truth: value} of trials) {
    expect(low, of).toBeLessThanOrEqual(high);
    expect(Number.isFinite(value), of).toBe(true);
    if (of.startsWith("yield")) expect(value).toBeLessThanOrEqual(1);
  }
});

// The all-knowing plan with moments of the true distributions, so a lucky rule may pass them by a trifle.
test("decisions: nobody earns more than the all-knowing by more than a thousandth", () => {
  for (const workshop of draw(3, scenarios["lots differ"]!)) {
    const [best, ...others] = decisions(scenarios["lots differ"]!, workshop)!;
    expect(others.map(({by}) => by)).toEqual([
      "advice",
      "mean demand ÷ naive yield",
      "demand quantile less pipeline ÷ yield",
      "last year's number"
    ]);
    for (const {profit} of others) expect(profit).toBeLessThanOrEqual(best!.profit + 0.001 * Math.abs(best!.profit));
  }
});
