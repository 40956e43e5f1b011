import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import poisson from "@stdlib/stats-base-dists-poisson-pmf";
import {expect, test} from "vitest";
import {negativeBinomialTail} from "../../lib/stats/negativeBinomial.ts";
import {newsvendor, newsvendorCost, newsvendorNormal, newsvendorNormalCost} from "../../lib/stats/newsvendor.ts";
import {expectClose} from "./close.ts";

// Check news.normal-ex4.3: normal demand, h=0.18, p=0.70, N(50,8).
// Published (read): Snyder & Shen, Fundamentals of Supply Chain Theory 2e; values from github:LarrySnyder/stockpyl
// tests/test_newsvendor.py and stockpyl_instances.json at 0bae176; read in test_example_4_3.
// R: qnorm(p/(p+h),mu,sd); cost h*nbar+p*n, n=sd*(dnorm(z)-z*pnorm(-z)). Tolerance 1e-09 relative.
const normal = {
  input: {overage: 0.18, underage: 0.7, mean: 50, sd: 8, evaluateAt: [40, 60]},
  expected: {
    criticalRatio: 0.795454545455,
    S: 56.6039559274,
    cost: 1.99760519318,
    costAt: [7.35613155287, 2.15613155287]
  }
};

test("newsvendorNormal of example 4.3 agrees with the published quantity and costs", () => {
  const {overage, underage, mean, sd, evaluateAt} = normal.input;
  const got = newsvendorNormal({overage, underage}, {mean, deviation: sd});
  expectClose([got.quantity, got.cost], [normal.expected.S, normal.expected.cost], 1e-9);
  const costs = evaluateAt.map((at) => newsvendorNormalCost({overage, underage}, {mean, deviation: sd}, at));
  expectClose(costs, normal.expected.costAt, 1e-9);
  expectClose(normalCdf((got.quantity - mean) / sd, 0, 1), normal.expected.criticalRatio, 1e-9);
  const published = [56.6039559274339, 1.99760519317664, 7.35613155287039, 2.15613155287039];
  expectClose([got.quantity, got.cost, ...costs], published, 1e-12);
});

// Check news.poisson-ex4.7: poisson demand 6, h=1, p=4.
// Published (read): Snyder & Shen, Fundamentals of Supply Chain Theory 2e; values from github:LarrySnyder/stockpyl
// tests/test_newsvendor.py and stockpyl_instances.json at 0bae176; read in test_example_4_7.
// R: qpois; loss = mu - sum(P(D>j), j<S). Tolerance 1e-09 relative.
const six = {
  input: {overage: 1, underage: 4, mean: 6, evaluateAt: 5},
  expected: {S: 8, cost: 3.57010694577, costAt: 6.59029602462}
};

test("newsvendor of example 4.7, Poisson demand of 6, agrees with the published quantity and costs", () => {
  const {overage, underage, mean, evaluateAt} = six.input;
  const pmf = Array.from({length: 60}, (_, k) => poisson(k, mean));
  const got = newsvendor({overage, underage}, pmf)!;
  expect(got.quantity).toBe(six.expected.S);
  expectClose(got.cost, six.expected.cost, 1e-9);
  expectClose(newsvendorCost({overage, underage}, pmf, evaluateAt), six.expected.costAt, 1e-9);
  expectClose([got.cost, newsvendorCost({overage, underage}, pmf, 5)], [3.57010694577095, 6.59029602461634], 1e-12);
});

// Check news.discrete-p4.7b: discrete demand 1..8.
// Published (read): Snyder & Shen, Fundamentals of Supply Chain Theory 2e; values from github:LarrySnyder/stockpyl
// tests/test_newsvendor.py and stockpyl_instances.json at 0bae176; read in test_problem_4_7b.
// R: smallest S with F(S) >= p/(p+h). Tolerance 1e-09 relative.
const listed = {
  input: {
    overage: 500000,
    underage: 1000000,
    demand: [1, 2, 3, 4, 5, 6, 7, 8],
    prob: [0.25, 0.05, 0.1, 0.2, 0.15, 0.1, 0.1, 0.05],
    evaluateAt: 3
  },
  expected: {S: 5, cost: 1225000, costAt: 1725000}
};

test("newsvendor of problem 4.7b reaches 2/3 at 5 though the sum of tenths falls short of it", () => {
  const {overage, underage, prob, evaluateAt} = listed.input;
  const pmf = [0, ...prob];
  const got = newsvendor({overage, underage}, pmf)!;
  expect(got.quantity).toBe(listed.expected.S);
  expectClose(got.cost, listed.expected.cost, 1e-9);
  expectClose(newsvendorCost({overage, underage}, pmf, evaluateAt), listed.expected.costAt, 1e-9);
});

// Check news.poisson-loss-table: poisson(1.25) f, F and loss L(Q), Q=0..10.
// Published (read): Cachon & Terwiesch, Matching Supply with Demand, statistics tutorial table (Poisson 1.25); read
// in search result anyflip.com/cicx/bevj/basic/451-500.
// R: dpois, ppois, loss. Tolerance 1e-09 relative.
const table = {
  input: {mean: 1.25, Q: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
  expected: {
    f: [
      0.28650479686, 0.358130996075, 0.223831872547, 0.0932632802279, 0.0291447750712, 0.00728619376781,
      0.00151795703496, 0.000271063756243, 4.23537119129e-5, 5.88245998791e-6, 7.35307498489e-7
    ],
    F: [
      0.28650479686, 0.644635792935, 0.868467665482, 0.96173094571, 0.990875720782, 0.998161914549, 0.999679871584,
      0.999950935341, 0.999993289053, 0.999999171513, 0.99999990682
    ],
    loss: [
      1.25, 0.53650479686, 0.181140589796, 0.0496082552781, 0.0113392009884, 0.00221492177005, 0.000376836319463,
      5.67079038341e-5, 7.64324444824e-6, 9.32296975176e-7, 1.03809489893e-7
    ]
  }
};

test("Poisson probabilities and expected shortages agree with R, and with a printed table", () => {
  const {mean, Q} = table.input;
  const pmf = Array.from({length: 60}, (_, k) => poisson(k, mean));
  expectClose(
    Q.map((q) => pmf[q]),
    table.expected.f,
    1e-9
  );
  const tail = negativeBinomialTail(Number.POSITIVE_INFINITY, mean, 10);
  expectClose(
    tail.map((p) => 1 - p),
    table.expected.F,
    1e-9
  );
  // With no cost of overage worth mentioning, the cost is that of the expected shortage.
  const loss = Q.map((q) => newsvendorCost({overage: 0, underage: 1}, pmf, q));
  expectClose(loss, table.expected.loss, 1e-9);
  const chances = [0.286505, 0.358131, 0.223832, 0.093263, 0.029145, 0.007286, 0.001518, 0.000271, 42e-6, 6e-6, 1e-6];
  expectClose(
    Q.map((q) => Math.round(pmf[q]! * 1e6)),
    chances.map((value) => Math.round(value * 1e6)),
    0
  );
  const printed = [1.25, 0.5365, 0.18114, 0.04961, 0.01134, 0.00221, 0.00038, 0.00006, 0.00001, 0, 0];
  expectClose(
    loss.map((value) => Math.round(value * 1e5)),
    printed.map((value) => Math.round(value * 1e5)),
    0
  );
});
