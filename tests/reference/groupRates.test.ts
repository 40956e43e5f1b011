import {expect, test} from "vitest";
import {groupRates} from "../../lib/stats/groupRates.ts";

// Gelman et al., Bayesian Data Analysis, 3rd ed., table 5.1 and section 5.3: tumours in 71 groups of rats; the prior is theirs, (α + β)^(−5/2).
// The book prints 2.4 and 14.3 for the posterior means of α and β (from memory; the R run below gives 2.403 and 14.321).
// R only: the posterior summed in R 4.2.2 over a grid of 1200 × 1200 points in (logit, ln(α + β)), −6…4 and −1.5…14, of which come mean and SD of
// each θ; quantiles of the exact mixture of Beta distributions by uniroot. groupRates sums 60 × 60 points: means and SDs to 0.1 %.
const tumours = [
  0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 2, 1, 5, 2, 5, 3, 2, 7, 7,
  3, 3, 2, 9, 10, 4, 4, 4, 4, 4, 4, 4, 10, 4, 4, 4, 5, 11, 12, 5, 5, 6, 5, 6, 6, 6, 6, 16, 15, 15, 9, 4
];
const rats = [
  20, 20, 20, 20, 20, 20, 20, 19, 19, 19, 19, 18, 18, 17, 20, 20, 20, 20, 19, 19, 18, 18, 25, 24, 23, 20, 20, 20, 20,
  20, 20, 10, 49, 19, 46, 27, 17, 49, 47, 20, 20, 13, 48, 50, 20, 20, 20, 20, 20, 20, 20, 48, 19, 19, 19, 22, 46, 49,
  20, 20, 23, 19, 22, 20, 20, 20, 52, 46, 47, 24, 14
];
const rows = (successes: readonly number[], trials: readonly number[]) =>
  successes.map((x, i) => ({successes: x, trials: trials[i]!}));

const close = (got: number, want: number) => Math.abs(got / want - 1);

test.each([
  ["rat tumours, group 1 (0 of 20)", rows(tumours, rats), 0, 0.0635695777475, 0.0416049444701],
  ["rat tumours, group 71 (4 of 14)", rows(tumours, rats), 70, 0.21085683983, 0.0752600097963],
  ["2 of 8 beside three large groups", rows([2, 10, 60, 30], [8, 200, 200, 200]), 0, 0.234980091415, 0.116974133764],
  ["30 of 200 beside them", rows([2, 10, 60, 30], [8, 200, 200, 200]), 3, 0.151880305019, 0.0249607081514],
  ["three groups alike, first", rows([5, 5.5, 9.25], [20, 22.5, 31]), 0, 0.2695788918, 0.0726386349661],
  ["three groups alike, third", rows([5, 5.5, 9.25], [20, 22.5, 31]), 2, 0.288698754903, 0.0660412303772]
])("groupRates of %s has R's posterior mean and SD", (_name, data, index, mean, sd) => {
  const got = groupRates(data)![index]!;
  expect(close(got.mean, mean)).toBeLessThan(1e-3);
  expect(close(got.sd, sd)).toBeLessThan(1e-3);
});

// The limits are those of a Beta distribution of that mean and SD; the exact ones (R, uniroot on the mixture) are no more than 0.011 away.
test.each([
  ["rat tumours, group 71", rows(tumours, rats), 70, 0.0865293035104, 0.378408092758],
  ["2 of 8 beside three large groups", rows([2, 10, 60, 30], [8, 200, 200, 200]), 0, 0.0570430768804, 0.507724450634],
  ["30 of 200 beside them", rows([2, 10, 60, 30], [8, 200, 200, 200]), 3, 0.106264865405, 0.203861061803],
  ["three groups alike, first", rows([5, 5.5, 9.25], [20, 22.5, 31]), 0, 0.134109951263, 0.422825413969]
])("groupRates of %s has limits within 0.011 of the exact ones", (_name, data, index, low, high) => {
  const got = groupRates(data)![index]!;
  expect(Math.abs(got.low - low)).toBeLessThan(0.011);
  expect(Math.abs(got.high - high)).toBeLessThan(0.011);
});
