import {check} from "../check.ts";
import type {Rate} from "./betaBinomial.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/**
 * How alike the pieces of one lot are beyond what their supplier explains: intraclass correlation ρ of success within lots, the lots of each
 * group (supplier) scattering about the group's own rate. By moments, so that it pays for the groups' rates; fitted over all lots together
 * the differences between suppliers would be taken for luck.
 *
 *   Σ (x − n p_g)² / (n p_g (1 − p_g) (1 + (n − 1) ρ)) = lots − groups        p_g the pooled rate of group g
 *
 * Source: Williams (1982), Applied Statistics 31:144–148, with the groups' rates as the linear model.
 * Checked: tests/reference/withinCorrelation.test.ts, against R; tests/stats/withinCorrelation.test.ts, against simulated lots
 *
 * @param groups the lots of each group; those of a group in which all or none succeed tell nothing and are passed over
 * @returns 0 where lots scatter no more than chance; undefined when no group has two lots with a scatter to see
 * @throws RangeError unless 0 ≤ successes ≤ trials, finite
 */
export function withinCorrelation(groups: readonly (readonly Rate[])[]): number | undefined {
  for (const {successes, trials} of groups.flat()) {
    check(Number.isFinite(trials) && trials >= 0, "withinCorrelation: trials", "0 or more", trials);
    const rule = `between 0 and trials (${trials})`;
    check(successes >= 0 && successes <= trials, "withinCorrelation: successes", rule, successes);
  }
  const telling = groups.flatMap((group) => {
    const lots = group.filter(({trials}) => trials > 0);
    const rate = sum(lots.map(({successes}) => successes)) / sum(lots.map(({trials}) => trials));
    return lots.length > 1 && rate > 0 && rate < 1 ? [{lots, rate}] : [];
  });
  const freedom = sum(telling.map(({lots}) => lots.length - 1));
  if (freedom === 0) return undefined;
  const excess = (rho: number) =>
    sum(
      telling.flatMap(({lots, rate}) =>
        lots.map(
          ({successes: x, trials: n}) => (x - n * rate) ** 2 / (n * rate * (1 - rate) * (1 + Math.max(0, n - 1) * rho))
        )
      )
    ) - freedom;
  if (excess(0) <= 0) return 0;
  return excess(1) >= 0 ? 1 : root(excess, 0, 1);
}
