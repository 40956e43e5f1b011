import {expect, test} from "vitest";
import {costEach, type Need, offerShare, outcomes} from "../../lib/buying/outcomes.ts";
import {planOutcome} from "../../lib/buying/planOutcome.ts";
import {betaBinomialPmf} from "../../lib/stats/betaBinomial.ts";
import {convolve} from "../../lib/stats/convolve.ts";
import {randomStream} from "../../lib/stats/random.ts";

const need: Need = {
  finished: 2,
  pipeline: [{n: 6, alpha: 7, beta: 3, common: 0.1}],
  demand: {mean: 14, size: 6},
  offers: [{supplier: "A", alpha: 9, beta: 6, unitCost: 20, available: 30, common: 0.2}],
  money: {price: 120, shortageCost: 15, leftoverValue: 8}
};

// What is common is mixed outside and convolved inside; that this is right is checked against R in tests/reference (plan.common-yield).
test("outcomes: shares that move together are mixed level by level, each with its share and its precision", () => {
  const levels = [
    {z: -1.5, weight: 0.25},
    {z: 0.5, weight: 0.75}
  ];
  const made = outcomes({...need, levels}, [30]);
  const parts = levels.map(({z, weight}) => {
    const [old, fresh] = [0.7 * (1 + 0.1 * z), 0.6 * (1 + 0.2 * z)];
    const supply = [
      [0, 0, 1],
      betaBinomialPmf(6, 10 * old, 10 * (1 - old)),
      betaBinomialPmf(20, 15 * fresh, 15 * (1 - fresh))
    ].reduce(convolve);
    return {weight, ...planOutcome(supply, made.demand, need.money, 400)};
  });
  const mixed = (f: (part: (typeof parts)[number]) => number) =>
    parts.reduce((sum, part) => sum + part.weight * f(part), 0);
  const got = made.exact([20]);
  expect(got.profit).toBeCloseTo(
    mixed(({profit}) => profit),
    8
  );
  expect(got.service).toBeCloseTo(
    mixed(({service}) => service),
    10
  );
  expect(got.expectedLeftover).toBeCloseTo(
    mixed(({expectedLeftover}) => expectedLeftover),
    9
  );
});

test("outcomes: a need like another has outcomes of its own, whatever of it is another", () => {
  const [offer] = need.offers as [Need["offers"][number]];
  const variants: Need[] = [
    need,
    {...need, money: {...need.money, price: 100}},
    {...need, demand: {mean: 14}},
    {...need, demand: {...need.demand, known: 3}},
    {...need, finished: 4},
    {...need, pipeline: [{...need.pipeline[0]!, common: 0.3}]},
    ...[{alpha: 8}, {windowShare: 0.8}, {lotSize: 7, doubt: 0.002}, {common: 0.1}, {unitCost: 25}].map((other) => ({
      ...need,
      offers: [{...offer, ...other}]
    }))
  ];
  const profits = variants.map((variant) => outcomes(variant, [30], need).exact([20]).profit);
  expect(profits).toEqual(variants.map((variant) => outcomes(variant, [30], {}).exact([20]).profit));
  expect(new Set(profits).size).toBe(variants.length);
});

test("outcomes: more squares than were said are refused", () => {
  expect(() => outcomes(need, [30]).exact([31])).toThrow("outcomes: squares of A must be at most 30, as said, got 31.");
});

test("outcomes: without levels given what is common has mean 0 and variance 1, as drawn from the normal law", () => {
  const {levels} = outcomes(need, [30]);
  const moment = (k: number) => levels.reduce((sum, {z, weight}) => sum + weight * z ** k, 0);
  for (const [k, want] of [1, 0, 1, 0, 3, 0].entries()) expect(moment(k)).toBeCloseTo(want, 12);
  expect(outcomes({...need, pipeline: [], offers: [{...need.offers[0]!, common: 0}]}, [30]).levels).toHaveLength(1);
});

