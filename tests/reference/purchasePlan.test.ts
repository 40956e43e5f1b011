import {expect, test} from "vitest";
import {planOutcome} from "../../lib/buying/planOutcome.ts";
import {type PlanInput, planDemand, purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {betaBinomialPmf} from "../../lib/stats/betaBinomial.ts";
import {convolve} from "../../lib/stats/convolve.ts";

// Oracle: R 4.2.2 by full enumeration of supply (exact convolution of beta-binomials) and pnbinom for demand; the same in exact rational
// arithmetic (Python fractions) to 12 digits. Nothing published with a beta-binomial yield was found. relTol 1e-8.

const near = (got: number, want: number, relTol = 1e-8) =>
  expect(Math.abs(got - want)).toBeLessThanOrEqual(relTol * Math.abs(want) + 1e-12);

const money = {price: 140, shortageCost: 20, leftoverValue: 10};
const pipeline = [
  {n: 4, alpha: 18, beta: 2},
  {n: 6, alpha: 16, beta: 4},
  {n: 8, alpha: 14, beta: 6}
];
const single: PlanInput = {
  finished: 3,
  pipeline,
  demand: {mean: 30, size: 6},
  offers: [{supplier: "X", alpha: 6, beta: 5, unitCost: 28, available: 100}],
  money
};

test("purchasePlan(one supplier) gives R's profit, service, fill rate, shortage and leftover at every number", () => {
  const {curve} = purchasePlan(single);
  const want = {
    squares: [0, 10, 20, 30, 40, 50, 60, 80, 100],
    profit: [
      2010.25430742, 2397.94170038, 2640.16499714, 2746.69434749, 2745.58737, 2667.25862509, 2536.82355116,
      2186.39628791, 1777.93518354
    ],
    service: [
      0.175666830475, 0.335782551679, 0.50184861491, 0.644717298098, 0.754365203445, 0.832890858645, 0.886908610665,
      0.947584471214, 0.974704753827
    ],
    fillRate: [
      0.542278734983, 0.678532499074, 0.782460908456, 0.856235107522, 0.906090122625, 0.938784744969, 0.959900183087,
      0.982229478122, 0.991662364019
    ],
    expectedShort: [
      13.7316379505, 9.64402502779, 6.52617274632, 4.31294677433, 2.81729632124, 1.83645765094, 1.20299450739,
      0.533115656337, 0.250129079436
    ],
    expectedLeftover: [
      0.73163795051, 2.09857048233, 4.43526365541, 7.67658313796, 11.6354781394, 16.1091849237, 20.9302672347,
      31.1694792927, 41.7955836249
    ]
  };
  want.squares.forEach((q, i) => {
    for (const key of ["profit", "service", "fillRate", "expectedShort", "expectedLeftover"] as const)
      near(curve[q]![key], want[key][i]!);
  });
});

test("purchasePlan(one supplier) finds R's best number, band and number for 90 % service", () => {
  const {best, band, forService, curve} = purchasePlan(single);
  expect(best.squares).toBe(35);
  near(best.profit, 2757.62121872);
  near(curve[34]!.profit, 2757.39792013);
  near(curve[36]!.profit, 2756.9268364);
  expect(band).toEqual({from: 28, to: 42});
  expect(forService).toBe(64);
});

test("purchasePlan: the best number is the first with P(D > stock + size-biased usable) below (c/mu − v)/(p + s − v)", () => {
  // First-order condition with the usable count drawn from BetaBinomial(Q, alpha + 1, beta): a route of its own to the same number.
  const stock = pipeline.reduce(
    (sum, {n, alpha, beta}) => convolve(sum, betaBinomialPmf(n, alpha, beta)),
    [0, 0, 0, 1]
  );
  const demand = planDemand({mean: 30, size: 6}, 200);
  const threshold = (28 / (6 / 11) - 10) / (140 + 20 - 10);
  near(threshold, 0.275555555556);
  const tail = (q: number) =>
    convolve(stock, betaBinomialPmf(q, 7, 5)).reduce((sum, p, s) => sum + p * (1 - demand.atMost[s]!), 0);
  near(tail(34), 0.278284760536);
  near(tail(35), 0.267068660521);
  expect(purchasePlan(single).best.squares).toBe([...Array(100).keys()].find((q) => tail(q) < threshold));
});

const two = (limits: Partial<PlanInput> & {moq?: boolean}): PlanInput => ({
  ...single,
  offers: [
    {supplier: "X", alpha: 6, beta: 5, unitCost: 17, available: 70, ...(limits.moq && {minimum: 10})},
    {supplier: "Y", alpha: 7, beta: 3, unitCost: 22, available: 70, ...(limits.moq && {minimum: 15})}
  ],
  ...(limits.budget !== undefined && {budget: limits.budget})
});

test("purchasePlan(two suppliers) splits as R's full grid does, without limits and under minimum lots and budget", () => {
  const free = purchasePlan(two({}));
  expect(free.best.orders).toEqual([
    {supplier: "X", squares: 20},
    {supplier: "Y", squares: 24}
  ]);
  near(free.best.profit, 3250.26746595);
  const bound = purchasePlan(two({moq: true, budget: 600}));
  expect(bound.best.orders).toEqual([
    {supplier: "X", squares: 12},
    {supplier: "Y", squares: 18}
  ]);
  near(bound.best.profit, 3170.72121737);
  const only = (i: number, limits: Parameters<typeof two>[0]) =>
    purchasePlan({...two(limits), offers: [two(limits).offers[i]!]}).best;
  near(only(0, {}).profit, 3217.25862509);
  near(only(1, {}).profit, 3236.59643061);
  near(free.best.profit - only(1, {}).profit, 13.6710353419, 1e-6);
  expect(only(0, {moq: true, budget: 600}).squares).toBe(35);
  expect(only(1, {moq: true, budget: 600}).squares).toBe(27);
  near(bound.best.profit - only(1, {moq: true, budget: 600}).profit, 14.4913218737, 1e-6);
});

test("purchasePlan: a coarse grid with a finer look finds the same best split", () => {
  const coarse = purchasePlan(two({}), {finest: 10});
  expect(coarse.best.orders).toEqual(purchasePlan(two({})).best.orders);
});

test("purchasePlan(enough in stock) buys three, as R says", () => {
  const plan = purchasePlan({
    finished: 6,
    pipeline: [{n: 9, alpha: 19, beta: 1}],
    demand: {mean: 11, size: 9},
    offers: [{supplier: "X", alpha: 11, beta: 9, unitCost: 13, available: 60}],
    money: {price: 120, shortageCost: 10, leftoverValue: 5}
  });
  expect(plan.best.squares).toBe(3);
  near(plan.curve[0]!.profit, 1237.17964534);
  near(plan.curve[1]!.profit, 1240.38977869);
  near(plan.curve[10]!.profit, 1212.53163836);
});

test("planOutcome: yields shared by pipeline and new squares, mixed outside and convolved inside, as R has it", () => {
  const binomial = (n: number, p: number) =>
    Array.from({length: n}).reduce<number[]>((sum) => convolve(sum, [1 - p, p]), [1]);
  const scenarios = [
    {weight: 0.25, passing: [0.6, 0.8], fresh: 0.4},
    {weight: 0.5, passing: [0.75, 0.88], fresh: 0.56},
    {weight: 0.25, passing: [0.88, 0.95], fresh: 0.7}
  ];
  const supply = (q: number) => {
    const mixed: number[] = [];
    for (const {weight, passing, fresh} of scenarios) {
      const pmf = [[0, 0, 1], binomial(7, passing[0]!), binomial(5, passing[1]!), binomial(q, fresh)].reduce(convolve);
      pmf.forEach((p, k) => {
        mixed[k] = (mixed[k] ?? 0) + weight * p;
      });
    }
    return mixed;
  };
  const demand = planDemand({mean: 24, size: 5}, 120);
  const outcome = (q: number) => planOutcome(supply(q), demand, money, 14 * q);
  const want: [number, number, number][] = [
    [0, 1308.54297524, 0.14723551396],
    [20, 2241.94066132, 0.525091467163],
    [30, 2473.7415181, 0.682399843479],
    [40, 2591.21000632, 0.796386191994]
  ];
  for (const [q, profit, service] of want) {
    near(outcome(q).profit, profit);
    near(outcome(q).service, service);
  }
  const profits = Array.from({length: 80}, (_, q) => outcome(q).profit);
  expect(profits.indexOf(Math.max(...profits))).toBe(52);
  near(profits[52]!, 2632.21422217);
});

test("purchasePlan: believing a wrong yield buys 156, 126, 77 or 60 squares where 67 are right", () => {
  const squaresFor = (believed: number) =>
    purchasePlan(
      {
        finished: 0,
        pipeline: [],
        demand: {mean: 30, size: 6},
        offers: [{supplier: "X", alpha: 40 * believed, beta: 40 * (1 - believed), unitCost: 20, available: 160}],
        money
      },
      {finest: 200}
    ).forService;
  expect([0.345, 0.415, 0.65, 0.7315, 0.81].map(squaresFor)).toEqual([156, 126, 77, 67, 60]);
});

// Published: Snyder & Shen, Fundamentals of Supply Chain Theory, 2nd ed., example 4.7 (read in its authors' open test file): Poisson demand 6,
// overage 1, underage 4: best stock 8, expected cost 3.57010694577095, at 5 it is 6.59029602461634.
test("planOutcome(certain supply) is the newsvendor of a textbook: Poisson(6), overage 1, underage 4", () => {
  const demand = planDemand({mean: 6}, 60);
  const cost = (stock: number) => {
    const supply = [...Array(stock).fill(0), 1];
    const {expectedShort, expectedLeftover} = planOutcome(supply, demand, money, 0);
    return expectedLeftover + 4 * expectedShort;
  };
  near(cost(8), 3.57010694577095, 1e-9);
  near(cost(5), 6.59029602461634, 1e-9);
  expect([...Array(20).keys()].toSorted((a, b) => cost(a) - cost(b))[0]).toBe(8);
});
