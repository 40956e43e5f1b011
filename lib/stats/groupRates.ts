import gammaln from "@stdlib/math-base-special-gammaln";
import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import {check} from "../check.ts";
import type {Rate} from "./betaBinomial.ts";
import {checkLevel, type Interval} from "./interval.ts";
import {sum} from "./numbers.ts";

/** What is to be thought of one group's rate, fractions of 1, knowing the other groups. */
export interface GroupRate extends Interval {
  mean: number;
  sd: number;
}

/** A point of the grid: the logit of the common mean, the logarithm of α + β, and its weight. */
interface Node {
  alpha: number;
  beta: number;
  weight: number;
}

/**
 * Rates of several groups (suppliers), each drawn towards their common mean by as much as its own data are thin, when neither that mean nor
 * how much groups differ is known: both are averaged over what the data leave possible. Unlike `shrunkRate`, which takes the fitted values
 * for true, it stays honest with three or four groups.
 *
 *   x ~ Binomial(n, θ)    θ ~ Beta(α, β)    prior p(α, β) ∝ (α + β)^(−5/2)
 *   mean, sd of θ over the posterior of α and β; limits are quantiles of the Beta distribution of that mean and sd
 *
 * Summed over a grid in (logit α/(α + β), ln(α + β)), α + β up to 10⁶, laid first wide, then where the weight is.
 *
 * Range: at least two groups with trials, one of them with successes and failures; else the prior decides, which is none by itself, and there
 * is no answer. α + β from 0.2 on. Counts may be fractional (effective counts).
 * Source: Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.3. Checked: tests/reference/groupRates.test.ts, against its posterior
 * of the rat tumour data and a fine grid in R; coverage in the contributor's guide
 *
 * @returns one for each row, in order; undefined outside the range
 * @throws RangeError unless 0 ≤ successes ≤ trials, finite, and 0 < level < 1
 */
export function groupRates(rows: readonly Rate[], {level = 0.95} = {}): GroupRate[] | undefined {
  checkLevel(level, "groupRates");
  for (const {successes, trials} of rows) {
    check(Number.isFinite(trials) && trials >= 0, "groupRates: trials", "0 or more", trials);
    check(
      successes >= 0 && successes <= trials,
      "groupRates: successes",
      `between 0 and trials (${trials})`,
      successes
    );
  }
  const tried = rows.filter(({trials}) => trials > 0);
  if (tried.length < 2 || !tried.some(({successes: x, trials: n}) => x > 0 && x < n)) return undefined;
  const wide = posterior(tried, {from: -9, to: 9, steps: 60}, {from: -1.5, to: 14, steps: 40});
  const heavy = wide.filter(({weight}) => weight > 1e-7);
  const span = (of: (node: Node) => number, step: number) => ({
    from: Math.min(...heavy.map(of)) - step,
    to: Math.max(...heavy.map(of)) + step,
    steps: 60
  });
  const size = span(({alpha, beta}) => Math.log(alpha + beta), 15.5 / 40);
  const nodes = posterior(
    tried,
    span(({alpha, beta}) => Math.log(alpha / beta), 18 / 60),
    {...size, to: Math.min(14, size.to)}
  );
  return rows.map((row) => groupRate(row, nodes, level));
}

/** The grid with its weights, which add up to 1. */
function posterior(
  rows: readonly Rate[],
  logit: {from: number; to: number; steps: number},
  size: {from: number; to: number; steps: number}
): Node[] {
  const successes = rows.map((row) => row.successes);
  const failures = rows.map((row) => row.trials - row.successes);
  const trials = rows.map((row) => row.trials);
  // ln p(α, β) + Σ ln B(α + x, β + n − x) − ln B(α, β), what hangs on α + β alone first. The prior in these coordinates: (α + β)^(−5/2) · αβ
  const sizes = middles(size).map((log) => {
    const total = Math.exp(log);
    return {total, ofTotal: -2.5 * Math.log(total) - rises(total, trials)};
  });
  const nodes: {alpha: number; beta: number; log: number}[] = [];
  for (const at of middles(logit)) {
    const p = 1 / (1 + Math.exp(-at));
    for (const {total, ofTotal} of sizes) {
      const [alpha, beta] = [total * p, total * (1 - p)];
      const log = ofTotal + Math.log(alpha) + Math.log(beta) + rises(alpha, successes) + rises(beta, failures);
      nodes.push({alpha, beta, log});
    }
  }
  const highest = Math.max(...nodes.map(({log}) => log));
  const weights = nodes.map(({log}) => Math.exp(log - highest));
  const total = sum(weights);
  return nodes.map(({alpha, beta}, i) => ({alpha, beta, weight: weights[i]! / total}));
}

/** The middles of equal steps. */
function middles({from, to, steps}: {from: number; to: number; steps: number}): number[] {
  return Array.from({length: steps}, (_, i) => from + ((i + 0.5) / steps) * (to - from));
}

/** Σ ln Γ(a + by) − ln Γ(a) */
function rises(a: number, bys: readonly number[]): number {
  const start = gammaln(a);
  let total = 0;
  for (const by of bys) if (by > 0) total += gammaln(a + by) - start;
  return total;
}

function groupRate({successes, trials}: Rate, nodes: readonly Node[], level: number): GroupRate {
  let [first, second] = [0, 0];
  for (const {alpha, beta, weight} of nodes) {
    const [a, b] = [alpha + successes, beta + trials - successes];
    const mean = a / (a + b);
    first += weight * mean;
    second += weight * ((mean * (1 - mean)) / (a + b + 1) + mean ** 2);
  }
  const variance = second - first ** 2;
  const size = (first * (1 - first)) / variance - 1;
  const at = (p: number) => betaQuantile(p, first * size, (1 - first) * size);
  return {mean: first, sd: Math.sqrt(variance), low: at((1 - level) / 2), high: at((1 + level) / 2)};
}
