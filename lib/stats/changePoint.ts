import {check} from "../check.ts";
import {randomStream} from "./random.ts";

/** Where a series of values most likely changed its level. */
export interface ChangePoint {
  /** How many values stand before the change. */
  before: number;
  /** Pettitt's K: the greatest of |U|. */
  statistic: number;
  /** How often values in a random order would show as much; fraction of 1. */
  chance: number;
}

/** Orders tried, the one seen included. */
const orders = 4000;

/**
 * Where a series changed its level once, by ranks, so that one wild value counts for little, with the chance that a series without a change
 * shows as much:
 *
 *   U(t) = Σ over i ≤ t < j of sgn(xⱼ − xᵢ)        K = max |U(t)|        chance = share of random orders of the values with K as great
 *
 * The first t with the greatest |U| counts. The usual formula 2 exp(−6K²/(n³ + n²)) is far off for few values; random orders are exact but for
 * their number (4000: ± 0.003 at 0.05). The stream is always the same, so the same values give the same chance.
 *
 * Source: Pettitt (1979), Applied Statistics 28:126–135 (from memory). Checked: tests/stats/changePoint.test.ts, against all orders of six values
 *
 * @returns undefined with fewer than 5 values: no order of them is rare enough
 * @throws RangeError unless values are finite
 */
export function changePoint(values: readonly number[]): ChangePoint | undefined {
  for (const value of values) check(Number.isFinite(value), "changePoint: values", "finite", value);
  if (values.length < 5) return undefined;
  const seen = greatest(values);
  const random = randomStream(1979);
  let asGreat = 1;
  for (let i = 1; i < orders; i++) if (greatest(shuffled(values, random)).statistic >= seen.statistic) asGreat++;
  return {...seen, chance: asGreat / orders};
}

/** The greatest |U| and where it stands: U(t) = U(t − 1) + Σⱼ sgn(xⱼ − x_t). */
function greatest(values: readonly number[]): {before: number; statistic: number} {
  let [u, before, statistic] = [0, 0, 0];
  values.forEach((value, t) => {
    u += values.reduce((sum, other) => sum + Math.sign(other - value), 0);
    if (Math.abs(u) > statistic) [before, statistic] = [t + 1, Math.abs(u)];
  });
  return {before, statistic};
}

function shuffled(values: readonly number[], random: () => number): number[] {
  const order = [...values];
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