test("outcomes: drawn ten thousand times, the profit lies within four standard errors of the exact one", () => {
  const random = randomStream(7);
  const made = outcomes(need, [30]);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const gamma = (shape: number) => {
    // Marsaglia and Tsang (2000).
    const d = shape - 1 / 3;
    for (;;) {
      const x = normal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      if (v > 0 && Math.log(1 - random()) < x ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v;
    }
  };
  const poisson = (mean: number) => {
    let [count, left] = [-1, 1];
    for (const limit = Math.exp(-mean); left > limit; count++) left *= random();
    return Math.max(0, count);
  };
  const usable = (n: number, share: number, precision: number) => {
    const [a, b] = [gamma(share * precision), gamma((1 - share) * precision)];
    return Array.from({length: n}).filter(() => random() < a / (a + b)).length;
  };
  const draws = 10000;
  const profits = Array.from({length: draws}, () => {
    const at = random();
    const {z} = made.levels[at < 1 / 6 ? 0 : at < 5 / 6 ? 1 : 2]!;
    const have = 2 + usable(6, 0.7 * (1 + 0.1 * z), 10) + usable(20, 0.6 * (1 + 0.2 * z), 15);
    const wanted = poisson(gamma(6) * (14 / 6));
    const sold = Math.min(have, wanted);
    return 120 * sold + 8 * (have - sold) - 15 * (wanted - sold) - 400;
  });
  const mean = profits.reduce((a, b) => a + b, 0) / draws;
  const sd = Math.sqrt(profits.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (draws - 1));
  expect(Math.abs(mean - made.exact([20]).profit)).toBeLessThan((4 * sd) / Math.sqrt(draws));
});

test("outcomes: the rough profit that is searched by differs from the exact one by less than half a hundredth", () => {
  const made = outcomes(need, [30]);
  for (let q = 0; q <= 30; q++) {
    const exact = made.exact([q]).profit;
    expect(Math.abs(made.roughProfit([q]) - exact)).toBeLessThan(0.005 * Math.abs(exact));
  }
});

test("costEach: the last price break that is reached counts, offerShare: the window's share thins the finished", () => {
  const offer = {
    ...need.offers[0]!,
    priceBreaks: [
      {from: 10, unitCost: 18},
      {from: 20, unitCost: 15}
    ]
  };
  expect([9, 10, 19, 20].map((q) => costEach(offer, q))).toEqual([20, 18, 18, 15]);
  expect(offerShare({...offer, windowShare: 0.5})).toBeCloseTo(0.3, 12);
});

// Beside the convolution of the same beta-binomials, worked out here level by level: what `outcomes` takes as normal.
test("outcomes: more than five thousand shafts together are taken as normal, and the profit errs by less than a thousandth", () => {
  const many: Need = {
    finished: 40,
    pipeline: Array.from({length: 30}, () => ({n: 35, alpha: 21, beta: 9})),
    demand: {mean: 2600, size: 60},
    offers: [{supplier: "A", alpha: 18, beta: 12, lotSize: 35, doubt: 0.0002, unitCost: 20, available: 6000}],
    money: {price: 120, shortageCost: 15, leftoverValue: 8}
  };
  const made = outcomes(many, [6000]);
  const stock = many.pipeline.reduce<number[]>(
    (sum, {n, alpha, beta}) => convolve(sum, betaBinomialPmf(n, alpha, beta)),
    [1]
  );
  for (const squares of [1500, 3000, 4500]) {
    const variance = 0.0002 + ((0.6 * 0.4) / 31 - 0.0002) * (35 / squares);
    const m = (0.6 * 0.4) / variance - 1;
    const supply = convolve(stock, betaBinomialPmf(squares, 0.6 * m, 0.4 * m));
    const direct = planOutcome(supply, made.demand, many.money, 20 * squares, 40);
    const got = made.exact([squares]);
    expect(Math.abs(got.profit / direct.profit - 1)).toBeLessThan(1e-3);
    expect(Math.abs(got.service - direct.service)).toBeLessThan(5e-3);
  }
  // A thousand squares fewer and all is convolved: the two meet.
  const few = outcomes({...many, pipeline: many.pipeline.slice(0, 3)}, [3000]).exact([2500]);
  const more = outcomes({...many, pipeline: many.pipeline.slice(0, 3)}, [6000]).exact([2500]);
  expect(Math.abs(few.profit / more.profit - 1)).toBeLessThan(1e-3);
});
