import {expect, test} from "vitest";
import {changedNeed, isSensible} from "../../lib/buying/changedNeed.ts";
import type {Need} from "../../lib/buying/outcomes.ts";
import {betaMoments} from "../../lib/stats/betaMoments.ts";

const need: Need = {
  finished: 3,
  pipeline: [{n: 5, alpha: 8, beta: 2}],
  demand: {mean: 30, size: 6, known: 4},
  offers: [
    {supplier: "A", alpha: 6, beta: 4, unitCost: 20, doubt: 0.01, lotSize: 10, priceBreaks: [{from: 40, unitCost: 18}]}
  ],
  money: {price: 140, shortageCost: 20, leftoverValue: 10}
};

test("changedNeed: each factor moves its own input and nothing else; open orders stay", () => {
  const changed = changedNeed(need, {demand: 1.2, usable: 0.9, squareCost: 1.5, shaftPrice: 0.5, leftoverValue: 2});
  expect(changed.demand).toEqual({mean: 36, size: 6, known: 4});
  expect(changed.money).toEqual({price: 70, shortageCost: 20, leftoverValue: 20});
  expect(changed.offers[0]).toMatchObject({unitCost: 30, priceBreaks: [{from: 40, unitCost: 27}]});
  const [offer, pieces] = [changed.offers[0]!, changed.pipeline[0]!];
  expect(offer.alpha / (offer.alpha + offer.beta)).toBeCloseTo(0.54, 12);
  expect(pieces.alpha / (pieces.alpha + pieces.beta)).toBeCloseTo(0.72, 12);
  expect(offer.doubt! / betaMoments(offer).variance).toBeCloseTo(0.01 / betaMoments(need.offers[0]!).variance, 12);
  expect(changedNeed(need, {})).toEqual(need);
});

test("changedNeed: a share does not pass 0.999", () => {
  const {alpha, beta} = changedNeed(need, {usable: 3}).offers[0]!;
  expect(alpha / (alpha + beta)).toBeCloseTo(0.999, 12);
});

// A usable shaft costs 18/0.6 = 30 at the lowest price.
test("isSensible: a leftover is worth less than a usable shaft costs at the lowest price", () => {
  expect(isSensible(need)).toBe(true);
  expect(isSensible({...need, money: {...need.money, leftoverValue: 29.99}})).toBe(true);
  expect(isSensible({...need, money: {...need.money, leftoverValue: 30}})).toBe(false);
});
