import {checkCounts, type Interval, normalFactor} from "./interval.ts";

/**
 * Wilson score interval for a share, as fractions of 1. Unlike p ± z·se it stays inside [0, 1] and
 * holds its level for the small counts a workshop has: the default for every rate.
 *
 *   p = k/n    w = z²/n    z = Φ⁻¹((1 + level)/2)
 *   low, high = ( p + w/2 ∓ z·√((p(1 − p) + w/4)/n) ) / (1 + w)
 *
 * The pieces are taken as independent; pieces of one lot are alike, and for them it is too narrow.
 *
 * Source: Wilson (1927), JASA 22:209–212; Newcombe (1998), Statist. Med. 17:857–872, method 3.
 * Checked: tests/reference/binomialIntervals.test.ts, against Newcombe's table I, SAS and R.
 *
 * @returns undefined when trials is 0: no data is not the interval [0, 1]
 * @throws RangeError unless 0 ≤ successes ≤ trials, both whole, and 0 < level < 1
 * @example wilson(0, 20) // {low: 0, high: 0.1611}
 */
export function wilson(successes: number, trials: number, {level = 0.95} = {}): Interval | undefined {
  checkCounts(successes, trials, "wilson");
  const z = normalFactor(level, "wilson");
  return trials === 0 ? undefined : wilsonLimits(successes / trials, trials, z);
}

/**
 * The limits of `wilson` for a share and a number of pieces that need not be whole: effective pieces of a share from lots.
 *
 * @param z standard errors, `normalFactor` of the level
 */
export function wilsonLimits(share: number, trials: number, z: number): Interval {
  const w = z ** 2 / trials;
  const half = z * Math.sqrt((share * (1 - share) + w / 4) / trials);
  return {
    low: share === 0 ? 0 : (share + w / 2 - half) / (1 + w), // exactly 0, not 1e-17
    high: share === 1 ? 1 : (share + w / 2 + half) / (1 + w)
  };
}
